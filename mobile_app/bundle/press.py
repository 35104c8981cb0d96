"""Brotli and gzip copies beside each file, for servers and hosts that send them as they are."""

import gzip
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import brotli

SMALL = 512  # below this a compressed copy saves nothing worth a file
PLAIN = (".png", ".woff2", ".br", ".gz")


def press(path: Path, quality: int) -> None:
    """Writes `path`.br and `path`.gz; `quality` is brotli's, 0 (fast) to 11 (small)."""
    data = path.read_bytes()
    if len(data) < SMALL or path.suffix in PLAIN:
        return
    path.with_name(path.name + ".br").write_bytes(brotli.compress(data, quality=quality))
    path.with_name(path.name + ".gz").write_bytes(gzip.compress(data, 9 if quality > 9 else 5, mtime=0))


def press_all(paths: list[Path], quality: int) -> None:
    """`press` for many files, on two processors."""
    with ThreadPoolExecutor(2) as pool:
        for _ in pool.map(lambda path: press(path, quality), sorted(paths, key=lambda p: -p.stat().st_size)):
            pass
