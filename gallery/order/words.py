"""The order of work in a lacemaker's words, as lines that a text file and a page set alike."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate, groupby

from constraints.flow import START_LINES
from constraints.piece import BOTTOM, LEFT, RIGHT, ROUND, TOP
from constraints.working.ends import FRINGE, KNOTS, PLAITS, Ends, ends_of
from constraints.working.numbers import number_at
from constraints.working.steps import Step, steps_of
from constraints.working.work import Work
from gallery.order.steps import alike, block_numbers, listed, run, words_of
from gallery.order.stitches import stitch_lines

TITLE, HEADING, TEXT, STEP = "title", "heading", "text", "step"

# Worked across, a section of the order has about so many pins.
_SECTION = 150
_QUARTERS = {LEFT: "left", BOTTOM: "bottom", RIGHT: "right", TOP: "top"}
_LOOPS = "and leave their loops open, as long as the gap was: the end of the lace is sewn into them."
_SWAPPED = {"left": "right", "right": "left"}


@dataclass(frozen=True)
class Line:
    """A line before it is broken. kind: TITLE, HEADING, TEXT or STEP. number: of a step, else 0."""

    kind: str
    words: str
    number: int = 0


@dataclass(frozen=True)
class Telling:
    """How it is told. name: the title. mirrored: with the footside on the right. finish: one of FINISHES."""

    name: str
    mirrored: bool = False
    finish: str = KNOTS

    def side(self, side: str) -> str:
        """Left or right as she sees it."""
        return _SWAPPED.get(side, side) if self.mirrored else side


def order_lines(work: Work, telling: Telling) -> list[Line]:
    """The whole order of work: head, hanging on, the steps quarter by quarter, finishing."""
    steps, ends = steps_of(work), ends_of(work)
    return [
        *_head(work, telling),
        *_hanging(work, ends, telling),
        *_sections(work, steps, telling),
        *_finishing(work, ends, telling),
    ]


# --- head ------------------------------------------------------------------------------------------------


def _head(work: Work, telling: Telling) -> Iterator[Line]:
    square = work.square
    width = f"{square.width_mm:g} mm"
    yield Line(TITLE, telling.name)
    round_ = square.worked == ROUND
    manner = f"worked round from {_start(work, telling)}" if round_ else "worked across from the top"
    side = telling.side("left")
    footside = f"The footside is on the {side}" if round_ else f"Pairs are counted from the footside on the {side}"
    yield Line(
        TEXT,
        f"A square {width} by {width} at a pitch of {square.pitch_mm:g} mm, {manner}. {square.pairs} pairs "
        f"({2 * square.pairs} bobbins), {len(work.pins)} pins; {_passives(square.passives, round_)}. {footside}.",
    )
    often = "four" if work.start_row is not None else "three"
    turns = f", and the pillow is turned {often} times" if round_ else ""
    yield Line(HEADING, "How to read it")
    yield Line(
        TEXT,
        "Pins are numbered in the order in which they are put up. Pairs are counted from the footside, as they lie at "
        "that moment: the edge pair is pair 1, its passives come next. Sides are as you see "
        "them, with the work running towards you.",
    )
    yield Line(
        TEXT,
        "The rule of order: finish what is begun, a block, a spider, a rose; then go on down the diagonal; then take "
        f"the nearest that is ready in the same {'quarter' if round_ else 'part of the lace'}. By it the hands change "
        f"their place {work.order.changes} times{turns}.",
    )
    near, far = telling.side("left"), telling.side("right")
    yield Line(
        TEXT,
        f"A diagonal is told by its pins and the two pairs of its first one: 41\N{EN DASH}45 (8, 9) begins at pin 41 "
        f"with pairs 8 and 9 and goes down to the {near}, every next pin with the pairs one nearer to the footside: "
        f"pin 42 with 7 and 8. One that goes down to the {far} takes them one farther in. An f after a pin marks a pin "
        "of the footside; where one stands first, the pairs are the edge pair and the one that comes out to it.",
    )
    yield Line(HEADING, "The stitches")
    for words in stitch_lines(work, telling.side):
        yield Line(TEXT, words)


def _start(work: Work, telling: Telling) -> str:
    """Where a round begins."""
    if work.start_row is None:
        corner = "-".join(telling.side(part) for part in work.square.start.split("-"))
        return f"the start line at the {corner} corner"
    quarter = telling.side(_QUARTERS[START_LINES[work.square.start][1]])
    if not work.start_row:
        return f"a horizontal start line through the middle of the {quarter} quarter"
    past = "past" if work.start_row > 0 else "before"
    rows = f"{abs(work.start_row)} {'row' if abs(work.start_row) == 1 else 'rows'}"
    return f"a horizontal start line in the {quarter} quarter, {rows} {past} its middle"


def _passives(count: int, one_edge: bool) -> str:
    where = "footside" if one_edge else "footside at either edge"
    return f"{where} of cloth with {count} {'passive' if count == 1 else 'passives'}" if count else f"twisted {where}"


# --- both ends -------------------------------------------------------------------------------------------


def _hanging(work: Work, ends: Ends, telling: Telling) -> Iterator[Line]:
    yield Line(HEADING, "Hang on the pairs")
    edge = _edge_pairs(work.square.passives)
    if work.square.worked == ROUND and work.start_row is not None:
        yield Line(TEXT, _level(work, ends, edge))
        return
    if work.square.worked == ROUND and work.habits.corner_pins:
        yield Line(
            TEXT,
            f"Put up pin 1 at the corner itself and hang {edge} round it. Put {len(ends.hung) - 1} false pins on the "
            "start line, one wherever two pinholes face each other across it, and hang one pair on each. When the "
            f"first diagonals hold, take the false pins out {_LOOPS} Pin 1 stays.",
        )
        return
    if work.square.worked == ROUND:
        yield Line(
            TEXT,
            f"Put {len(ends.hung)} false pins on the start line, one wherever two pinholes face each other across it. "
            "From the corner inwards hang "
            f"{len(ends.hung[0].lengths)} pairs on the first ({edge}, then a pair of the ground) and one pair on each "
            f"other. When the first diagonals hold, take the false pins out {_LOOPS}",
        )
        return
    yield Line(
        TEXT,
        f"Put a false pin half a pitch above every pin of the top edge ({len(ends.hung) - 2} of them) and hang two "
        f"pairs on each. Hang {edge} on a false pin half a pitch above the first pin of either side "
        f"({len(ends.hung[0].lengths)} and {len(ends.hung[-1].lengths)} pairs). When the pins below hold, take the "
        "false pins out and draw the loops down.",
    )


def _level(work: Work, ends: Ends, edge: str) -> str:
    """Hanging on along a horizontal start line."""
    zone = work.layout.piece.zone
    begun = [next(way for way, length in work.hung.items() if length == held.lengths[0]) for held in ends.hung]
    level = [zone[work.ways.head[way]] == zone[work.ways.tail[way]] for way in begun]
    more = len(level) - sum(level)
    first = len(ends.hung[0].lengths)
    what = f"hang {first} pairs on the first ({edge}, then a pair of the ground)"
    if first == 1 + work.square.passives:
        what = f"hang {edge} on the first"
    inner = (
        f" Where the line goes on inwards along the corner line, put {more} more, "
        "wherever two pinholes face each other across it, and hang one pair on each."
    )
    return (
        f"Put {sum(level)} false pins half a pitch above the pins of the first row, from the footside inwards: {what} "
        f"and two pairs on each other.{inner if more else ''} When the first rows hold, take the false pins out "
        f"{_LOOPS}"
    )


def _edge_pairs(passives: int) -> str:
    if not passives:
        return "the edge pair"
    return f"the edge pair and its {'passive' if passives == 1 else f'{passives} passives'}"


def _finishing(work: Work, ends: Ends, telling: Telling) -> Iterator[Line]:
    yield Line(HEADING, "Finish")
    if ends.sewings:
        yield Line(
            TEXT,
            f"The end meets the start line. Sew each pair into the loop of its own number: {len(ends.sewings)} sewings"
            ", pair 1 into the loop that pair 1 was hung with, and so on inwards. With a fine hook draw one thread of "
            "the pair through the loop, pass its other bobbin through, draw both up, and knot them twice.",
        )
        where = "corner" if work.start_row is None else "footside"
        yield Line(TEXT, f"Those of the first pin are sewn from the {where} inwards, one beside the other.")
    else:
        yield Line(TEXT, _last_edge(work, ends, telling))
    yield Line(
        TEXT,
        "Leave the lace on the pillow for a day, count the pins out again, and cut the threads when all is fast. "
        "Pins are sharp; rest eyes, neck and hands between the quarters of the work.",
    )


def _last_edge(work: Work, ends: Ends, telling: Telling) -> str:
    numbers = number_at(work)
    inner = [numbers[held.place] for held in ends.last[1:-1]]
    outer = [numbers[ends.last[0].place], numbers[ends.last[-1].place]]
    where = (
        f"All pairs end at the bottom edge: two at each of the pins {listed(inner)}, and at the outer pins {outer[0]} "
        f"and {outer[1]} {_edge_pairs(work.square.passives)}."
    )
    pairs = work.square.pairs
    how = {
        KNOTS: "Knot the two pairs of each pin with one another in a reef knot, close to the pin; knot those at "
        "the outer pins likewise.",
        PLAITS: "Plait the two pairs of each pin in half stitch (cross, twist) as long as you like, and knot the "
        "plait at its end; plait those at the outer pins likewise.",
        FRINGE: f"Knot the pairs of each pin once, close to the pin, and cut all {2 * pairs} threads to one length as "
        "a fringe.",
    }
    return f"{where} {how[telling.finish]}"


# --- sections --------------------------------------------------------------------------------------------


def _sections(work: Work, steps: Sequence[Step], telling: Telling) -> Iterator[Line]:
    called = block_numbers(steps)
    number, told = 0, set[int]()
    for section, (zone, group) in enumerate(groupby(steps, key=lambda step: step.zone)):
        held = list(group)
        pins = [pin for step in held for pin in step.pins]
        range_ = f"pins {run(pins)}" if pins else "no pins"
        if work.square.worked == ROUND:
            quarter = telling.side(_QUARTERS[zone])
            again = " again, up to the start line" if zone in told else ""
            told.add(zone)
            yield Line(HEADING, f"The {quarter} quarter{again}, {range_}")
            if section:
                way = "anticlockwise" if telling.mirrored else "clockwise"
                near = telling.side("left")
                yield Line(TEXT, f"Turn the pillow a quarter {way}: the {quarter} edge now lies on your {near}.")
        for together, begins in _in_sections(held, len(work.pins), work.square.worked == ROUND):
            if begins:
                yield Line(HEADING, begins)
            number += 1
            yield Line(STEP, words_of(work, together, called, telling.side), number)


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
