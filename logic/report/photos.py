"""Photos on paper: JPEG bytes put into the file as they are, the right way up, in pairs of before and
after."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from reportlab.pdfbase.pdfdoc import PDFImageXObject
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from logic.report.jpeg import BadPhoto, Jpeg, LargePhoto, read_jpeg
from logic.report.pairs import couples
from logic.report.style import FONT, QUIET, RULE, TINT
from logic.report.words import Words


@dataclass(frozen=True)
class Photo:
    """A photo: JPEG bytes, a caption, the day, whether it was taken before or after the work, and what it
    shares with the one that it belongs beside."""

    data: bytes
    caption: str = ""
    day: date | None = None
    when: Literal["before", "after", ""] = ""
    pair: str = ""


def problem_of(photo: Photo) -> str:
    """The sentence on a photo that can't be printed, "" when it can."""
    try:
        read_jpeg(photo.data)
    except BadPhoto as bad:
        return bad.sentence
    return ""


def pairs(photos: Sequence[Photo]) -> list[tuple[Photo, Photo | None]]:
    """Photos two by two (see logic.report.pairs)."""
    return couples(photos, lambda photo: photo.when, lambda photo: photo.pair)


class PhotoFlowable(Flowable):  # type: ignore[misc]
    """A photo fitted into width × height points; one that can't be printed leaves a frame that says so."""

    def __init__(self, photo: Photo, width: float, height: float, words: Words) -> None:
        super().__init__()
        self.photo, self.words = photo, words
        self.problem, self.jpeg = "", Jpeg(4, 3, 3)
        try:
            self.jpeg = read_jpeg(photo.data)
        except LargePhoto:
            self.problem = words.photo_too_large
        except BadPhoto:
            self.problem = words.photo_unreadable
        wide, high = self.jpeg.upright
        scale = min(width / wide, height / high)
        self.width, self.height = wide * scale, high * scale

    def draw(self) -> None:
        """Called by reportlab with the canvas at the lower left corner."""
        canvas = self.canv
        if self.problem:
            canvas.setFillColor(TINT)
            canvas.setStrokeColor(RULE)
            canvas.rect(0, 0, self.width, self.height, stroke=1, fill=1)
            canvas.setFillColor(QUIET)
            canvas.setFont(FONT, 8)
            canvas.drawCentredString(self.width / 2, self.height / 2 - 3, self.problem)
            return
        canvas.saveState()
        canvas.transform(*_placing(self.jpeg.orientation, self.width, self.height))
        _embed(canvas, self.photo.data, self.jpeg)
        canvas.restoreState()


_COLOURS = {1: "DeviceGray", 3: "DeviceRGB", 4: "DeviceCMYK"}
#: Where the stored picture's corners (1, 0), (0, 1) and (0, 0) go, in parts of the frame.
_CORNERS = {
    1: (1, 0, 0, 1, 0, 0),
    2: (-1, 0, 0, 1, 1, 0),
    3: (-1, 0, 0, -1, 1, 1),
    4: (1, 0, 0, -1, 0, 1),
    5: (0, -1, -1, 0, 1, 1),
    6: (0, -1, 1, 0, 0, 1),
    7: (0, 1, 1, 0, 0, 0),
    8: (0, 1, -1, 0, 1, 0),
}


def _placing(orientation: int, width: float, height: float) -> tuple[float, ...]:
    a, b, c, d, e, f = _CORNERS[orientation]
    return (a * width, b * height, c * width, d * height, e * width, f * height)


def _embed(canvas: Canvas, data: bytes, read: Jpeg) -> None:
    """Draw the JPEG into the unit square. The same photo twice is stored once."""
    name = hashlib.sha256(data).hexdigest()[:24]
    document = canvas._doc
    registered = document.getXObjectName(name)
    if registered not in document.idToObject:
        image = PDFImageXObject(name)
        image.width, image.height, image.bitsPerComponent = read.width, read.height, 8
        image.colorSpace = _COLOURS[read.components]
        if read.components == 4:
            image._dotrans = 1  # CMYK of a JPEG is stored upside down
        image.streamContent, image._filters = data, ("DCTDecode",)
        image.name = name
        canvas._setXObjects(image)
        document.Reference(image, registered)
        document.addForm(name, image)
        canvas.images[registered] = data
    canvas._currentPageHasImages = 1
    canvas.doForm(name)
