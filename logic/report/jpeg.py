"""What a JPEG file says of itself: size, colours, which way up; and whether it is whole. Nothing is
decoded."""

from __future__ import annotations

import struct
from dataclasses import dataclass

from logic.errors import SwardError
from logic.report.exif import read_exif

#: More bytes than this are no photo made ready for paper: a page of them is too much for a phone to send.
MOST_BYTES = 2_500_000
MOST_PIXELS = 40_000_000
_FRAMES = (0xC0, 0xC1, 0xC2)  # those that a PDF reader must know; others (lossless, arithmetic) it need not
_BARE = (0x01, *range(0xD0, 0xD8))


class BadPhoto(SwardError, ValueError):
    """A photo that can't be put on paper."""

    default = "This photo can't be read."


class LargePhoto(BadPhoto):
    """A photo that is whole, but too large."""

    default = "This photo is too large to print: make it smaller."


@dataclass(frozen=True)
class Jpeg:
    """Width and height [pixels] as stored; components: 1, 3 or 4; orientation: 1 to 8 as Exif has it."""

    width: int
    height: int
    components: int
    orientation: int = 1

    @property
    def upright(self) -> tuple[int, int]:
        """Width and height the right way up."""
        return (self.height, self.width) if self.orientation >= 5 else (self.width, self.height)


def read_jpeg(data: bytes) -> Jpeg:
    """Look through the segments of a JPEG. Raises BadPhoto when it is none or is cut off, LargePhoto.

    Source: ITU-T T.81, annex B (markers).
    """
    if data[:2] != b"\xff\xd8":
        raise BadPhoto
    found: Jpeg | None = None
    orientation, at = 1, 2
    while True:
        marker, at = _marker(data, at)
        if marker in _BARE:
            continue
        length = _word(data, at)
        if length < 2 or at + length > len(data):
            raise BadPhoto
        body = data[at + 2 : at + length]
        if marker in _FRAMES:
            found = _frame(body)
        elif 0xC0 <= marker <= 0xCF and marker not in (0xC4, 0xC8, 0xCC):
            raise BadPhoto
        elif marker == 0xE1 and body[:6] == b"Exif\0\0":
            orientation = read_exif(body[6:]).orientation
        at += length
        if marker == 0xDA:
            break
    if found is None or data.rfind(b"\xff\xd9", at) < 0:
        raise BadPhoto
    if len(data) > MOST_BYTES or found.width * found.height > MOST_PIXELS:
        raise LargePhoto
    return Jpeg(found.width, found.height, found.components, orientation)


def _marker(data: bytes, at: int) -> tuple[int, int]:
    """The marker at `at`, and where what follows it begins; fill bytes are passed over."""
    if at >= len(data) or data[at] != 0xFF:
        raise BadPhoto
    while at < len(data) and data[at] == 0xFF:
        at += 1
    if at >= len(data) or data[at] in (0x00, 0xD8, 0xD9):
        raise BadPhoto
    return data[at], at + 1


def _word(data: bytes, at: int) -> int:
    if at + 2 > len(data):
        raise BadPhoto
    return int.from_bytes(data[at : at + 2], "big")


def _frame(body: bytes) -> Jpeg:
    if len(body) < 6:
        raise BadPhoto
    bits, height, width, components = struct.unpack(">BHHB", body[:6])
    if bits != 8 or not width or not height or components not in (1, 3, 4):
        raise BadPhoto
    return Jpeg(width, height, components)
