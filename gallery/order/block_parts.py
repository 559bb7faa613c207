"""A part of a block in words: what begins, comes, turns, goes and ends in it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from constraints.design import Design
from constraints.piece import ROUND
from constraints.working.block_rows import IN, Event, ExtraTurn
from constraints.working.gimp import Gimp
from constraints.working.ledger import NOWHERE
from constraints.working.steps import BlockPart
from gallery.hands import Side
from gallery.order.called import Called
from gallery.order.numbers import crossed_over, listed, run, runs, span
from gallery.order.stitches import stitch_of

_COUNTS = {2: "two", 3: "three"}


def part_of_block(design: Design, part: BlockPart, called: Called, side: Side) -> str:
    pins = f"{'pin' if len(part.pins) == 1 else 'pins'} {run(part.pins)}" if part.pins else "no new pin"
    rows = f"{part.rows} {'row' if part.rows == 1 else 'rows'}"
    over = f"{crossed_over(part)[2:].capitalize()}. " if part.over else ""
    begin = f"{over}{_begin(design, part, called)}, {pins}, {rows}{_pairs_in_it(part)}"
    return f"{begin}{_comings(design, part, side)}{_turns(part)}{_clefts(part)}{_eyes(part, side)}{_end(part)}"


def _begin(design: Design, part: BlockPart, called: Called) -> str:
    block = called.name(part.block)
    if part.again:
        return f"Another part of {block}" if part.anew else f"Go on with {block}"
    in_all = f"pairs {span(*part.in_all)} in all"
    return f"{_opening(block)} in {stitch_of(design.blocks[part.block].stitch)}{_between(part, called)}, {in_all}"


def _pairs_in_it(part: BlockPart) -> str:
    pairs = runs(part.pairs)
    if part.anew:
        return f". Begin with {pairs}, worker {part.worker}."
    return f"; {pairs} in it, worker {part.worker}."


def _comings(design: Design, part: BlockPart, side: Side) -> str:
    """What comes and goes at either side, and between the arms of a block."""
    sides = [
        f"{name}: {told}"
        for name, events in ((side("left"), part.left), (side("right"), part.right), ("in the middle", part.middle))
        if (told := _at_side(events, part.pins, design.worked == ROUND))
    ]
    return f" {'; '.join(sides).capitalize()}." if sides else ""


def _turns(part: BlockPart) -> str:
    """The turns beside those round the pins put up, each at its place."""
    told = []
    for (word, pin, pair), group in groupby(part.turns, key=lambda turn: (_when(turn), turn.pin, turn.pair)):
        pins = [turn.after if turn.before == NOWHERE else turn.before for turn in group]
        place = word if word == "first" else f"{word} {listed(pins)}"
        how = f"round pin {pin} again" if pin != NOWHERE else f"turning stitch with pair {pair}, no pin"
        told.append(f"{place} {how}")
    return f" {'; '.join(told).capitalize()}." if told else ""


def _clefts(part: BlockPart) -> str:
    """The pins round which no worker turns: where two of them part or meet."""
    if not part.clefts:
        return ""
    pins = f"Pin {part.clefts[0]} stands" if len(part.clefts) == 1 else f"Pins {listed(part.clefts)} stand"
    return f" {pins} between two arms, where their workers part or meet."


def _eyes(part: BlockPart, side: Side) -> str:
    """Where the worker is twisted for an eye: between passives counted from one side, as they lie in that row."""
    told = ""
    for row, passives, ways in part.eyes:
        times = "both times it goes" if ways > 1 else "as it goes"
        told += (
            f" Eye in row {row}: between its passives {passives} and {passives + 1} from the {side('left')} twist the "
            f"worker twice, {times} through."
        )
    return told


def _when(turn: ExtraTurn) -> str:
    if turn.before != NOWHERE:
        return "before"
    return "first" if turn.after == NOWHERE else "after"


def _end(part: BlockPart) -> str:
    """Whether it ends, and what becomes of the rest."""
    if not part.ends:
        return "" if part.again else " It goes on later."
    ends = f" It ends with {runs(part.ends)}"
    if part.done:
        return f"{ends}."
    rest = "the start line cuts it, and its other part is worked later" if part.cut else "another part is worked later"
    return f"{ends}: {rest}."


def _opening(name: str) -> str:
    return name.removeprefix("the ").capitalize()


def _between(part: BlockPart, called: Called) -> str:
    """The valley pins beside a fan."""
    beside = called.beside.get(part.block, ())
    if not beside:
        return ""
    return f" between the valley pins {listed(beside)}" if len(beside) > 1 else f" beside the valley pin {beside[0]}"


def with_gimp(told: str, gimp: Gimp, part: BlockPart, side: Side) -> str:
    """What is done in a part of a block, and what its gimp does."""
    if not part.again:
        told = (
            f"Lay in a gimp pair above pin {part.pins[0]}: on the {side('left')} it passes {len(gimp.left)} pairs in "
            f"and out, on the {side('right')} {len(gimp.right)}. {told}"
        )
    return told + (" Its gimp ends below the last pin." if part.done else "")


def _at_side(events: Sequence[Event], put_up: Sequence[int], one_line: bool) -> str:
    """What happens at one side of a block: pairs in and out, run by run. put_up: the pins of this step. one_line:
    whether the lace begins and ends at one start line."""
    told = []
    for (words, drawn, new), group in groupby(
        _by_pin(events), key=lambda each: (each[1], each[0] == NOWHERE, each[0] in put_up)
    ):
        pins = [pin for pin, _ in group]
        if drawn:
            line = "one from the start line" if words.endswith(IN) else "one to the start line"
            if not one_line:
                line = "one hung on above it" if words.endswith(IN) else "one ending in its last row"
            told.append(line if len(pins) == 1 else line.replace("one", str(len(pins)), 1))
        else:
            told.append(f"{words} at {_pins(pins) if new else listed(pins)}")
    return ", ".join(told)


def _by_pin(events: Sequence[Event]) -> Iterator[tuple[int, str]]:
    """What happens pin by pin; a pair in and one out at the same pin are said together, and so are two in."""
    for pin, group in groupby(events, key=lambda each: each[0]):
        words = [word for _, word in group]
        if pin == NOWHERE:
            yield from ((pin, word) for word in words)
        else:
            counted = ((word, len(list(same))) for word, same in groupby(words))
            told = (word if count == 1 else f"{_COUNTS.get(count, count)} {word}" for word, count in counted)
            yield pin, " and ".join(told)


def _pins(pins: Sequence[int]) -> str:
    if len(pins) <= 5:
        return listed(pins)
    return f"every pin of this side from {pins[0]} to {pins[-1]}"
