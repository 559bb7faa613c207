"""The order of work in a lacemaker's words, as lines that a text file and a page set alike."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate, groupby

from constraints.piece import BOTTOM, LEFT, RIGHT, ROUND, TOP
from constraints.working.ends import FRINGE, KNOTS, PLAITS, Ends, ends_of
from constraints.working.ledger import NOWHERE
from constraints.working.numbers import number_at
from constraints.working.rows import LEFT as LEFT_SIDE
from constraints.working.steps import IN, Diagonal, Part, Rose, Spider, Step, steps_of
from constraints.working.work import Work
from gallery.order_stitches import stitch_lines, stitch_of

TITLE, HEADING, TEXT, STEP = "title", "heading", "text", "step"

# So many diagonals or figures alike are said in one step.
_TOGETHER = 6
# Worked across, a section of the order has about so many pins.
_SECTION = 150
_QUARTERS = {LEFT: "left", BOTTOM: "bottom", RIGHT: "right", TOP: "top"}
_SWAPPED = {"left": "right", "right": "left"}


@dataclass(frozen=True)
class Line:
    """A line before it is broken. kind: TITLE, HEADING, TEXT or STEP. number: of a step, else 0."""

    kind: str
    words: str
    number: int = 0


@dataclass(frozen=True)
class Telling:
    """How it is told. name: of the piece. mirrored: with the footside on the right. finish: one of FINISHES."""

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


def block_numbers(steps: Iterable[Step]) -> dict[int, int]:
    """The number by which a block of the square is called: from 1 in the order in which they are begun."""
    found: dict[int, int] = {}
    for step in steps:
        if isinstance(step, Part):
            found.setdefault(step.block, len(found) + 1)
    return found


# --- head ------------------------------------------------------------------------------------------------


def _head(work: Work, telling: Telling) -> Iterator[Line]:
    square = work.square
    width = f"{square.width_mm:g} mm"
    yield Line(TITLE, f"{telling.name}: order of work")
    round_ = square.worked == ROUND
    start = "-".join(telling.side(part) for part in square.start.split("-"))
    manner = f"worked round from the start line at the {start} corner" if round_ else "worked across from the top"
    side = telling.side("left")
    footside = f"The footside is on the {side}" if round_ else f"Pairs are counted from the footside on the {side}"
    yield Line(
        TEXT,
        f"A square {width} by {width} at a pitch of {square.pitch_mm:g} mm, {manner}. {square.pairs} pairs "
        f"({2 * square.pairs} bobbins), {len(work.pins)} pins; {_passives(square.passives, round_)}. {footside}.",
    )
    turns = ", and the pillow is turned three times" if round_ else ""
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


def _passives(count: int, one_edge: bool) -> str:
    where = "at the footside" if one_edge else "at either edge"
    return f"{count or 'no'} {'passive' if count == 1 else 'passives'} {where}"


# --- both ends -------------------------------------------------------------------------------------------


def _hanging(work: Work, ends: Ends, telling: Telling) -> Iterator[Line]:
    yield Line(HEADING, "Hang on the pairs")
    edge = _edge_pairs(work.square.passives)
    if work.square.worked == ROUND:
        yield Line(
            TEXT,
            f"Put {len(ends.hung)} false pins on the start line, one wherever two pinholes face each other across it. "
            "From the corner inwards hang "
            f"{len(ends.hung[0].lengths)} pairs on the first ({edge}, then a pair of the ground) and one pair on each "
            "other. When the first diagonals hold, take the false pins out and leave their loops open, as long as the "
            "gap was: the end of the lace is sewn into them.",
        )
        return
    yield Line(
        TEXT,
        f"Put a false pin half a pitch above every pin of the top edge ({len(ends.hung) - 2} of them) and hang two "
        f"pairs on each. Hang {edge} on a false pin half a pitch above the first pin of either side "
        f"({len(ends.hung[0].lengths)} and {len(ends.hung[-1].lengths)} pairs). When the pins below hold, take the "
        "false pins out and draw the loops down.",
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
        yield Line(TEXT, "Those of the first false pin are sewn from the corner inwards, one beside the other.")
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
        f"All pairs end at the bottom edge: two at each of the pins {_listed(inner)}, and at the outer pins {outer[0]} "
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
    number = 0
    for section, (zone, group) in enumerate(groupby(steps, key=lambda step: step.zone)):
        held = list(group)
        pins = [pin for step in held for pin in step.pins]
        range_ = f"pins {_range(pins)}" if pins else "no pins"
        if work.square.worked == ROUND:
            quarter = telling.side(_QUARTERS[zone])
            yield Line(HEADING, f"The {quarter} quarter, {range_}")
            if section:
                way = "anticlockwise" if telling.mirrored else "clockwise"
                near = telling.side("left")
                yield Line(TEXT, f"Turn the pillow a quarter {way}: the {quarter} edge now lies on your {near}.")
        for alike, begins in _in_sections(held, len(work.pins), work.square.worked == ROUND):
            if begins:
                yield Line(HEADING, begins)
            number += 1
            yield Line(STEP, _words(work, alike, called, telling), number)


def _in_sections(steps: Sequence[Step], pins: int, one: bool) -> Iterator[tuple[list[Step], str]]:
    """Steps alike, and the heading of the section that begins with them. one: of one section."""
    groups = list(_alike(steps))
    before = accumulate((sum(len(step.pins) for step in group) for group in groups), initial=0)
    sections = 1 if one else max(1, round(pins / _SECTION))
    share = [count * sections // (pins + 1) for count in before][: len(groups)]
    for section, held in groupby(zip(share, groups, strict=True), key=lambda each: each[0]):
        first, *others = [group for _, group in held]
        numbers = [pin for group in (first, *others) for step in group for pin in step.pins]
        yield first, "" if one else f"{'The work' if not section else 'Further on'}, pins {_range(numbers)}"
        for group in others:
            yield group, ""


def _alike(steps: Sequence[Step]) -> Iterator[list[Step]]:
    """Steps of one kind that follow one another, so many that one breath holds them."""
    group: list[Step] = []
    for step in steps:
        if group and (_kind(group[0]) != _kind(step) or isinstance(step, Part) or len(group) == _TOGETHER):
            yield group
            group = []
        group.append(step)
    if group:
        yield group


def _kind(step: Step) -> tuple[object, ...]:
    if isinstance(step, Diagonal):
        return (Diagonal, step.slope, len(step.doubled) == len(step.pins))
    return (type(step), step.legs if isinstance(step, Spider) else 0)


def _words(work: Work, alike: Sequence[Step], called: dict[int, int], telling: Telling) -> str:
    first = alike[0]
    if isinstance(first, Part):
        return _part(work, first, called, telling)
    if isinstance(first, Diagonal):
        return _diagonals([step for step in alike if isinstance(step, Diagonal)], telling)
    if isinstance(first, Spider):
        told = [
            f"pin {step.pins[0]} (pairs {_span(step.first, step.last)}{_over(step)})"
            for step in alike
            if isinstance(step, Spider)
        ]
        name = "Spider" if len(told) == 1 else f"{len(told)} spiders"
        return f"{name} with {first.legs} legs: {'; '.join(told)}."
    told = [
        f"pins {_range(step.pins)} (pairs {_span(step.first, step.last)}{_over(step)})"
        for step in alike
        if isinstance(step, Rose)
    ]
    return f"{'Rose' if len(told) == 1 else f'{len(told)} roses'}: {'; '.join(told)}."


def _diagonals(steps: Sequence[Diagonal], telling: Telling) -> str:
    ground = "Double ground" if len(steps[0].doubled) == len(steps[0].pins) else "Ground"
    far = "" if steps[0].slope == LEFT_SIDE else f" down to the {telling.side('right')}"
    single = all(len(step.pins) == 1 for step in steps)
    count = sum(len(step.pins) for step in steps)
    what = ("pin" if count == 1 else "pins") if single or len(steps) == 1 else f"{len(steps)} diagonals{far}, pins"
    if len(steps) == 1 and count > 1:
        what = f"the diagonal{far}, pins"
    told = []
    for step in steps:
        mixed = 0 < len(step.doubled) < len(step.pins)
        doubled = f"; {_range(step.doubled)} in double ground" if mixed else ""
        told.append(f"{_marked(step)} ({step.pairs[0]}, {step.pairs[1]}{_over(step)}{doubled})")
    return f"{ground}, {what} {'; '.join(told)}."


def _marked(step: Diagonal) -> str:
    """Its pins, an f after those of the footside."""
    first, last = step.pins[0], step.pins[-1]
    ends = [f"{pin}f" if pin in step.edges else str(pin) for pin in ((first,) if first == last else (first, last))]
    return "\N{EN DASH}".join(ends)


def _over(step: Step) -> str:
    """The cross-overs of a step, each before its pin; those before its first pin come first."""
    told = []
    for pin, group in groupby(step.over, key=lambda each: each[1]):
        pairs = " and ".join(f"{pair}, {pair + 1}" for pair, _ in group)
        first = not isinstance(step, Diagonal | Part) or pin == NOWHERE or pin == step.pins[0]
        told.append(f"; first cross over {pairs}" if first else f"; cross over {pairs} before pin {pin}")
    return "".join(told)


def _part(work: Work, part: Part, called: dict[int, int], telling: Telling) -> str:
    stitch = stitch_of(work.square.blocks[part.block].stitch)
    name = f"block {called[part.block]}"
    pins = f"{'pin' if len(part.pins) == 1 else 'pins'} {_range(part.pins)}" if part.pins else "no new pin"
    rows = f"{part.rows} {'row' if part.rows == 1 else 'rows'}"
    begin = f"Go on with {name}" if part.again else f"{name.capitalize()} in {stitch}"
    worker = f"worker: pair {part.worker}"
    pairs = f"begin with pairs {_span(part.first, part.last)}, {worker}"
    sides = [
        f"{telling.side(side)}: {told}"
        for side, events in (("left", part.left), ("right", part.right))
        if (told := _side(events))
    ]
    end = "" if part.ends else " The block goes on later: leave the worker in it."
    used = "".join(f" Pin {pin} is used {times} times." for pin, times in part.used)
    over = f"{_over(part)[2:].capitalize()}. " if part.over else ""
    return f"{over}{begin}, {pins}, {rows}; {pairs}. {'; '.join(sides).capitalize()}.{used}{end}"


def _side(events: Sequence[tuple[int, str]]) -> str:
    """What happens at one side of a block: pairs in and out, run by run."""
    told = []
    ordered = list(events)
    for (word, drawn), group in groupby(ordered, key=lambda each: (each[1], each[0] == NOWHERE)):
        pins = [pin for pin, _ in group]
        if drawn:
            line = "one from the start line" if word == IN else "one to the start line"
            told.append(line if len(pins) == 1 else line.replace("one", str(len(pins)), 1))
        else:
            told.append(f"{word} at {_pins(pins)}")
    return ", ".join(told)


def _pins(pins: Sequence[int]) -> str:
    if len(pins) <= 5:
        return _listed(pins)
    return f"every pin of this side from {pins[0]} to {pins[-1]}"


def _listed(pins: Sequence[int]) -> str:
    return str(pins[0]) if len(pins) == 1 else f"{', '.join(map(str, pins[:-1]))} and {pins[-1]}"


def _range(pins: Sequence[int]) -> str:
    return str(pins[0]) if len(pins) == 1 else f"{pins[0]}\N{EN DASH}{pins[-1]}"


def _span(first: int, last: int) -> str:
    return f"{first}\N{EN DASH}{last}" if last - first > 1 else f"{first} and {last}"
