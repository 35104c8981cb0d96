"""What a camera wrote beside a photo: which way up, when, and where. Whatever can't be read is left out."""

from __future__ import annotations

import struct
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

_MOST_ENTRIES = 200
_SIZES = {1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 7: 1, 9: 4, 10: 8}
_TURNED, _EXIF, _GPS, _TAKEN = 0x0112, 0x8769, 0x8825, 0x9003


@dataclass(frozen=True)
class Exif:
    """orientation: 1 to 8; taken: local time as the camera had it, "" when unknown; place: "51.5, -0.1" in
    degrees, north and east positive, "" when unknown."""

    orientation: int = 1
    taken: str = ""
    place: str = ""


def exif_of(jpeg: bytes) -> Exif:
    """What the Exif block near the start of a JPEG says; the plain Exif() for a file that has none.

    jpeg: the file, or as much of its start as holds the block.
    """
    at = 2
    while jpeg[:2] == b"\xff\xd8" and at + 4 <= len(jpeg) and jpeg[at] == 0xFF and jpeg[at + 1] != 0xDA:
        length = int.from_bytes(jpeg[at + 2 : at + 4], "big")
        body = jpeg[at + 4 : at + 2 + length]
        if jpeg[at + 1] == 0xE1 and body[:6] == b"Exif\0\0":
            return read_exif(body[6:])
        at += 2 + max(length, 2)
    return Exif()


def read_exif(tiff: bytes) -> Exif:
    """What an Exif block says. Source: Exif 2.3, 4.6.3 (pointers), 4.6.4 (orientation), 4.6.5 (date), 4.6.6
    (GPS)."""
    order = {b"II": "<", b"MM": ">"}.get(tiff[:2])
    if order is None or len(tiff) < 8:
        return Exif()
    first = dict(_entries(tiff, order, _number(tiff[4:8], order)))
    turned = _number(first.get(_TURNED, b""), order)
    more = dict(_entries(tiff, order, _number(first.get(_EXIF, b""), order)))
    gps = dict(_entries(tiff, order, _number(first.get(_GPS, b""), order)))
    return Exif(turned if 1 <= turned <= 8 else 1, _time(more.get(_TAKEN, b"")), _place(gps, order))


def _entries(tiff: bytes, order: str, start: int) -> Iterator[tuple[int, bytes]]:
    """Tag and bytes of every entry of the directory that begins at `start`."""
    if not 8 <= start <= len(tiff) - 2:
        return
    count = _number(tiff[start : start + 2], order)
    for place in range(min(count, _MOST_ENTRIES)):
        entry = tiff[start + 2 + 12 * place : start + 14 + 12 * place]
        if len(entry) < 12:
            return
        tag, kind, many = struct.unpack(order + "HHI", entry[:8])
        size = _SIZES.get(kind, 0) * many
        if size <= 4:
            yield tag, entry[8 : 8 + size]
        else:
            at = _number(entry[8:12], order)
            yield tag, tiff[at : at + size]


def _number(raw: bytes, order: str) -> int:
    return int.from_bytes(raw, "little" if order == "<" else "big") if len(raw) in (2, 4) else 0


def _time(raw: bytes) -> str:
    try:
        text = raw.rstrip(b"\0 ").decode("ascii")
        return datetime.strptime(text, "%Y:%m:%d %H:%M:%S").isoformat()
    except ValueError:
        return ""


def _place(gps: dict[int, bytes], order: str) -> str:
    north = _degrees(gps.get(2, b""), order, gps.get(1, b""), b"S")
    east = _degrees(gps.get(4, b""), order, gps.get(3, b""), b"W")
    if north is None or east is None or abs(north) > 90 or abs(east) > 180:
        return ""
    return f"{north:.5f}, {east:.5f}"


def _degrees(raw: bytes, order: str, side: bytes, other: bytes) -> float | None:
    """Degrees, minutes and seconds as three fractions; negative on the `other` side."""
    if len(raw) != 24:
        return None
    parts = struct.unpack(order + "6I", raw)
    if not all(parts[1::2]):
        return None
    degrees, minutes, seconds = (a / b for a, b in zip(parts[::2], parts[1::2], strict=True))
    found: float = degrees + minutes / 60 + seconds / 3600
    return -found if side[:1] == other else found
