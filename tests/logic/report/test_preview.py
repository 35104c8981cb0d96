"""The preview on screen is the page of the file: the same words in the same places, by Poppler's reading."""

import pytest

from logic.report.preview import Lettering, Picture, Shape, preview
from tests.logic.report.papers import PAPERS
from tests.logic.report.test_papers import word_boxes


@pytest.mark.parametrize("name", PAPERS)
def test_words_stand_where_poppler_finds_them(name: str) -> None:
    make, data = PAPERS[name]
    file, sheets = preview(make, data())
    assert file == make(data())
    pages = word_boxes(file)
    assert len(pages) == len(sheets)
    for page, sheet in zip(pages, sheets, strict=True):
        letterings = [mark for mark in sheet.marks if isinstance(mark, Lettering)]
        spoken = sorted(word for mark in letterings for word in mark.text.split())
        assert spoken == sorted(word for *_, word in page)
        for mark in letterings:
            first = mark.text.split()[0]
            assert any(
                word == first and abs(left - mark.x) < 1.5 and top - 1 <= mark.y <= bottom + 1
                for left, top, _, bottom, word in page
            ), mark


def test_lines_and_photos_lie_on_the_page() -> None:
    make, data = PAPERS["summary"]
    _, sheets = preview(make, data())
    pictures = [mark for sheet in sheets for mark in sheet.marks if isinstance(mark, Picture)]
    assert [picture.data for picture in pictures] == [photo.data for photo in data().photos]
    for sheet in sheets:
        for mark in sheet.marks:
            if isinstance(mark, Shape):
                assert all(0 <= x <= sheet.width and 0 <= y <= sheet.height for x, y in mark.points)
    (left, top), (right, _), (_, low) = pictures[0].corners
    assert right > left
    assert low > top
    assert (right - left) / (low - top) == pytest.approx(640 / 480)
