"""The running sheet of a step that is spread from a weighed hopper: is it lasting?"""

from __future__ import annotations

import flet as ft

from logic.errors import BadValue
from logic.programme.day import DayStep, StepState
from logic.programme.running import Spread, how_it_lasts, left_key, spread, strips_key, strips_of, weighed
from logic.units import quantity, shown_unit, text_of
from logic.works.operation import Worked
from logic.works.running_sheet import LASTING
from mobile_app import day as doing
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.box import text_box
from mobile_app.parts.folded import folded


def sheets(app: App, at: DayStep, now: StepState, worked: Worked | None) -> list[ft.Control]:
    """The running sheet, where the step has one."""
    found = spread(worked) if worked else None
    if found is None:
        return []
    run = found
    return [folded(f"running-{at.id}", "Running sheet", lambda: _directions(app, at, now, run))]


def _directions(app: App, at: DayStep, now: StepState, found: Spread) -> ft.Control:
    lines: list[ft.Control] = [
        look.quiet("Weigh the hopper after each strip: it says whether seed or feed will last.")
    ]
    for direction in range(1, found.directions + 1):
        lines.append(
            look.keyed(
                f"run-{at.id}-{direction}",
                Direction,
                app,
                at.id,
                direction,
                found,
                strips_of(now.actual, direction),
                weighed(now.actual, direction),
            )
        )
    return look.stack(*lines, spacing=16)


@ft.component
def Direction(
    app: App, step: str, direction: int, found: Spread, strips: int, left: tuple[float, ...]
) -> ft.Control:
    """One direction: how many strips, and what is left after each."""
    typed, set_typed = ft.use_state("")
    loaded, (unit, label) = text_of(quantity(found.loaded, "g"), app.system), shown_unit("g", app.system)
    lines: list[ft.Control] = [
        ft.Text(f"Direction {direction}: {loaded} in the hopper", size=look.BODY, weight=ft.FontWeight.BOLD)
    ]

    def note(key: str, value: str) -> None:
        if value.strip() and doing.act(app, "actual", step, key=key, value=value.strip(), reason=""):
            set_typed("")

    if not strips:
        lines += [
            ft.Row(
                [text_box("Strips in it", typed, set_typed, keyboard=ft.KeyboardType.NUMBER, key="strips")]
            ),
            look.secondary("Set the strips", lambda _: note(strips_key(direction), typed)),
        ]
        return look.card(*lines)
    if left:
        shown = ", ".join(text_of(quantity(mass, "g"), app.system) for mass in left)
        lines.append(look.quiet(f"Left after each of {strips} strips so far: {shown}"))
    try:
        said = how_it_lasts(found, strips, left)
    except BadValue as bad:
        lines.append(look.remark(bad.sentence, serious=True))
    else:
        if said:
            ok = said.state == LASTING
            lines.append(look.words(said.sentence) if ok else look.remark(said.sentence))
    if len(left) < strips:
        name = f"Left after strip {len(left) + 1}"
        lines += [
            ft.Row(
                [text_box(name, typed, set_typed, label, ft.KeyboardType.NUMBER, key=f"left-{len(left)}")]
            ),
            look.secondary(
                "Weighed", lambda _: note(left_key(direction, len(left) + 1), f"{typed.strip()} {unit}")
            ),
        ]
    return look.card(*lines)
