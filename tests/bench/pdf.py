"""Prints the time of a customer summary of six operations against an empty one-page document of reportlab."""

import io
import statistics
import time
from collections.abc import Callable

from reportlab.platypus import SimpleDocTemplate, Spacer

from logic.report.summary import summary
from tests.logic.report.samples import summary_data

ROUNDS = 15


def seconds(job: Callable[[], object]) -> float:
    """The middle one of ROUNDS timings, after one that warms up."""
    job()
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        job()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def empty() -> None:
    """The least that reportlab can make."""
    SimpleDocTemplate(io.BytesIO()).build([Spacer(1, 1)])


def main() -> None:
    """Measure side by side and print."""
    data = summary_data()
    file = summary(data)
    ours, theirs = seconds(lambda: summary(data)), seconds(empty)
    print(f"customer summary, six operations, {len(file) / 1000:.0f} kB: {1000 * ours:.0f} ms")
    print(f"empty one-page document: {1000 * theirs:.1f} ms; ratio {ours / theirs:.0f}")


if __name__ == "__main__":
    main()
