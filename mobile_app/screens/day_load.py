"""What the day costs hands, ears and back: points, levels, time left, and a bag against the guide figures."""

from __future__ import annotations

import flet as ft

from logic.errors import BadValue
from logic.figure import Figure
from logic.programme.day import Day, DayStep
from logic.programme.exposure import DEFER, Exposure
from logic.programme.handling import choices, lifting
from logic.programme.machines import Known
from logic.records.types import Visit
from logic.units import quantity, text_of
from mobile_app import day as doing
from mobile_app import trade
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.figures import FigureCard


def view(app: App, visit: Visit, day: Day, at: DayStep) -> ft.Control:
    """The whole of it."""
    found = doing.load(app, visit, day, at)
    lines: list[ft.Control] = [
        *_said(app, found.vibration),
        *_said(app, found.noise),
    ]
    if found.left:
        lines.append(ft.Text(f"On this machine: {at.machine}", size=look.BODY, weight=ft.FontWeight.BOLD))
        lines += [_figure(app, figure) for figure in found.left]
    lines += [_machine(one) for one in found.used]
    lines.append(look.quiet(DEFER))
    lines.append(look.rule())
    lines.append(look.keyed("lifting", Lifting, app, _bags(app, visit)))
    return look.card(*lines)


def _said(app: App, found: Exposure) -> list[ft.Control]:
    sentence = found.sentence.removesuffix(DEFER).strip()
    lines: list[ft.Control] = [_figure(app, figure) for figure in found.figures]
    lines.append(
        look.words(sentence)
        if found.state == "below"
        else look.remark(sentence, serious=found.state == "limit")
    )
    return lines


def _figure(app: App, found: Figure) -> ft.Control:
    return look.keyed(f"load-{found.key}", FigureCard, found, app.system, app.settings.confidence)


def _machine(one: Known) -> ft.Control:
    parts = []
    if one.vibration is not None:
        parts.append(f"{text_of(quantity(one.vibration, 'm/s^2'))} at the handles")
    if one.noise is not None:
        parts.append(f"{one.noise:g} dB(A) at the ear")
    return look.quiet(f"{one.name}: {', '.join(parts) or 'no figures yet'}. Source: {one.source}.")


def _bags(app: App, visit: Visit) -> tuple[tuple[str, float], ...]:
    """The bags of the visit by name and weight [kg]."""
    found: dict[str, float] = {}
    for buying in trade.buyings(app, [visit]) if app.standing(visit).area else ():
        packs = buying.bought.counts if buying.bought else ()
        for pack in (pack for pack, _ in packs if pack.form in ("bag", "can")):
            held = quantity(pack.size, buying.need.material.unit)
            if held.check("[mass]"):  # what is sold by volume weighs what its label says
                found[f"{buying.need.material.name}, {pack.name}"] = float(held.to("kg").magnitude)
    return tuple(found.items())


@ft.component
def Lifting(app: App, bags: tuple[tuple[str, float], ...]) -> ft.Control:
    """Each bag against the guide figure of the lift chosen."""
    where, set_where = ft.use_state("man_elbow")
    pace, set_pace = ft.use_state("half_hourly")
    twist, set_twist = ft.use_state("none")
    lines: list[ft.Control] = [look.title("Lifting", look.BODY + 1)]
    for group, chosen, pick in (
        ("filter", where, set_where),
        ("pace", pace, set_pace),
        ("twist", twist, set_twist),
    ):
        lines.append(look.choices(choices(group), chosen, pick))
    for name, mass in bags or (("A bag of 25 kg", 25.0),):
        try:
            found = lifting(mass, where, pace, twist)
        except BadValue:
            continue
        said = f"{name}: {found.sentence}"
        lines.append(look.words(said) if found.within else look.remark(said))
        lines.append(look.quiet(f"Source: {found.figure.source}", italic=True))
    return look.stack(*lines, spacing=12)
