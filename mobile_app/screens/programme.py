"""The programme: what is wished for, when it falls, and the steps that readings and wishes propose."""

from __future__ import annotations

from typing import Any

import flet as ft

from logic.programme import season
from logic.programme.conflicts import MONTH_NAMES, Times
from logic.programme.order import name
from logic.programme.plan import Plan
from logic.programme.rules import wishes
from logic.programme.season import strip
from logic.programme.when import LATITUDE, TODAY
from logic.records.standing import Standing
from logic.records.types import Visit
from mobile_app import programme
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.figures import FigureCard, figure_line
from mobile_app.parts.form import form_view
from mobile_app.parts.frame import icon_button
from mobile_app.parts.kept import Do
from mobile_app.parts.year import key_to_strip, year_strip
from mobile_app.programme import Proposed


def body(app: App, visit: Visit, stood: Standing) -> list[ft.Control]:
    """The sheet of the proposal."""
    back = look.plain("All works", lambda _: app.go(f"/visit/{visit.id}/works"), ft.Icons.ARROW_BACK)
    found, when = programme.plan(app, visit), programme.times(app, visit)
    rows: list[ft.Control] = [ft.Row([back]), look.title("Propose the programme")]
    rows += [_from(app, visit), _wishes(app, visit), _when(app, visit, when)]
    if not found.steps:
        said = (
            "Nothing asks for work yet. Tick a wish above, or take readings: a core, the cover, the height."
        )
        return [*rows, look.quiet(said), *_advice(found)]
    out = set(visit.programme.get("left_out") or ())
    taken = tuple(step.operation for step in found.steps if step.operation not in out)
    rows.append(look.title(f"{len(found.steps)} steps, in working order"))
    for place, one in enumerate(programme.proposed(app, visit, found), start=1):
        chosen = one.step.operation in taken
        rows.append(look.keyed(f"step-{one.step.operation}", StepCard, app, place, one, chosen, when))
    rows += _advice(found)
    count = len(taken)
    said = f"Take all {count} into the works" if count == len(found.steps) else f"Take {count} into the works"
    if taken:
        rows.append(look.primary(said, lambda _: programme.take(app, found, taken), ft.Icons.PLAYLIST_ADD))
    return rows


def _from(app: App, visit: Visit) -> ft.Control:
    takens = programme.takens(app, visit)
    names = list(dict.fromkeys(one.kind.name.lower() for one in takens))
    if not names:
        return look.quiet("No readings of this visit yet: wishes alone lead it.")
    kind = "a green" if programme.surface(app, visit) == "green" else "a lawn"
    return look.quiet(f"From {len(takens)} readings ({', '.join(names)}), by the rules for {kind}.")


def _wishes(app: App, visit: Visit) -> ft.Control:
    there = programme.wanted(visit)

    def one(key: str, label: str) -> ft.Control:
        return look.choice(label, key in there, lambda _: programme.wish(app, key), key=f"wish-{key}")

    return look.card(
        look.title("What the customer wishes"),
        ft.Row([one(key, label) for key, label in wishes()], wrap=True, spacing=8, run_spacing=8),
    )


def _when(app: App, visit: Visit, when: Times) -> ft.Control:
    month = when.month or 1

    def step(by: int) -> None:
        programme.set_when(app, "month", (month - 1 + by) % 12 + 1)

    stepper = ft.Row(
        [
            icon_button(ft.Icons.CHEVRON_LEFT, "Month before", lambda _: step(-1)),
            ft.Text(
                MONTH_NAMES[month - 1],
                size=look.TITLE,
                weight=ft.FontWeight.BOLD,
                expand=True,
                text_align=ft.TextAlign.CENTER,
            ),
            icon_button(ft.Icons.CHEVRON_RIGHT, "Month after", lambda _: step(1)),
        ]
    )
    given = visit.programme
    soil = form_view(
        TODAY, given, TODAY.read(given), app.system, Do(programme.set_when, app), f"today-{visit.id}"
    )
    falling = given.get("soil_falling") is True
    turn = look.choice(
        "It is falling",
        falling,
        lambda _: programme.set_when(app, "soil_falling", not falling),
    )
    lines: list[ft.Control] = [look.title("When"), stepper, soil]
    if when.soil is not None:
        lines.append(ft.Row([turn]))
    if when.climate is None:
        lines.append(
            look.quiet(
                "With the year's temperatures each step shows the months that suit it. They are typed in "
                "once for a green and asked of no weather service."
            )
        )
    said = "Temperatures of the year" if when.climate else "The year's temperatures"
    lines.append(look.secondary(said, lambda _: app.go(f"/visit/{visit.id}/climate"), ft.Icons.THERMOSTAT))
    return look.card(*lines, spacing=12)


