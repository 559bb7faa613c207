"""The order of work in a lacemaker's words, as lines that a text file and a page set alike.

Its terms and turns of phrase are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate, groupby

from constraints.design import Design
from constraints.fillings import USUAL, largest_first
from constraints.flow import START_LINES
from constraints.piece import ROUND
from constraints.wording import shown
from constraints.working.ends import KNOTS, ends_of
from constraints.working.steps import Step, steps_of
from constraints.working.work import Work
from gallery import hands
from gallery.order.both_ends import finishing, hanging
from gallery.order.called import Called, called
from gallery.order.edges import counted_from, edges, far_edge, footsides, outline
from gallery.order.numbers import run
from gallery.order.repeats import Again, coming_again, often, told_once, words_of_again
from gallery.order.steps import alike, words_of
from gallery.order.stitches import stitch_lines

TITLE, HEADING, TEXT, STEP = "title", "heading", "text", "step"

# Worked across, a section of the order has about so many pins.
_SECTION = 150


@dataclass(frozen=True)
class TextLine:
    """A line before it is broken. kind: TITLE, HEADING, TEXT or STEP. number: of a step, else 0. boxes: to tick below
    it, one for each time that steps are worked again. steps: how many of the work's steps are done by it. again: the
    number of the first step that it has her work again, else 0."""

    kind: str
    words: str
    number: int = 0
    boxes: int = 0
    steps: int = 0
    again: int = 0


@dataclass(frozen=True)
class Telling:
    """How it is told. name: the title. mirrored: with the footside on the right. finish: one of FINISHES."""

    name: str
    mirrored: bool = False
    finish: str = KNOTS

    def side(self, side: str) -> str:
        """Left or right as she sees it."""
        return hands.swapped(side) if self.mirrored else side


def order_lines(work: Work, telling: Telling) -> list[TextLine]:
    """The whole order of work: head, hanging on, the steps quarter by quarter, finishing."""
    steps, ends = steps_of(work), ends_of(work)
    return [
        *_head(work, telling),
        TextLine(HEADING, "Hang on the pairs"),
        TextLine(TEXT, hanging(work, ends, telling)),
        *_sections(work, steps, telling),
        TextLine(HEADING, "Finish"),
        *(TextLine(TEXT, words) for words in finishing(work, ends, telling)),
    ]


# --- head ------------------------------------------------------------------------------------------------


def _head(work: Work, telling: Telling) -> Iterator[TextLine]:
    design = work.design
    yield TextLine(TITLE, telling.name)
    round_ = design.worked == ROUND
    manner = f"worked round from {_start(work, telling)}" if round_ else f"worked {_down(design)}"
    yield TextLine(
        TEXT,
        f"{outline(design).capitalize()} at a pitch of {shown(design.pitch_mm)} mm, {manner}. {design.pairs} pairs "
        f"({2 * design.pairs} bobbins), {len(work.pins)} pins; {edges(design, telling.side)}",
    )
    often = "four" if work.start_row is not None else "three"
    turns = f", and the pillow is turned {often} times" if round_ else ""
    yield TextLine(HEADING, "How to read it")
    edge, far = counted_from(design), far_edge(design)
    last = f"; the edge pair of the {far} is pair {design.pairs}, the last one" if far else ""
    yield TextLine(
        TEXT,
        f"Pins are numbered in the order in which they are put up. Pairs are counted from the {edge}, as they lie at "
        f"that moment: the edge pair is pair 1, its passives come next{last}. Sides are as you see "
        "them, with the work running towards you.",
    )
    yield TextLine(
        TEXT,
        f"The rule of order: finish what is begun, a block{_figures()}; then go on down the diagonal; then take "
        f"the nearest that is ready in the same {'quarter' if round_ else 'part of the lace'}. By it the hands change "
        f"their place {work.order.changes} times{turns}.",
    )
    yield TextLine(TEXT, _reading(work, telling))
    yield TextLine(HEADING, "The stitches")
    for words in stitch_lines(work, telling.side):
        yield TextLine(TEXT, words)


def _figures() -> str:
    return "".join(f", a {filling.one}" for filling in largest_first(USUAL))


def _reading(work: Work, telling: Telling) -> str:
    """How a diagonal is told."""
    near, far, edge = telling.side("left"), telling.side("right"), counted_from(work.design)
    words = (
        f"A diagonal is told by its pins and the two pairs of its first one: 41\N{EN DASH}45 (8, 9) begins at pin 41 "
        f"with pairs 8 and 9 and goes down to the {near}, every next pin with the pairs one nearer to the {edge}: "
        f"pin 42 with 7 and 8. One that goes down to the {far} takes them one farther in."
    )
    plain = " or ".join(f"the {name.replace(' and ', ' or the ')}" for name, _ in footsides(work.design))
    if plain:
        words += (
            f" An f after a pin marks a pin of {plain}; where one stands first, the pairs are the edge pair and "
            "the one that comes out to it."
        )
    if work.layout.piece.headside is not None and work.layout.piece.headside.valley_pins:
        words += " A v marks a valley pin, between two fans."
    return words


def _down(design: Design) -> str:
    return f"{design.form.phrases.way} from {design.form.phrases.top}"


def _start(work: Work, telling: Telling) -> str:
    """Where a round begins."""
    if work.start_row is None:
        return f"the start line at the {hands.corner(work.design.start, telling.side)} corner"
    quarter = telling.side(hands.QUARTERS[START_LINES[work.design.start][1]])
    if not work.start_row:
        return f"a horizontal start line through the middle of the {quarter} quarter"
    past = "past" if work.start_row > 0 else "before"
    rows = f"{abs(work.start_row)} {'row' if abs(work.start_row) == 1 else 'rows'}"
    return f"a horizontal start line in the {quarter} quarter, {rows} {past} its middle"


# --- sections --------------------------------------------------------------------------------------------


def _sections(work: Work, steps: Sequence[Step], telling: Telling) -> Iterator[TextLine]:
    names = called(work, steps)
    found = coming_again(steps, names) if work.design.form.repeating else None
    if found is not None:
        yield from _with_repeats(work, steps, names, found, telling)
        return
    number, told = 0, set[int]()
    for section, (zone, group) in enumerate(groupby(steps, key=lambda step: step.zone)):
        held = list(group)
        pins = [pin for step in held for pin in step.pins]
        range_ = f"pins {run(pins)}" if pins else "no pins"
        if work.design.worked == ROUND:
            quarter = telling.side(hands.QUARTERS[zone])
            again = " again, up to the start line" if zone in told else ""
            told.add(zone)
            yield TextLine(HEADING, f"The {quarter} quarter{again}, {range_}")
            if section:
                turn = "anticlockwise" if telling.mirrored else "clockwise"
                near = telling.side("left")
                yield TextLine(TEXT, f"Turn the pillow a quarter {turn}: the {quarter} edge now lies on your {near}.")
        if work.design.form.has_opening:
            lines = _side_once(work, held, names, telling, number)
        else:
            lines = _told(work, held, names, telling, number)
        for line in lines:
            number = max(number, line.number)
            yield line


def _told(work: Work, steps: Sequence[Step], names: Called, telling: Telling, number: int) -> Iterator[TextLine]:
    """Steps one after the other, the first with the number after the one given."""
    for together, begins in _in_sections(steps, len(work.pins), work.design.worked == ROUND):
        if begins:
            yield TextLine(HEADING, begins)
        number += 1
        yield _step(work, together, names, telling, number)


def _side_once(work: Work, steps: Sequence[Step], names: Called, telling: Telling, number: int) -> Iterator[TextLine]:
    """The side of a frame, what comes again and again along it told once."""
    for begin, end, again in told_once(steps, names):
        held = steps[begin : end if again is None else begin + again.end]
        first = number + 1
        for together in alike(held):
            number += 1
            yield _step(work, together, names, telling, number)
        if again is not None:
            pin = next(pin for step in held for pin in step.pins)
            yield _again(again, first, number, pin)


def _with_repeats(
    work: Work, steps: Sequence[Step], names: Called, found: Again, telling: Telling
) -> Iterator[TextLine]:
    """The steps of a strip, those that come again and again told once."""
    after = found.first + found.times * (found.end - found.first)
    parts = (
        ("The beginning", steps[: found.first]),
        (f"What comes {often(found.times)}", steps[found.first : found.end]),
        ("The end", steps[after:]),
    )
    number = 0
    for part, (heading, held) in enumerate(parts):
        pins = [pin for step in held for pin in step.pins]
        if held:
            yield TextLine(HEADING, f"{heading}, pins {run(pins)}" if pins else heading)
        first = number + 1
        for together in alike(held):
            number += 1
            yield _step(work, together, names, telling, number)
        if part == 1:
            yield _again(found, first, number, pins[0])


def _step(work: Work, together: Sequence[Step], names: Called, telling: Telling, number: int) -> TextLine:
    return TextLine(STEP, words_of(work, together, names, telling.side), number, steps=len(together))


def _again(again: Again, first: int, last: int, pin: int) -> TextLine:
    """Steps that are worked again, from those of the number `first` to `last`."""
    more = again.times - 1
    steps = more * (again.end - again.first)
    return TextLine(TEXT, words_of_again(again, first, last, pin), boxes=more, steps=steps, again=first)


def _in_sections(steps: Sequence[Step], pins: int, one: bool) -> Iterator[tuple[list[Step], str]]:
    """Steps alike, and the heading of the section that begins with them. one: of one section."""
    groups = list(alike(steps))
    before = accumulate((sum(len(step.pins) for step in group) for group in groups), initial=0)
    sections = 1 if one else max(1, round(pins / _SECTION))
    share = [count * sections // (pins + 1) for count in before][: len(groups)]
    for section, held in groupby(zip(share, groups, strict=True), key=lambda each: each[0]):
        first, *others = [group for _, group in held]
        numbers = [pin for group in (first, *others) for step in group for pin in step.pins]
        yield first, "" if one else f"{'The work' if not section else 'Further on'}, pins {run(numbers)}"
        for group in others:
            yield group, ""
