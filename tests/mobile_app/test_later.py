"""What the first start waits for, and what comes later."""

import subprocess
import sys

from mobile_app import later

HEAVY = {"pint", "uncertainties", "reportlab", "logic.units", "mobile_app.screens.visit"}

TAKES_TURNS = """
import asyncio, sys
from mobile_app import later

async def both():
    loading = asyncio.create_task(later.load())
    turns = 0
    while not loading.done():
        turns += 1
        await asyncio.sleep(0)
    await loading
    return turns

print(asyncio.run(both()), *sys.modules)
"""


def words(program: str) -> list[str]:
    """What a Python of its own prints."""
    return subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True
    ).stdout.split()


def test_the_first_screen_is_up_without_what_takes_long() -> None:
    loaded = set(words("import sys, mobile_app.main; print(*sys.modules)"))
    assert "mobile_app.screens.greens" in loaded
    assert loaded & {*HEAVY, "icalendar"} == set()


def test_later_all_is_there_and_others_had_their_turns() -> None:
    turns, *loaded = words(TAKES_TURNS)
    assert {*HEAVY, *later.names()} <= set(loaded)
    assert int(turns) > 20
