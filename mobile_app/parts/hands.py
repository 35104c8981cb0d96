"""What the fields of a form need of the screen that they stand on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

import flet as ft

from logic.field import PaceLike
from mobile_app.parts.kept import Do

Change = Callable[[str, Any], None]
Discard = Callable[[str, Any, str], None]


@dataclass(frozen=True)
class Hands:
    """system: units shown. scope: what the form belongs to, for the keys of its boxes.

    change(path, stored value): as it is typed; a path is a field's key, or "legs.2.distance" within one.
    discard(path, stored value, why): throws something away, so the way back is offered. draw: a field of any
    kind. count(path): opens the pace counter; None where nothing is paced. pace: reads "N paces".
    """

    system: str
    scope: str
    change: Change
    discard: Discard
    draw: Callable[..., ft.Control]
    count: Callable[[str], None] | None = None
    pace: PaceLike | None = None

    def under(self, key: str) -> Hands:
        """The hands of what lies within `key`."""
        return replace(
            self,
            scope=f"{self.scope}-{key}",
            change=Do(_within, self.change, key),
            discard=Do(_within, self.discard, key),
            count=Do(_within, self.count, key) if self.count else None,
        )


def _within(do: Callable[..., None], key: str, path: str, *rest: Any) -> None:
    do(f"{key}.{path}", *rest)
