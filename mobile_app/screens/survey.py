"""The survey of a visit: what to look at first, the readings taken and where, and one more of any kind."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import flet as ft

from logic.measure.outline import Outline
from logic.records.standing import Standing
from logic.records.types import Visit
from logic.records.visits import levels_of
from logic.survey.kind import Kind, Line
from logic.survey.kinds import kinds
from logic.survey.stored import Held, marks
from mobile_app import survey
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.ground_map import GroundMap, Pin
from mobile_app.parts.kept import kept
from mobile_app.screens.measure import hands_for
from mobile_app.screens.measure_levels import LevelSection, filled

#: What to look at first, and why: the kind of reading, what to do, and what it decides.
FIRST = (
    ("core", "Cut a core", "Thatch, layers and roots decide what has to be opened before anything is sown."),
    (
        "cover",
        "Count the cover",
        "Grass, moss and bare ground say how much seed, and show later what it did.",
    ),
    ("height_of_cut", "Gauge the height of cut", "What the plant lives with; where the mower starts again."),
    ("moisture", "Feel the soil", "Wet or dry decides whether today is the day, and what the rest means."),
)
GROUPS = (
    ("grass", "The grass"),
    ("soil", "The soil"),
    ("surface", "The surface"),
    ("place", "The place"),
)
_ELSEWHERE = ("levels",)  # taken in a form of their own, below


def body(app: App, visit: Visit, stood: Standing) -> list[ft.Control]:
    """The step Survey."""
    held = survey.readings(app, visit)
    taken = [one for one in held if one.entry["id"] != "levels"]
    rows: list[ft.Control] = []
    if not taken:
        rows += _teaching(app)
    else:
        if stood.outline is not None:
            rows.append(look.keyed("map", _Map, stood.outline, app.system, held))
        rows += [_card(app, visit, place, one) for place, one in enumerate(taken, 1)]
    rows.append(look.keyed("add", _Add, app, not taken))
    hands, sure = hands_for(app, visit, stood, "levels"), app.settings.confidence
    rows.append(kept("levels", LevelSection, app, levels_of(visit), filled(visit), hands, sure))
    if taken:
        rows.append(
            look.primary(
                "On to the works", lambda _: app.go(f"/visit/{visit.id}/works"), ft.Icons.ARROW_FORWARD
            )
        )
    return rows


def _teaching(app: App) -> list[ft.Control]:
    """What to look at first, each a tap away."""
    rows: list[ft.Control] = [
        look.title("Look before you work"),
        look.quiet(
            "Ten minutes with a knife and a gauge tell more than the view from the gate. Start with these; "
            "they are what the programme is made from."
        ),
    ]
    return [*rows, *(_first(app, kind, name, why) for kind, name, why in FIRST)]


def _first(app: App, kind: str, name: str, why: str) -> ft.Control:
    def begin(_: object) -> None:
        survey.begin(app, kind)

    text = look.stack(look.words(name, weight=ft.FontWeight.BOLD), look.quiet(why), spacing=2)
    text.expand = True
    return _opens(f"{name}. {why}", begin, ft.Row([text, ft.Icon(ft.Icons.CHEVRON_RIGHT, size=28)]), kind)


def _opens(said: str, on_tap: Callable[[Any], None], content: ft.Control, key: str) -> ft.Control:
    """A card that is one large button."""
    return ft.Semantics(
        button=True,
        label=said,
        exclude_semantics=True,
        on_tap=on_tap,
        content=look.card(content, on_click=on_tap),
        key=key,
    )


def _card(app: App, visit: Visit, number: int, one: Held) -> ft.Control:
    """A reading: its number on the map, what it is, and its headline figures; class words second."""
    entry = one.entry
    name = name_of(one)
    lines: list[ft.Control] = [look.words(name, weight=ft.FontWeight.BOLD)]
    said = [f"{number}. {name}"]
    if one.taken is None:
        lines.append(look.quiet(_missing(one)))
        said.append(_missing(one))
    else:
        for figure in [f for f in one.taken.figures if f.headline] or one.taken.figures[:1]:
            word = one.taken.word(figure.key)
            lines.append(
                ft.Text(
                    spans=[
                        ft.TextSpan(
                            figure.text(app.system),
                            ft.TextStyle(size=look.TITLE, weight=ft.FontWeight.BOLD),
                        ),
                        ft.TextSpan(
                            f"  {mid(figure.name)}{f', {word}' if word else ''}",
                            ft.TextStyle(size=look.LABEL, color=ft.Colors.ON_SURFACE_VARIANT),
                        ),
                    ],
                )
            )
            said.append(f"{figure.name} {figure.text(app.system)}{f', {word}' if word else ''}")
    where = "" if entry.get("x") is not None else "not on the sketch yet"
    below = " · ".join(filter(None, (str(entry.get("note") or ""), where)))
    if below:
        lines.append(look.quiet(below))
        said.append(below)
    text = look.stack(*lines, spacing=2)
    text.expand = True
    row = ft.Row(
        [_badge(number), text, ft.Icon(ft.Icons.CHEVRON_RIGHT, size=28)],
        spacing=12,
        vertical_alignment=ft.CrossAxisAlignment.START,
    )
    key = str(entry["id"])
    return _opens(". ".join(said), lambda _: app.go(survey.place_of(visit, key)), row, key)


def mid(name: str) -> str:
    """A name as it stands in the middle of a line: "pH" stays as it is."""
    return f"{name[:1].lower()}{name[1:]}" if name[1:2].islower() else name


def name_of(one: Held) -> str:
    """What a reading is called; its key when only a newer version knows the kind."""
    kind = kinds().get(str(one.entry.get("kind")))
    return kind.name if kind else str(one.entry.get("kind"))


def _missing(one: Held) -> str:
    problem = next(iter(one.reading.problems.values()), "")
    return problem if problem and not problem.startswith("Fill in") else "Nothing read yet."


def _badge(number: int) -> ft.Control:
    """The number that the reading has on the map, in the same shape."""
    return ft.Container(
        ft.Text(str(number), size=look.LABEL, weight=ft.FontWeight.BOLD),
        padding=ft.Padding.symmetric(horizontal=11, vertical=3),
        border=ft.Border.all(2, ft.Colors.PRIMARY),
        border_radius=20,
    )


# --- the map ------------------------------------------------------------------------------------------


@ft.component
def _Map(outline: Outline, system: str, held: Sequence[Held]) -> ft.Control:
    """All readings by their number, or those of one kind by what was found."""
    chosen, pick = ft.use_state("")
    placed = {
        one.taken.kind.key: _short(one.taken.kind)
        for one in held
        if one.taken and marks([one], one.taken.kind.key)
    }
    shown = chosen if chosen in placed else ""
    lines: list[ft.Control] = [
        look.keyed("map", GroundMap, outline, system, pins(held, shown), stretches(held))
    ]
    if placed:
        lines.append(
            ft.Row(
                [
                    look.choice(name, key == shown, lambda _, key=key: pick(key), key=key)
                    for key, name in (("", "All"), *placed.items())
                ],
                scroll=ft.ScrollMode.AUTO,
                spacing=8,
            )
        )
    else:
        lines.append(look.quiet("Open a reading and tap the sketch where it was taken."))
    return look.card(*lines, padding=ft.Padding.all(12))


def _short(kind: Kind) -> str:
    """The name of a kind without what follows it."""
    return kind.name.partition(":")[0].partition(",")[0]


def pins(held: Sequence[Held], kind: str = "", chosen: str = "") -> list[Pin]:
    """Where the readings are: their numbers, or for one kind what was found. chosen: id of that in hand."""
    if kind:
        return [Pin(mark.x, mark.y, mark.text) for mark in marks(held, kind)]
    found = []
    for number, one in enumerate(held, 1):
        x, y = one.entry.get("x"), one.entry.get("y")
        if isinstance(x, int | float) and isinstance(y, int | float):
            found.append(Pin(x, y, str(number), one.entry["id"] == chosen))
    return found


def stretches(held: Sequence[Held]) -> list[Line]:
    """What readings draw along the outline: bare edges."""
    return [
        line
        for one in held
        if one.taken
        for line in one.taken.finding.drawing
        if isinstance(line, Line) and line.on == "sketch"
    ]


# --- one more -------------------------------------------------------------------------------------------


@ft.component
def _Add(app: App, is_first: bool) -> ft.Control:
    """The kinds of reading by group, folded away until one is wanted."""
    is_open, set_open = ft.use_state(False)
    if not is_open:
        said = "All kinds of reading" if is_first else "Take another reading"
        return look.secondary(said, lambda _: set_open(True), ft.Icons.ADD)
    lines: list[ft.Control] = []
    for group, name in GROUPS:
        lines.append(look.title(name, look.BODY))
        members = [k for k in kinds().values() if k.group == group and k.key not in _ELSEWHERE]
        lines += [_kind(app, kind) for kind in members]
    lines.append(look.plain("Close the list", lambda _: set_open(False)))
    return look.stack(*lines, spacing=10)


def _kind(app: App, kind: Kind) -> ft.Control:
    """A kind of reading with how many are enough, so that one knows before one starts."""

    def begin(_: object) -> None:
        survey.begin(app, kind.key)

    text = look.stack(look.words(kind.name, weight=ft.FontWeight.BOLD), look.quiet(kind.how_many), spacing=2)
    text.expand = True
    row = ft.Row([text, ft.Icon(ft.Icons.ADD, size=26, color=ft.Colors.PRIMARY)])
    return _opens(f"{kind.name}. {kind.how_many}", begin, row, f"kind-{kind.key}")
