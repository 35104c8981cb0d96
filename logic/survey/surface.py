"""Which surface the classes of readings take a sward for."""

from __future__ import annotations

_LAWNS = ("lawn", "other")


def surface_of(kind: str) -> str:
    """ "lawn" for a lawn, "green" for all that is kept as short as a green. kind: of the sward, as chosen."""
    return "lawn" if kind.strip().casefold() in _LAWNS else "green"
