"""The customer summary: the ground, what was found and done, how it has gone, photos, aftercare, the
working."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, Spacer

from logic.report import style
from logic.report.care import care_block
from logic.report.charts import Chart, ChartFlowable, values_text
from logic.report.content import ReadingsMap, Section, SummaryData
from logic.report.done import agreed_block, done_block
from logic.report.paper import Progress, Watch
from logic.report.photos import Photo, PhotoFlowable, pairs
from logic.report.profile import ProfileFlowable
from logic.report.signature import signed
from logic.report.sketch import SketchFlowable
from logic.report.working import working
from logic.report.writer import PLAIN, Writer, table
from logic.units import nominal, quantity, spread, text_of


def summary(data: SummaryData, progress: Progress | None = None, watch: Watch | None = None) -> bytes:
    """The customer summary as a PDF file. The same data give the same bytes.

    progress: called with the name of the stage ("layout", "pages", "done") and the share done of it [0..1].
    """
    return SummaryWriter(data).file(progress, watch)


def unprintable(data: Any) -> tuple[str, ...]:
    """The characters in what people typed that the font lacks: they come out as a box. data: with `texts`."""
    ink = style.ink()
    for text in data.texts:
        ink.plain(text)
    return ink.missing


class SummaryWriter(Writer):
    """The story of the summary."""

    def __init__(self, data: SummaryData) -> None:
        super().__init__(data)
        self.data = data
        self.title = self.words.title

    def body(self) -> Iterator[Flowable]:
        """The ground first, the working last."""
        data, words = self.data, self.words
        yield from self._ground()
        yield from self._sections(words.found, "", data.findings, numbered=False)
        yield from self._maps()
        yield from self._core()
        yield from self._sections(words.works, words.works_margin, data.works, numbered=True)
        yield from done_block(self, data.done)
        yield from agreed_block(self, data.agreed)
        yield from self._photos()
        yield from self._charts()
        if data.notes.strip():
            yield from self.heading(words.notes)
            yield self.p(data.notes)
        if data.care:
            yield CondPageBreak(150)
            yield from self.heading(words.aftercare)
            yield from care_block(self, data.care, style.STRONG, style.FACT)
        else:
            yield from self.bullets(words.aftercare, data.aftercare)
        if data.signature:
            yield KeepTogether(list(signed(self, data.signature)))
        sentences = [*(c.sentence for c in data.cautions), words.cautions_general]
        yield from self.bullets(words.cautions, sentences)
        if data.working:
            parts = [(words.ground, data.outline.figures)]
            parts += [(section.name, section.figures) for section in data.findings]
            parts += [(f"{n}  {work.name}", work.figures) for n, work in enumerate(data.works, start=1)]
            yield from working(self, parts, data.confidence)

    def _ground(self) -> Iterator[Flowable]:
        data, words, outline = self.data, self.words, self.data.outline
        wide = self.page.measure
        drawing = SketchFlowable(outline, wide * 0.62, 235, data.system)
        side: list[Flowable] = [self.tile(outline.area, wide * 0.34, 17.0), Spacer(0, 6)]
        side += [self.pair_table([outline.perimeter, outline.longest_run], wide * 0.34)]
        side += [Spacer(0, 8), self.p(data.method, style.SMALL), self.p(self._margin(), style.SMALL)]
        side += [self.p(warning, style.SMALL) for warning in outline.warnings]
        caption = words.sketch_scale.format(ratio=f"{drawing.sketch.ratio:.4g}")
        if drawing.sketch.left_off:
            caption += words.sketch_left_off.format(count=drawing.sketch.left_off)
        block = table([[[drawing, self.p(caption, style.SMALL)], side]], [wide * 0.66, wide * 0.34], PLAIN)
        yield KeepTogether([*self.heading(words.ground), block])

    def _margin(self) -> str:
        area = self.data.outline.area
        value, margin = area.value.magnitude, spread(area.value.magnitude)
        if margin == 0:
            return self.words.no_margin
        low, high = (
            text_of(quantity(nominal(value) + sign * margin, area.unit), self.data.system, 4)
            for sign in (-1, 1)
        )
        return self.words.margin.format(low=low, high=high)

    def _sections(
        self, title: str, remark: str, sections: Sequence[Section], numbered: bool
    ) -> Iterator[Flowable]:
        if not sections:
            return
        yield CondPageBreak(90)
        yield from self.heading(title)
        if remark:
            yield self.p(remark, style.SMALL)
        for number, section in enumerate(sections, start=1):
            name = f"{number}  {section.name}" if numbered else section.name
            notes = [self.p(note, style.SMALL) for note in section.notes]
            first = [*self.heading(name, 1), *self.tiles(section.shown), *notes[:3]]
            yield KeepTogether(first)
            yield from notes[3:]

    def _maps(self) -> Iterator[Flowable]:
        """The ground with what was found where, two maps beside each other."""
        wide = (self.page.measure - self.page.gap) / 2
        shown = [one for one in self.data.maps if one.spots]
        for start in range(0, len(shown), 2):
            first = self.heading(self.words.map, 1) if start == 0 else []
            cells: list[Any] = [self._map(one, wide) for one in shown[start : start + 2]]
            row = [cells[0], "", cells[1] if len(cells) > 1 else ""]
            yield KeepTogether([*first, table([row], [wide, self.page.gap, wide], PLAIN)])
            yield Spacer(0, 6)

    def _map(self, one: ReadingsMap, wide: float) -> list[Flowable]:
        spots = tuple(replace(spot, text=self.ink.line(spot.text)) for spot in one.spots)
        bare = replace(self.data.outline, dimensions=())
        return [self.p(one.title, style.STRONG), SketchFlowable(bare, wide, 165, self.data.system, spots)]

    def _core(self) -> Iterator[Flowable]:
        if not self.data.core:
            return
        layers = [replace(layer, name=self.ink.line(layer.name)) for layer in self.data.core]
        drawing = ProfileFlowable(layers, self.page.measure * 0.6, 170, self.data.system, self.words)
        yield KeepTogether([*self.heading(self.words.core, 1), drawing])

    def _charts(self) -> Iterator[Flowable]:
        """The charts, two beside each other."""
        wide = (self.page.measure - self.page.gap) / 2
        shown = [chart for chart in self.data.charts if chart.points]
        for start in range(0, len(shown), 2):
            first = self.heading(self.words.charts) if start == 0 else []
            cells: list[Any] = [self._chart(one, wide) for one in shown[start : start + 2]]
            row = [cells[0], "", cells[1] if len(cells) > 1 else ""]
            yield KeepTogether([*first, table([row], [wide, self.page.gap, wide], PLAIN)])
            yield Spacer(0, 8)

    def _chart(self, chart: Chart, wide: float) -> list[Flowable]:
        system, words = self.data.system, self.words
        lines: list[Flowable] = [self.p(chart.title, style.STRONG), Spacer(0, 4)]
        lines.append(ChartFlowable(chart, wide, 120, system, words))
        lines.append(self.p(values_text(chart, system, words), style.SMALL))
        return [*lines, self.p(chart.note, style.SMALL)] if chart.note else lines

    def _photos(self) -> Iterator[Flowable]:
        wide = (self.page.measure - self.page.gap) / 2
        for number, (one, other) in enumerate(pairs(self.data.photos)):
            first = self.heading(self.words.photos) if number == 0 else []
            cells = [[self._photo(one, wide), "", self._photo(other, wide) if other else ""]]
            yield KeepTogether([*first, table(cells, [wide, self.page.gap, wide], PLAIN)])
            yield Spacer(0, 8)

    def _photo(self, photo: Photo, wide: float) -> list[Flowable]:
        when = {"before": self.words.before, "after": self.words.after}.get(photo.when, "")
        day = self.words.day(photo.day) if photo.day else ""
        head = ", ".join(t for t in (when, day) if t)
        lines: list[Flowable] = [self.p(head, style.STRONG)] if head else []
        lines.append(PhotoFlowable(photo, wide, 200, self.words))
        if photo.caption.strip():
            lines += [Spacer(0, 3), self.p(photo.caption, style.SMALL)]
        return lines
