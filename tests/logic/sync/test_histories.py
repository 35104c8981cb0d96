"""A thousand random histories of three phones and an office on a network that lies: all agree, none loses."""

import random
import sys

import pytest

from tests.logic.sync.simulator import FATES, World
from tests.logic.sync.steps import history

PARTS = 10
#: In the browser a few will do: the same rules are tried there on another Python.
EACH = 100 if sys.platform != "emscripten" else 3


def play(seed: int, steps: int = 24) -> World:
    """One history and its end, checked; the steps are in the message when it fails."""
    world = World(seed)
    fate = random.Random(seed + 1)
    quality = fate.choice((0.0, 0.3, 0.7))
    world.fates = lambda: fate.choice(FATES) if fate.random() < quality else "arrives"
    for name in ("ann", "bob", "cyd")[: 2 + seed % 2]:
        world.phone(name, skew=fate.choice((0, 0, 86400, -86400)))
    told: list[str] = []
    try:
        for step in history(world, steps):
            told.append(step)
        world.settle()
        world.check()
    except Exception as error:
        error.add_note(f"seed {seed}: {told}")
        raise
    return world


@pytest.mark.parametrize("part", range(PARTS))
def test_all_phones_agree_with_the_office_and_nothing_is_lost(part: int) -> None:
    for seed in range(part * EACH, (part + 1) * EACH):
        play(seed)


#: Histories out of many thousands that once went wrong.
ONCE_WRONG = (17463, 25962)


@pytest.mark.parametrize("seed", ONCE_WRONG)
def test_what_once_went_wrong_does_so_no_more(seed: int) -> None:
    play(seed)
