"""± as propagated beside ± as played with random errors, for every way of measuring. Prints a table.

Run from the top folder: python -m tests.bench.montecarlo [draws]
"""

from __future__ import annotations

import sys

from logic.measure.pacing import pace_of
from tests.logic.measure.examples import EXAMPLES, PACE
from tests.logic.measure.montecarlo import hold, traced


def main(draws: int = 4000) -> None:
    """Print the table."""
    pace = pace_of(PACE)
    print(
        f"{'measured by':32} {'area m²':>9} {'± told':>8} {'± played':>9} {'told/played':>12} {'±/area':>8}"
    )
    for seed, (name, job) in enumerate(EXAMPLES.items()):
        held = hold(job, PACE, draws, seed)
        area = traced(job, pace).area.nominal_value
        print(
            f"{name:32} {area:9.2f} {held.propagated:8.3f} {held.played:9.3f} {held.ratio:12.3f} "
            f"{held.propagated / area:8.2%}"
        )


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
