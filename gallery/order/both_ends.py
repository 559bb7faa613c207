"""Both ends of the work in words: how the pairs are hung on, how they are finished."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Protocol

from constraints.design import Design
from constraints.piece import LEFT_EDGE, RIGHT_EDGE, ROUND
from constraints.wording import shown
from constraints.working.ends import FRINGE, KNOTS, PLAITS, SEWINGS, Ends, Held
from constraints.working.numbers import number_at
from constraints.working.work import Work
from gallery.order.called import pin_at
from gallery.order.edges import edge_pairs
from gallery.order.numbers import listed

_LOOPS = "and leave their loops open, as long as the gap was: the end of the lace is sewn into them."
_HOOK = (
    "With a fine hook draw one thread of the pair through the loop, pass its other bobbin through, draw both up, and "
    "knot them twice."
)


class EndsContext(Protocol):
    """What must be known of the telling."""

    @property
    def finish(self) -> str: ...

    def side(self, side: str) -> str: ...


def hanging(work: Work, ends: Ends, telling: EndsContext) -> str:
    """How the pairs are hung on."""
    return _hung(work, ends, telling) + _true_pins(work, ends)


def _true_pins(work: Work, ends: Ends) -> str:
    """Where blocks cross the start line pairs hang on true pins, which are used again at the end (Jo Edkins, teaching
    pages on Torchon lace, pattern 228, hangs so where false pins would be in the way)."""
    numbers, on_lines = number_at(work), set(work.seams.block_at)
    pins = sorted(numbers[held.place] for held in ends.hung if held.place in on_lines)
    if not pins:
        return ""
    stay = f"pin {pins[0]} stays" if len(pins) == 1 else f"pins {listed(pins)} stay"
    return f" Where a block crosses the start line, the false pins are true ones, used again at the end: {stay}."


def _hung(work: Work, ends: Ends, telling: EndsContext) -> str:
    design = work.design
    edge = edge_pairs(design, LEFT_EDGE)
    if design.worked != ROUND:
        return _above(work, ends, telling)
    if work.start_row is not None:
        return _level(work, ends, edge)
    last = _inner_edge(work, ends)
    if work.habits.corner_pins:
        each = f"{last.removeprefix(', ')} and one pair on each other" if last else "one pair on each"
        return (
            f"Put up pin 1 at the corner itself and hang {edge} round it. Put {len(ends.hung) - 1} false pins on the "
            f"start line, one wherever two pinholes face each other across it, and hang {each}. When the "
            f"first diagonals hold, take the false pins out {_LOOPS} Pin 1 stays."
        )
    on_first = len(ends.hung[0].segments)
    return (
        f"Put {len(ends.hung)} false pins on the start line, one wherever two pinholes face each other across it. "
        "From the corner inwards hang "
        f"{on_first} pairs on the first ({edge}, then a pair of the ground){last} and one pair on each "
        f"other. When the first diagonals hold, take the false pins out {_LOOPS}"
    )


def _level(work: Work, ends: Ends, edge: str) -> str:
    """Hanging on along a horizontal start line."""
    zone = work.layout.piece.zone
    arc_of = {segment: arc for arc, segment in work.hung.items()}
    # The outermost pair of a pin tells where it stands: the innermost level pin may take one over the corner line too.
    begun = [next(arc_of[segment] for segment in held.segments if segment in arc_of) for held in ends.hung]
    level = [zone[work.arcs.head[arc]] == zone[work.arcs.tail[arc]] for arc in begun]
    more = len(level) - sum(level)
    first = len(ends.hung[0].segments)
    what = f"hang {first} pairs on the first ({edge}, then a pair of the ground)"
    if first == 1 + work.design.form.passives(ROUND, work.design.passives)[LEFT_EDGE]:
        what = f"hang {edge} on the first"
    what += _inner_edge(work, ends)
    inner = (
        f" Where the line goes on inwards along the corner line, put {more} more, "
        "wherever two pinholes face each other across it, and hang one pair on each."
    )
    return (
        f"Put {sum(level)} false pins half a pitch above the pins of the first row, from the footside inwards: {what} "
        f"and two pairs on each other.{inner if more else ''} When the first rows hold, take the false pins out "
        f"{_LOOPS}"
    )


def _inner_edge(work: Work, ends: Ends) -> str:
    """What hangs on the last false pin of a frame."""
    if work.design.form.edges(ROUND) == 1:
        return ""
    words = edge_pairs(work.design, RIGHT_EDGE).replace("edge pair", "edge pair of the inner edge")
    return f", {words} on the last ({_pairs(len(ends.hung[-1].segments))})"


def _above(work: Work, ends: Ends, telling: EndsContext) -> str:
    """Hanging on above the first row."""
    where = work.design.form.phrases.above
    loops = "take the false pins out and draw the loops down."
    if telling.finish == SEWINGS:
        loops = f"take the false pins out {_LOOPS}"
    return (
        f"Put a false pin half a pitch above every {where} ({len(ends.hung) - 2} of them) and hang two "
        f"pairs on each. {_at_sides(work, ends, telling)} When the pins below hold, {loops}"
    )


def _at_sides(work: Work, ends: Ends, telling: EndsContext) -> str:
    left, right = (_at_edge(work, ends.hung[-edge], edge) for edge in (LEFT_EDGE, RIGHT_EDGE))
    counts = len(ends.hung[0].segments), len(ends.hung[-1].segments)
    above = "on a false pin half a pitch above the first pin of"
    if left == right:
        pairs = f"{counts[0]} and {counts[1]} pairs" if max(counts) > 1 else "1 pair each"
        return f"Hang {left} {above} either side ({pairs})."
    told = [
        f"{words} {above} the {telling.side(side)} side ({_pairs(count)})"
        for words, side, count in zip((left, right), ("left", "right"), counts, strict=True)
    ]
    return f"Hang {told[0]}, {told[1]}."


def _at_edge(work: Work, held: Held, edge: int) -> str:
    """The pairs at the outermost pin of a row."""
    design = work.design
    own = 1 + design.form.passives(design.worked, design.passives)[edge]
    words = edge_pairs(design, edge)
    return f"{words.replace(' and', ',')} and a pair beside them" if len(held.segments) > own else words


def finishing(work: Work, ends: Ends, telling: EndsContext) -> Iterator[str]:
    """How the pairs are finished, a paragraph each."""
    if ends.sewings:
        yield (
            f"The end meets the start line. Sew each pair into the loop of its own number: {len(ends.sewings)} sewings"
            f", pair 1 into the loop that pair 1 was hung with, and so on inwards. {_HOOK}"
        )
        where = "corner" if work.start_row is None else "footside"
        yield f"Those of the first pin are sewn from the {where} inwards, one beside the other."
    elif telling.finish == SEWINGS:
        yield (
            "The end meets the beginning: bring the first row up below the last one, so that the pins of both lie "
            f"as those of any two rows, and no repeat is broken. {_last(work, ends)} Sew each pair into the loop of "
            f"its own number: {work.design.pairs} sewings, pair 1 on the {telling.side('left')} into the loop that "
            f"pair 1 was hung with, and so on across. {_HOOK} Closed, the lace measures {_closed(work.design)} round."
        )
    else:
        yield f"{_last(work, ends)} {_last_edge(work, telling.finish)}"
    parts = "quarters" if work.design.worked == ROUND else "parts"
    yield (
        "Leave the lace on the pillow for a day, count the pins out again, and cut the threads when all is fast. "
        f"Pins are sharp; rest eyes, neck and hands between the {parts} of the work."
    )


def _closed(design: Design) -> str:
    """The length of a strip that meets itself. ValueError if it is no strip."""
    if design.form.repeating is None:
        raise ValueError(f"a {design.form.name} is not joined to its own beginning; only a strip is")
    return f"{shown(design.form.repeating.length / 2 * design.pitch_mm)} mm"


def _last(work: Work, ends: Ends) -> str:
    """Where the pairs end."""
    index = work.layout.piece.index
    pins = [pin_at(work, index[int(held.place[0]), int(held.place[1])]) for held in ends.last]
    inner = sorted(pin for pin in pins[1:-1] if pin is not None)
    within = sum(len(held.segments) for held, pin in zip(ends.last, pins, strict=True) if pin is None)
    told = [_at_edge(work, ends.last[-edge], edge) for edge in (LEFT_EDGE, RIGHT_EDGE)]
    outer = f"at the outer pins {pins[0]} and {pins[-1]} {told[0]}"
    if told[0] != told[1]:
        outer = f"at the outer pin {pins[0]} {told[0]}, at the outer pin {pins[-1]} {told[1]}"
    at = f"each of the pins {listed(inner)}" if len(inner) > 1 else f"pin {listed(inner)}" if inner else ""
    two = f"two at {at}, and " if inner else ""
    cut = f", and {within} side by side within the rows of blocks that the end cuts" if within else ""
    return f"All pairs end {work.design.form.phrases.last}: {two}{outer}{cut}."


def _last_edge(work: Work, finish: str) -> str:
    return {
        KNOTS: "Knot the two pairs of each pin with one another in a reef knot, close to the pin; knot those at "
        "the outer pins likewise.",
        PLAITS: "Plait the two pairs of each pin in half stitch (cross, twist) as long as you like, and knot the "
        "plait at its end; plait those at the outer pins likewise.",
        FRINGE: f"Knot the pairs of each pin once, close to the pin, and cut all {2 * work.design.pairs} threads to "
        "one length as a fringe.",
    }[finish]


def _pairs(count: int) -> str:
    return "1 pair" if count == 1 else f"{count} pairs"
