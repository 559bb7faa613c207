"""The sizes that budgets afford: what grows with the pairs, with the pitches and widths it may have."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

from constraints.brief import Brief, Span
from constraints.edgings.outer_side import reach
from constraints.forms import LARGEST_HALF_SIZE, Form, Frame, Rectangle, Square, Strip
from constraints.square_sizes import sizes, square_of
from constraints.thread import wraps_per_cm
from explore.asking.designs import measured_as
from explore.search.frames.measures import NARROWEST_BAND, forms_of, further
from explore.search.sizing import SIZING
from explore.search.strips.measures import FEWEST_COLUMNS, columns_of

# Every measure is tried up to the first of these, beyond it every fourth, beyond the second every sixteenth.
_EVERY, _FOURTH = 48, 128
# So many rows a sheet and a table have, if she does not say.
_ROWS = 10
_STRIDES = (1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80)


@dataclass(frozen=True)
class AffordedSize:
    """Pieces of one measure, the pairs they take and the pitches they may have, mm.

    measure: what `MEASURES` tells of the form. units: how wide they are, half pitches, fans
    and scallops in their full width; a frame's band. alone: the brief
    for them and no others, but for the pitch.
    """

    measure: int
    pairs: int
    pitch_mm: Span
    units: float
    alone: Brief = field(compare=False, repr=False)

    @property
    def width_mm(self) -> Span:
        """Least and greatest finished width."""
        return round(self.units / 2 * self.pitch_mm[0], 4), round(self.units / 2 * self.pitch_mm[1], 4)

    @property
    def wraps(self) -> Span:
        """Wraps per cm of the thread for the finest pitch and for the coarsest."""
        return wraps_per_cm(self.pitch_mm[0]), wraps_per_cm(self.pitch_mm[1])

    @property
    def brief(self) -> Brief:
        """The brief for these pieces alone, in the middle of their pitches."""
        pitch = round(sum(self.pitch_mm) / 2, 5)
        return self.alone.changed(pairs=self.pairs, pitch_mm=(pitch, pitch))


@dataclass(frozen=True)
class Measure:
    """What of a form grows with the pairs. told: its name. words: a sentence's part, such as "a band of {}".

    every: the sizes that so many pairs can work, the smallest first.
    """

    told: str
    words: str
    every: Callable[[Brief], Iterator[AffordedSize]]

    def said(self, span: str) -> str:
        """A measure, or from which to which it is, in words."""
        return self.words.format(span)


def affordable(brief: Brief, pairs: int) -> tuple[AffordedSize, ...]:
    """The sizes that so many pairs can work under the brief, smallest first; empty if there is none.

    Of squares with a width each half-size has its own pitch, else each has all pitches of the brief.
    """
    most = brief.changed(pairs=pairs)
    found = {each.measure: each for each in MEASURES[brief.piece.form].every(most) if each.pairs <= pairs}
    return tuple(found[measure] for measure in sorted(found))


def measure_of(brief: Brief) -> Measure:
    """What of the brief's form grows with the pairs."""
    return MEASURES[brief.piece.form]


def _squares(brief: Brief) -> Iterator[AffordedSize]:
    if brief.piece.width_mm is not None:  # each pitch gives its half-size
        every = brief
    else:
        every = brief.changed(half_size=brief.piece.half_size or (1, LARGEST_HALF_SIZE))
    for size in sizes(every):
        form = square_of(brief.piece, size.half_size)
        assert form is not None
        of_width = brief.piece.width_mm is not None
        alone = brief if of_width else brief.changed(half_size=(size.half_size, size.half_size))
        pitch = (size.pitch_mm, size.pitch_mm) if of_width else brief.piece.pitch_mm
        yield AffordedSize(size.half_size, size.pairs, pitch, _wide(form), alone)


def _strips(brief: Brief) -> Iterator[AffordedSize]:
    """Of every length of the repeat that the brief allows."""
    named = brief.piece.columns
    for columns in [named] if named is not None else range(FEWEST_COLUMNS, columns_of(brief) + 1):
        alone = brief.changed(columns=columns)
        forms = [] if SIZING[Strip.name].conflict(alone) else SIZING[Strip.name].allowed(alone)
        if forms:
            yield _afforded(columns, forms[-1], alone, _wide(forms[-1]))


def _frames(brief: Brief) -> Iterator[AffordedSize]:
    """Of the half-size she names, with every band, or as a search takes them for so many pairs, the wider bands too."""
    if brief.piece.names_side and brief.piece.band is None:
        widest = max((form.half_side for form in _allowed(brief.changed(band=NARROWEST_BAND))), default=0)
        briefs = [brief.changed(band=band) for band in range(NARROWEST_BAND, widest)]
        forms = [form for each in briefs for form in forms_of(each)]
    else:
        forms = [form for each in _by_pairs(brief) for form in (*forms_of(each), *further(each))]
    for form in forms:
        yield _afforded(form.deep, form, measured_as(brief, form), form.deep + reach(form.headside))


def _rectangles(brief: Brief) -> Iterator[AffordedSize]:
    """As a search takes them for so many pairs: where she leaves the height open, of every height that it tries."""
    for form in (form for each in _by_pairs(brief) for form in forms_of(each)):
        half = form.half_width
        one_height = brief.piece.half_height is not None or brief.piece.height_mm is not None
        own = measured_as(brief, form)
        yield _afforded(half, form, own if one_height else own.changed(half_height=None), _wide(form))


def _wide(form: Form) -> float:
    left, _, right, _ = form.bounds
    return right - left


def _by_pairs(brief: Brief) -> list[Brief]:
    """The brief with every number of pairs up to its own where they give the size."""
    named = SIZING[brief.piece.form].named(brief)
    return [brief] if named else [brief.changed(pairs=pairs) for pairs in range(2, brief.rules.pairs + 1)]


def _allowed(brief: Brief) -> Sequence[Form]:
    return SIZING[brief.piece.form].allowed(brief)


def _afforded(measure: int, form: Form, alone: Brief, units: float) -> AffordedSize:
    pairs = form.pairs(alone.piece.first_way, alone.piece.passives)
    return AffordedSize(measure, pairs, alone.piece.pitch_mm, units, alone)


MEASURES: dict[str, Measure] = {
    Square.name: Measure("half-size", "half-size {}", _squares),
    Strip.name: Measure("columns", "{} columns", _strips),
    Frame.name: Measure("band", "a band of {}", _frames),
    Rectangle.name: Measure("half-size", "half-size {}", _rectangles),
}


def worked_out(every: Sequence[AffordedSize]) -> tuple[AffordedSize, ...]:
    """Those that are worked out: all small ones and a grid of the large; always the smallest.

    Which these are does not depend on the budgets asked for, so neither does what is told of a budget.
    """
    return tuple(each for number, each in enumerate(every) if number == 0 or _on_grid(each.measure))


def _on_grid(measure: int) -> bool:
    if measure <= _EVERY:
        return True
    return measure % (4 if measure <= _FOURTH else 16) == 0


def rows(budgets: tuple[int, int], every: int | None) -> tuple[int, ...]:
    """The budgets that have a row of their own: every so many, the greatest always among them."""
    least, most = budgets
    count = most - least + 1
    stride = every or next((s for s in _STRIDES if -(-count // s) <= _ROWS), -(-count // _ROWS))
    return (*range(least, most, stride), most)
