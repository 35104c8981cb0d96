"""Figures on screen: a few large, the rest in rows, and behind each its working and its source."""

from __future__ import annotations

from collections.abc import Sequence

import flet as ft

from logic.figure import Figure
from mobile_app.parts import look
from mobile_app.parts.kept import kept, later


@ft.component
def FigureCard(figure: Figure, system: str, confidence: float, large: bool = False) -> ft.Control:
    """One figure. A tap opens its working."""
    is_open, set_open = ft.use_state(False)
    said, margin = figure.text(system), _margin(figure, system)
    order = _order(figure, system, confidence)
    heading = ft.Row(
        [
            ft.Text(figure.name, size=look.LABEL, color=ft.Colors.ON_SURFACE_VARIANT, expand=True),
            ft.Icon(
                ft.Icons.EXPAND_LESS if is_open else ft.Icons.EXPAND_MORE,
                size=22,
                color=ft.Colors.ON_SURFACE_VARIANT,
            ),
        ],
        spacing=4,
    )
    value = ft.Text(
        said,
        size=look.BIG if large else look.TITLE,
        weight=ft.FontWeight.BOLD,
        color=ft.Colors.ON_SURFACE,
    )
    lines: list[ft.Control] = [heading, value]
    if margin:
        lines.append(look.quiet(margin))
    if order:
        lines.append(ft.Text(order, size=look.LABEL, weight=ft.FontWeight.BOLD))
    tapped = ft.Container(
        content=ft.Column(lines, spacing=0, tight=True),
        on_click=lambda _: set_open(not is_open),
        padding=ft.Padding.symmetric(vertical=6),
    )
    spoken = ", ".join(filter(None, (figure.name, said, margin, order)))
    body: list[ft.Control] = [
        ft.Semantics(
            button=True,
            expanded=is_open,
            label=spoken,
            identifier=f"figure-{figure.key}",
            exclude_semantics=True,
            on_tap=lambda _: set_open(not is_open),
            content=tapped,
        )
    ]
    if is_open:
        body.append(working(figure, system))
    return look.stack(*body, spacing=4)


def working(figure: Figure, system: str) -> ft.Control:
    """The lines of the calculation and where the method comes from."""
    lines: list[ft.Control] = [ft.Text(line, size=look.LABEL) for line in figure.working(system)]
    lines.append(look.quiet(f"Source: {figure.source}", italic=True))
    return ft.Container(
        content=ft.Column(lines, spacing=6, tight=True),
        padding=ft.Padding.only(left=12, top=4, bottom=8),
        border=ft.Border.only(left=ft.BorderSide(3, ft.Colors.PRIMARY)),
    )


def figure_list(figures: Sequence[Figure], system: str, confidence: float) -> ft.Control:
    """Headline figures large; the others behind rules, and drawn after them."""
    large = [f for f in figures if f.headline] or list(figures[:1])
    rest = tuple(f for f in figures if not any(f is one for one in large))
    rows = [kept(f.key, FigureCard, f, system, confidence, large=True) for f in large]
    if rest:
        rows.append(later("others", Others, rest, system, confidence))
    return look.stack(*rows, spacing=4)


@ft.component
def Others(figures: tuple[Figure, ...], system: str, confidence: float) -> ft.Control:
    """Figures of second rank."""
    rows: list[ft.Control] = []
    for f in figures:
        rows += [look.rule(), kept(f.key, FigureCard, f, system, confidence)]
    return look.stack(*rows, spacing=4)


def _margin(figure: Figure, system: str) -> str:
    _, sign, margin = figure.text_with_margin(system).partition("± ")
    return sign + margin


def _order(figure: Figure, system: str, confidence: float) -> str:
    if not figure.order or figure.plus_minus <= 0:
        return ""
    sure = Figure("", "", figure.at_least(confidence), figure.unit, (), figure.source)
    return f"Allow {sure.text(system)} to be {confidence:.0%} sure it lasts"


def figure_line(name: str, value: str) -> ft.Control:
    """A name with its value at the right: for summaries; the working stands where the figure does."""
    return ft.Row(
        [look.quiet(name, expand=True), ft.Text(value, size=look.BODY, weight=ft.FontWeight.BOLD)],
        vertical_alignment=ft.CrossAxisAlignment.START,
    )
