"""Which photos stand side by side: those that were paired, then before beside after, then what is left."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeVar

PhotoT = TypeVar("PhotoT")


def couples(
    photos: Sequence[PhotoT], moment: Callable[[PhotoT], str], pair: Callable[[PhotoT], str]
) -> list[tuple[PhotoT, PhotoT | None]]:
    """Photos two by two. moment: "before", "after" or ""; pair: what two of a pair share, or ""."""
    found: list[tuple[PhotoT, PhotoT | None]] = []
    rest = list(photos)
    for one in photos:
        others = [p for p in rest if p is not one and pair(p) and pair(p) == pair(one)]
        if others and any(p is one for p in rest):
            rest = [p for p in rest if p is not one and p is not others[0]]
            turned = moment(one) == "after" or moment(others[0]) == "before"
            found.append((others[0], one) if turned else (one, others[0]))
    before, after = ([p for p in rest if moment(p) == word] for word in ("before", "after"))
    both = min(len(before), len(after))
    found += zip(before, after, strict=False)
    left = [*before[both:], *after[both:], *(p for p in rest if moment(p) not in ("before", "after"))]
    found += [(one, left[n + 1] if n + 1 < len(left) else None) for n, one in enumerate(left) if n % 2 == 0]
    return found
