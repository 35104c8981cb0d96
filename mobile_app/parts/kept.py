"""What a change did not touch is not drawn again.

Every change of the state draws the root. That is quick while a screen is a skeleton of kept components: one
whose arguments equal its last ones keeps its controls, and nothing of it is built, compared or sent. So what
a kept component shows must follow from its arguments alone (the App among them is for doing things, not for
looking things up), and what it does must not rest on what was there when it was drawn.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

import flet as ft

_MEMO: Any = ft.memo  # which has no types


def kept(key: str, component: Callable[..., Any], *args: Any, **more: Any) -> ft.Control:
    """A component under a key of its own, drawn again only when its arguments or its own state differ."""
    drawn: ft.Control = _MEMO(component)(*args, key=key, **more)
    return drawn


def later(key: str, component: Callable[..., Any], *args: Any) -> ft.Control:
    """A kept component that is drawn again after the rest: for what is large and looked at second."""
    return kept(key, Later, component, args)


@ft.component
def Later(component: Callable[..., Any], args: tuple[Any, ...]) -> ft.Control:
    """What was drawn last; once that is on the screen, what is to be drawn now."""
    seen, see = ft.use_state(args)
    ft.use_effect(lambda: see(args), [args])
    return kept("seen", component, *seen)


class Do(partial[Any]):
    """A call with its first arguments given, equal to another of the same: what kept components are handed.

    Two closures are never equal, so a component that is handed one is drawn every time.
    """

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Do):
            return NotImplemented
        return (self.func, self.args, self.keywords) == (other.func, other.args, other.keywords)

    def __hash__(self) -> int:
        return hash(self.func)