def climate_body(app: App, visit: Visit, stood: Standing) -> list[ft.Control]:
    """The year's temperatures of the green, typed in."""
    given = programme.climate(app, visit)
    change = Do(programme.set_climate, app)
    rows: list[ft.Control] = [
        look.title("Temperatures of the year"),
        look.quiet("Mean of each month, from a local record or your own log. Nothing is fetched."),
        look.primary("Keep for this green", lambda _: programme.keep_climate(app), ft.Icons.CHECK),
    ]
    for scope, form in (("climate", season.FORM), ("place", LATITUDE)):
        rows.append(form_view(form, given, form.read(given), app.system, change, f"{scope}-{visit.sward_id}"))
    return rows


def _advice(found: Plan) -> list[ft.Control]:
    if not found.advice:
        return []
    lines: list[ft.Control] = [look.title("To bear in mind")]
    for one in found.advice:
        lines += [ft.Text(_sentence(one.sentence), size=look.BODY), look.quiet(f"Source: {one.source}")]
    return [look.card(*lines)]


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}{'' if text.endswith(('.', '!', '?')) else '.'}"


@ft.component
def StepCard(app: App, place: int, one: Proposed, chosen: bool, when: Times) -> ft.Control:
    """A proposed step: why, how much, with what; more when it is opened."""
    is_open, set_open = ft.use_state(False)
    step = one.step
    head = ft.Row(
        [
            ft.Text(f"{place}  {step.name}", size=look.TITLE, weight=ft.FontWeight.BOLD, expand=True),
            look.plain("Less" if is_open else "More", lambda _: set_open(not is_open)),
        ]
    )
    lines: list[ft.Control] = [head]
    lines += [
        ft.Text(_sentence(reason.sentence), size=look.BODY)
        for reason in step.reasons[: None if is_open else 2]
    ]
    if not is_open and len(step.reasons) > 2:
        lines.append(look.quiet(f"and {len(step.reasons) - 2} more reasons"))
    lines += [look.remark(conflict.sentence, serious=conflict.serious) for conflict in step.conflicts]
    if one.worked:
        lines += [figure_line(f.name, f.text(app.system)) for f in one.worked.figures if f.headline]
    if step.machine:
        lines.append(figure_line("With", step.machine))
    if is_open:
        lines += _more(app, one, when)
    lines.append(_take(app, step.operation, step.name, chosen))
    border = ft.Border.all(2 if chosen else 1, ft.Colors.PRIMARY if chosen else ft.Colors.OUTLINE_VARIANT)
    return look.card(*lines, spacing=8, border=border)


def _take(app: App, operation: str, named: str, chosen: bool) -> ft.Control:
    def tapped(_: Any) -> None:
        programme.leave_out(app, operation)

    icon = ft.Icons.CHECK_BOX if chosen else ft.Icons.CHECK_BOX_OUTLINE_BLANK
    said = "Take it" if chosen else "Left out"
    return ft.Semantics(
        button=True,
        checked=chosen,
        label=f"Take {named.lower()}",
        exclude_semantics=True,
        on_tap=tapped,
        content=ft.Container(
            ft.Row(
                [ft.Icon(icon, size=30, color=ft.Colors.PRIMARY), ft.Text(said, size=look.BODY)], spacing=10
            ),
            height=look.TOUCH,
            on_click=tapped,
        ),
    )


def _more(app: App, one: Proposed, when: Times) -> list[ft.Control]:
    """Sources of the reasons, how long, the year, what must come first, what can stand in."""
    step, lines = one.step, list[ft.Control]()
    for source in dict.fromkeys(str(reason.source) for reason in step.reasons):
        lines.append(look.quiet(f"Source: {source}", italic=True))
    if not one.worked and one.missing:
        lines.append(look.quiet(f"How much: open for now. {one.missing}"))
    lines += [
        look.keyed(f"time-{f.key}-{n}", FigureCard, f, app.system, app.settings.confidence)
        for n, f in enumerate(one.times)
    ]
    lines += [look.quiet(said) for said in one.said]
    year = strip(step.operation, when.climate) if when.climate else None
    if year:
        lines += [
            ft.Text("The year here", size=look.LABEL, weight=ft.FontWeight.BOLD),
            year_strip(year, when.month),
            key_to_strip(),
            look.quiet(f"Source: {year.source}", italic=True),
        ]
    if step.before:
        lines.append(ft.Text("Must come before it", size=look.LABEL, weight=ft.FontWeight.BOLD))
        lines += [look.quiet(f"{name(b.first)}: {b.why} ({b.source}).") for b in step.before]
    instead = [f"{name(s.used)}: {s.cost}" for s in step.substitutes]
    if step.next_best:
        instead.insert(0, step.next_best)
    if instead:
        lines.append(ft.Text("If the machine is not to be had", size=look.LABEL, weight=ft.FontWeight.BOLD))
        lines += [look.quiet(text) for text in instead]
    return lines
