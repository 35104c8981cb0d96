"""What the programme says at a work of the list: why, what speaks against it, what was agreed, its place."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

import flet as ft

from logic.programme.conflicts import Conflict
from logic.programme.order import name
from logic.programme.substitutes import machine, machine_of, next_best_cost, substitutes
from logic.records.types import Visit
from mobile_app import programme
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.box import text_box
from mobile_app.parts.folded import folded


def against(found: Sequence[Conflict]) -> list[ft.Control]:
    """What speaks against a work where it stands."""
    return [look.remark(one.sentence, serious=one.serious) for one in found]


def agreed(entry: Mapping[str, Any]) -> list[ft.Control]:
    """What was agreed, with whom, and when."""
    raw = entry.get("agreed")
    if not isinstance(raw, Mapping):
        return []
    try:
        at = f"{datetime.fromisoformat(str(raw.get('at'))).astimezone():%d %b %Y, %H:%M}"
    except ValueError:
        at = ""
    who = ", ".join(filter(None, (str(raw.get("name") or ""), at)))
    return [look.quiet(f"Agreed with {who}: {raw.get('words') or ''}")]


def why(entry: Mapping[str, Any]) -> list[ft.Control]:
    """Why the work is in the list, when the programme put it there."""
    raw = entry.get("why")
    lines = [str(one) for one in raw] if isinstance(raw, list | tuple) else []
    if not lines:
        return []

    def draw() -> ft.Control:
        return look.stack(*[look.quiet(f"{line[:1].upper()}{line[1:]}.") for line in lines], spacing=4)

    return [folded("why", "Why", draw)]


def machines(app: App, index: int, entry: Mapping[str, Any]) -> list[ft.Control]:
    """With what the work is done, and what can stand in when that is not to be had."""
    operation = str(entry.get("operation"))
    tool, (_, next_best) = machine_of(entry), machine(operation)
    pairs: list[tuple[str, str, str]] = []
    if next_best and tool != next_best:
        pairs.append(("", next_best, next_best_cost(operation)[0]))
    pairs += [(s.used, name(s.used), s.cost) for s in substitutes(operation)]
    if not tool and not pairs:
        return []
    lines: list[ft.Control] = [look.quiet(f"With: {tool}")] if tool else []
    if pairs:
        lines.append(
            folded(
                f"instead-{operation}",
                "Another machine",
                lambda: look.keyed(f"instead-{index}-{operation}", Instead, app, index, tuple(pairs)),
            )
        )
    return lines


@ft.component
def Instead(app: App, index: int, pairs: tuple[tuple[str, str, str], ...]) -> ft.Control:
    """Choose what stands in, read what that costs, and have the customer agree by name."""
    chosen, set_chosen = ft.use_state("-")
    client = app.client_of(app.sward_of(app.visit_in_hand()))
    who, set_who = ft.use_state(client.name if client else "")
    keys = tuple((used or "same", label) for used, label, _ in pairs)
    lines: list[ft.Control] = [look.choices(keys, chosen, set_chosen)]
    cost = next((cost for used, _, cost in pairs if (used or "same") == chosen), "")
    if cost:
        lines += [
            look.remark(cost),
            look.quiet("Tell the customer, and write down who agrees."),
            ft.Row([text_box("Agreed with", who, set_who, key=f"agreed-{index}")]),
            look.primary(
                "Agreed, change it",
                lambda _: programme.agree(app, index, "" if chosen == "same" else chosen, who),
                ft.Icons.HANDSHAKE_OUTLINED,
            ),
        ]
    return look.stack(*lines, spacing=12)


def places(app: App, index: int, count: int) -> ft.Control:
    """Two large buttons that move a work in the day."""
    buttons: list[ft.Control] = []
    for by, said, icon, able in (
        (-1, "Earlier", ft.Icons.ARROW_UPWARD, index > 0),
        (1, "Later", ft.Icons.ARROW_DOWNWARD, index < count - 1),
    ):
        if able:
            buttons.append(
                look.secondary(said, lambda _, b=by: programme.move(app, index, b), icon, expand=True)
            )
    return ft.Row(buttons, spacing=8)


def proposal(app: App, visit: Visit) -> ft.Control:
    """The way to the programme."""
    said = "Propose from readings" if visit.readings else "Propose from wishes"
    return look.secondary(said, lambda _: app.go(f"/visit/{visit.id}/programme"), ft.Icons.LIGHTBULB_OUTLINE)
