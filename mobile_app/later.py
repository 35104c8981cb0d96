"""What the first screen does without: imported once that is drawn, so that no first start waits for it."""

from __future__ import annotations

import asyncio
import sys
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

#: What takes longest, each a step of its own, so that a tap is heard in between.
_HEAVY = ("pint", "logic.units", "reportlab.pdfgen.canvas", "reportlab.platypus")


def names() -> Iterator[str]:
    """Every module of the app that the first screen does not need, the heavy ones first."""
    home = Path(__file__).parents[1]
    own = [*home.glob("logic/**/*.py"), *home.glob("mobile_app/screens/*.py")]
    yield from _HEAVY
    for path in sorted(own):
        parts = path.relative_to(home).with_suffix("").parts
        yield ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


async def load() -> None:
    """Import them one after the other, and let what else there is to do be done in between."""
    for name in names():
        if name not in sys.modules:
            import_module(name)
            await asyncio.sleep(0)
