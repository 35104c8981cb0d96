"""kill -9 of real processes that save, compact and import: whatever was acknowledged is there afterwards.

The peer is the operating system: real processes, real files, SIGKILL, no chance to clean up.
"""

import os
import random
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from logic.records.book import Book
from logic.records.types import Client, Visit
from mobile_app.device.disk import DiskFolder

WRITER = """
import sys
from dataclasses import replace
from pathlib import Path
from logic.records.book import Book
from logic.records.types import Client, Visit
from mobile_app.device.disk import DiskFolder

book = Book.open(DiskFolder(Path(sys.argv[1])))
print("open", book.recovery.sentence, flush=True)
count = max((int(client.name) for client in book.all(Client)), default=0)
while True:
    count += 1
    book.save(Client(id=f"c{count}", name=str(count), note="x" * (count * 37 % 3000)))
    book.save(Visit(id="v", notes=str(count)))
    print("saved", count, flush=True)
    if count % 7 == 0:
        book._journal.tidy(always=True)
"""


def run_until_killed(place: Path, delay: float) -> tuple[str, int]:
    """Start the writer and kill it `delay` seconds after it opened; its first words and its last count."""
    writer = subprocess.Popen(
        [sys.executable, "-c", WRITER, str(place)], stdout=subprocess.PIPE, text=True, cwd=Path.cwd()
    )
    assert writer.stdout is not None
    opened = writer.stdout.readline().strip()
    try:
        writer.wait(delay)
    except subprocess.TimeoutExpired:
        os.kill(writer.pid, signal.SIGKILL)
    said = writer.stdout.read().split("\n")
    assert writer.wait() == -signal.SIGKILL, "the writer went on until it was killed"
    counts = [int(line.split()[1]) for line in said[:-1] if line.startswith("saved")]
    return opened, max(counts, default=0)


@pytest.mark.parametrize("seed", range(3))
def test_a_killed_process_loses_no_acknowledged_save(tmp_path: Path, seed: int) -> None:
    chance = random.Random(seed)
    there = 0
    for _ in range(10):
        opened, last = run_until_killed(tmp_path, chance.uniform(0.005, 0.15))
        assert opened == "open" or "not completely written" in opened
        book = Book.open(DiskFolder(tmp_path), known=True)
        assert "cleared" not in book.recovery.sentence
        names = sorted(int(client.name) for client in book.all(Client))
        acknowledged = max(there, last)
        assert len(names) in (acknowledged, acknowledged + 1), "at most one that was on its way"
        assert names == list(range(1, len(names) + 1)), "no gap"
        assert not last or int(book.get(Visit, "v").notes) in (last, last + 1)
        there = len(names)
        book.close()
    assert there > 10
