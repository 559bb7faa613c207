"""A plot of what rises with a number of pairs: steps over one axis of pairs, drawn on a page in millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from constraints.stamp import Stamp
from gallery.paper.page import PAPERS, Type, house_rules, new_page, put_text
from gallery.paper.paths import Pencil, lines, rings
from gallery.sheets.chart import Chart, Stair, StairsPanel
from gallery.sheets.grid import MARGIN, PAPER_DOTS
from gallery.sheets.heading import HEADER, Heading
from gallery.sheets.stairs import Scale, below, marks, runs, treads

# All in millimetres: room for the names at the left and for what is told at the right.
_LEFT, _RIGHT = 34.0, 40.0
_GAP, _STRIP, _BAR, _FOOT = 9.0, 4.6, 6.0, 13.0
_SMALL, _PLAIN, _BOLD = Type(6.5, colour="#5d626c"), Type(7.5), Type(8.5, bold=True)
_RULE, _PALE, _INK = "#dfe1e5", "#eceef1", "#2a2d33"
# From one baseline of small print to the next.
_LINE = 3.2


def plot(chart: Chart, stamps: Sequence[Stamp] = ()) -> Figure:
    """The plot on a page of A4, lying."""
    with house_rules():
        height, width = PAPERS["a4"]
        figure, axes = new_page(width, height, PAPER_DOTS)
        Heading(chart.title, chart.note, tuple(stamps)).draw(axes, width)
        sheet = _Sheet(axes, chart, MARGIN + _LEFT, width - MARGIN - _RIGHT)
        top = MARGIN + HEADER + 4.0
        bottom = height - MARGIN - _FOOT
        if chart.panel is None:  # the bars are all there is
            top += _GAP
            bottom = top + _BAR * len(chart.bars)
        sheet.rules(top, bottom)
        sheet.closed(top, bottom)
        if chart.panel is not None:
            strips = _STRIP * len(chart.panel.stairs) + _GAP
            tall = bottom - top - strips - _BAR * len(chart.bars)
            sheet.panel(chart.panel, top, tall)
            top += tall + strips
        sheet.bars(top)
        sheet.foot(bottom)
        return figure


@dataclass(frozen=True, eq=False)
class _Sheet:
    """A page and where the pairs stand on it. left, right: of the first pair's tread and of the last one's, mm."""

    axes: Axes
    chart: Chart
    left: float
    right: float

    @property
    def step(self) -> float:
        return (self.right - self.left) / len(self.chart.pairs)

    def x(self, pairs: float) -> float:
        """Where a tread begins; pairs + 0.5 is its middle."""
        return self.left + (pairs - self.chart.pairs[0]) * self.step

    def line(self, points: Sequence[tuple[float, float]], weight: float, colour: str, **style: Any) -> None:
        Pencil(self.axes).stroke(lines(np.array([points])), weight, colour, **style)

    def box(self, x0: float, y0: float, x1: float, y1: float, colour: str) -> None:
        Pencil(self.axes).fill(rings([np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])]), colour, zorder=0.5)

    def text(self, x: float, y: float, words: str, style: Type, align: str = "left") -> None:
        put_text(self.axes, x, y, words, style, align)

    def rules(self, top: float, bottom: float) -> None:
        """An upright rule at every named number of pairs."""
        for pairs, _ in self.chart.named:
            self.line([(self.x(pairs + 0.5), top), (self.x(pairs + 0.5), bottom)], 0.15, _RULE, zorder=0.4)

    def closed(self, top: float, bottom: float) -> None:
        for first, last, _ in runs(self.chart.closed, [0] * len(self.chart.closed)):
            x0, x1 = self.x(first), self.x(last + 1)
            self.box(x0, top, x1, bottom, _PALE)
            if _SMALL.width(self.chart.closed_words) < x1 - x0 - 2.0:
                self.text((x0 + x1) / 2, top + 6.0, self.chart.closed_words, _SMALL, "center")

    def panel(self, panel: StairsPanel, top: float, tall: float) -> None:
        least = below([value for stair in panel.stairs for value in stair.values], 1.0)
        base = top + tall

        def y(value: float) -> float:
            return base - (value - least) / (1.0 - least) * tall

        self.text(self.left - _LEFT, top - 2.6, panel.title, _BOLD)
        for value in marks(least, 1.0):
            self.line([(self.left, y(value)), (self.right, y(value))], 0.15, _RULE, zorder=0.4)
            self.text(self.left - 2.0, y(value) + 0.8, f"{value:g}", _SMALL, "right")
        self._mark(self.chart.mark, top, base, self.left - _LEFT + _BOLD.width(panel.title) + 3.0)
        for stair in panel.stairs:
            for points in treads([self.x(n) for n in self.chart.pairs], self.step, stair.values, y):
                self.line(points, stair.weight, stair.colour, joinstyle="miter", zorder=3)
        self._names(panel, y, base)
        for number, stair in enumerate(panel.stairs):
            self._strip(stair, base + 1.2 + number * _STRIP, panel.measured, several=len(panel.stairs) > 1)

    def _mark(self, pairs: int | None, top: float, base: float, free: float) -> None:
        """The mark and its words above the panel, right of `free`."""
        style = Type(7.5, colour="#7d5420")
        x = self.right if pairs is None else self.x(max(pairs, self.chart.pairs[0]))
        if pairs is not None:
            self.box(self.x(max(self.chart.closed, default=self.chart.pairs[0] - 1) + 1), top, x, base, "#f4f1ec")
            self.line([(x, top), (x, base)], 0.35, "#9a6b2f", linestyle=(0, (4, 3)), zorder=2)
        if max(x, free) + style.width(self.chart.mark_words) <= self.right:
            self.text(max(x, free), top - 1.2, self.chart.mark_words, style)
        else:
            self.text(x, top - 1.2, self.chart.mark_words, style, "right")

    def _names(self, panel: StairsPanel, y: Scale, base: float) -> None:
        """The stairs by name at their ends, kept apart."""
        ends = [(y(stair.values[-1]), stair) for stair in panel.stairs if stair.values[-1] is not None]
        line = 3.4
        taken = base + line
        for height, stair in sorted(ends, key=lambda end: -end[0]):
            at = min(height + 0.9, taken - line)
            taken = at
            value = stair.values[-1]
            assert value is not None
            words = Type(7.5, bold=True, colour=stair.colour).fitted(f"{value:.2f} {stair.name}", _RIGHT - 2.0)
            self.text(self.right + 2.0, at, words, Type(7.5, bold=True, colour=stair.colour))

    def _strip(self, stair: Stair, top: float, measured: str, several: bool) -> None:
        """At which measure the value stands, named where it changes."""
        base = top + 3.1
        style = Type(6.5, colour=stair.colour)
        words = f"{measured}, {stair.name}" if several else measured
        self.text(self.left - 2.0, base, style.fitted(words, _LEFT - 2.0), style, "right")
        free = self.left
        for first, last, measure in runs(self.chart.pairs, stair.at):
            x0, x1 = self.x(first), self.x(last + 1)
            words = str(measure)
            self.line([(x0 + 0.35, top + 3.7), (x1 - 0.35, top + 3.7)], 0.25, stair.colour, alpha=0.5, capstyle="butt")
            wide = style.width(words)
            at = max(free, (x0 + x1 - wide) / 2 if x1 - x0 < 3 * wide else x0 + 0.5)
            if at + wide <= max(x1, x0 + wide + 0.2) and at + wide <= self.right:
                self.text(at, base, words, style)
                free = at + wide + 0.8

    def bars(self, top: float) -> None:
        if self.chart.bars:
            self.text(self.left - _LEFT, top - 2.6, self.chart.bars_title, _BOLD)
        for number, bar in enumerate(self.chart.bars):
            y0, y1 = top + number * _BAR + 1.0, top + (number + 1) * _BAR - 0.6
            middle = (y0 + y1) / 2 + 0.9
            self.text(self.left - 2.0, middle, bar.name, _PLAIN, "right")
            self.box(self.left, y0, self.right, y1, _PALE)
            for first, strength in ((bar.partly, 0.35), (bar.whole, 1.0)):
                if first is not None and first <= self.chart.pairs[-1]:
                    x = self.x(max(first, self.chart.pairs[0]))
                    self.box(x, y0, self.right, y1, _tinted(bar.colour, strength))
            self.text(self.right + 2.0, middle, _PLAIN.fitted(bar.words, _RIGHT - 2.0), _PLAIN)

    def foot(self, top: float) -> None:
        """The pairs below all, and under each of them what is told of it."""
        self.line([(self.left, top), (self.right, top)], 0.3, _INK)
        below = [top + 4.2 + _LINE * number for number in range(1 + len(self.chart.under))]
        # The first of them may reach out to the left, and what they are stands clear of it.
        widths = [_BOLD.width(words) for pairs, told in self.chart.named[:1] for words in (str(pairs), *told)]
        edge = self.left - 2.0 - max(0.0, (max(widths, default=0.0) - self.step) / 2)
        self.text(edge, below[0], "pairs", _PLAIN, "right")
        for y, words in zip(below[1:], self.chart.under, strict=True):
            self.text(edge, y, words, _SMALL, "right")
        for pairs, told in self.chart.named:
            x = self.x(pairs + 0.5)
            self.line([(x, top), (x, top + 1.0)], 0.3, _INK)
            for y, words in zip(below, (str(pairs), *told), strict=True):
                style = _BOLD if y == below[0] else _SMALL
                self.text(x - style.width(words) / 2, y, words, style)


def _tinted(colour: str, strength: float) -> str:
    """A colour thinned with white."""
    parts = [int(colour[place : place + 2], 16) for place in (1, 3, 5)]
    return "#" + "".join(f"{round(255 - strength * (255 - part)):02x}" for part in parts)
