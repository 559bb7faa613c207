"""Steps of the work in words: one line for each, or for several alike."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from constraints.design import Design
from constraints.fillings import FILLINGS, NAMES, OF_KIND
from constraints.piece import LEFT_EDGE, ROUND
from constraints.working.block_rows import IN, Event, ExtraTurn
from constraints.working.gimp import Gimp
from constraints.working.ledger import NOWHERE
from constraints.working.rows import LEFT
from constraints.working.steps import BlockPart, CornerPin, Diagonal, FigureStep, Step
from constraints.working.work import Work
from gallery.hands import Side
from gallery.order.called import Called
from gallery.order.stitches import stitch_of

# So many diagonals or figures alike are said in one step.
_TOGETHER = 6


def alike(steps: Sequence[Step]) -> Iterator[list[Step]]:
    """Steps of one kind that follow one another, so many that one breath holds them."""
    group: list[Step] = []
    for step in steps:
        if group and (_kind(group[0]) != _kind(step) or isinstance(step, BlockPart) or len(group) == _TOGETHER):
            yield group
            group = []
        group.append(step)
    if group:
        yield group


def _kind(step: Step) -> tuple[object, ...]:
    if isinstance(step, Diagonal):
        return (Diagonal, step.slope, step.ground)
    return (type(step), step.unit.name if isinstance(step, FigureStep) else "")


def words_of(work: Work, steps: Sequence[Step], called: Called, side: Side) -> str:
    """What is done in steps alike. called: what blocks and fans are called."""
    first, design = steps[0], work.design
    if isinstance(first, BlockPart):
        gimp = next((each for each in work.gimps if each.block == first.block), None)
        words = _part(design, first, called, side)
        return words if gimp is None else _with_gimp(words, gimp, first, side)
    if isinstance(first, Diagonal):
        return _diagonals([step for step in steps if isinstance(step, Diagonal)], called, side)
    if isinstance(first, CornerPin):
        return _corner(first, design.form.passives(design.worked, design.passives)[LEFT_EDGE])
    return _figures([step for step in steps if isinstance(step, FigureStep)])


def _figures(steps: Sequence[FigureStep]) -> str:
    unit, count = steps[0].unit, len(steps)
    filling = OF_KIND[unit.name]
    name = filling.one.capitalize() if count == 1 else f"{count} {filling.several}"
    pins = "pin" if len(steps[0].pins) == 1 else "pins"
    told = [f"{pins} {run(step.pins)} (pairs {_span(step.first, step.last)}{_over(step)})" for step in steps]
    return f"{name}{f' with {unit.legs} legs' if unit.legs else ''}: {'; '.join(told)}."


def _diagonals(steps: Sequence[Diagonal], called: Called, side: Side) -> str:
    if len(steps) == 1 and len(steps[0].pins) == 1 and steps[0].pins[0] in called.valleys:
        return f"Valley pin {steps[0].pins[0]} ({steps[0].pairs[0]}, {steps[0].pairs[1]}{_over(steps[0])})."
    ground = "Ground" if steps[0].ground == NOWHERE else _ground(steps[0].ground).capitalize()
    far = "" if steps[0].slope == LEFT else f" down to the {side('right')}"
    single = all(len(step.pins) == 1 for step in steps)
    count = sum(len(step.pins) for step in steps)
    what = ("pin" if count == 1 else "pins") if single or len(steps) == 1 else f"{len(steps)} diagonals{far}, pins"
    if len(steps) == 1 and count > 1:
        what = f"the diagonal{far}, pins"
    told = []
    for step in steps:
        told.append(f"{_marked(step, called)} ({step.pairs[0]}, {step.pairs[1]}{_over(step)}{_grounds(step)})")
    return f"{ground}, {what} {'; '.join(told)}."


def _grounds(step: Diagonal) -> str:
    """The pins of a diagonal that are worked in grounds of their own, where not all are in the same."""
    if step.ground != NOWHERE:
        return ""
    own = {each: [pin for pin, filling in step.grounds if filling == each] for _, each in sorted(set(step.grounds))}
    return "".join(f"; {_by_runs(own[each])} in {_ground(each)}" for each in sorted(own))


def _ground(number: int) -> str:
    return FILLINGS[NAMES[number]].one


def _corner(step: CornerPin, passives: int) -> str:
    turned = f"the edge pair{'' if not passives else ' and its passive' if passives == 1 else ' and its passives'}"
    if step.hung:
        return f"Corner pin {step.pins[0]}: {turned} hang round it. It stays where it is."
    return f"Corner pin {step.pins[0]}: take {turned} round outside it and turn; nothing is worked there."


def _marked(step: Diagonal, called: Called) -> str:
    """Its pins, an f after those of the footside, a v after those of a valley."""
    first, last = step.pins[0], step.pins[-1]
    marks = {pin: "v" if pin in called.valleys else "f" for pin in step.edges}
    ends = [f"{pin}{marks.get(pin, '')}" for pin in ((first,) if first == last else (first, last))]
    return "\N{EN DASH}".join(ends)


def _over(step: Step) -> str:
    """The cross-overs of a step, each before its pin; those before its first pin come first."""
    told = []
    for pin, group in groupby(step.over, key=lambda each: each[1]):
        pairs = " and ".join(f"{pair}, {pair + 1}" for pair, _ in group)
        first = not isinstance(step, Diagonal | BlockPart) or pin == NOWHERE or pin == step.pins[0]
        told.append(f"; first cross over {pairs}" if first else f"; cross over {pairs} before pin {pin}")
    return "".join(told)


def _part(design: Design, part: BlockPart, called: Called, side: Side) -> str:
    pins = f"{'pin' if len(part.pins) == 1 else 'pins'} {run(part.pins)}" if part.pins else "no new pin"
    rows = f"{part.rows} {'row' if part.rows == 1 else 'rows'}"
    over = f"{_over(part)[2:].capitalize()}. " if part.over else ""
    begin = f"{over}{_begin(design, part, called)}, {pins}, {rows}{_pairs_in_it(part)}"
    return f"{begin}{_comings(design, part, side)}{_turns(part)}{_end(part)}"


def _begin(design: Design, part: BlockPart, called: Called) -> str:
    block = called.name(part.block)
    if part.again:
        return f"Another part of {block}" if part.anew else f"Go on with {block}"
    in_all = f"pairs {_span(*part.in_all)} in all"
    return f"{_opening(block)} in {stitch_of(design.blocks[part.block].stitch)}{_between(part, called)}, {in_all}"


def _pairs_in_it(part: BlockPart) -> str:
    pairs = _runs(part.pairs)
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


def _when(turn: ExtraTurn) -> str:
    if turn.before != NOWHERE:
        return "before"
    return "first" if turn.after == NOWHERE else "after"


def _end(part: BlockPart) -> str:
    """Whether it ends, and what becomes of the rest."""
    if not part.ends:
        return "" if part.again else " It goes on later."
    ends = f" It ends with {_runs(part.ends)}"
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


def _with_gimp(told: str, gimp: Gimp, part: BlockPart, side: Side) -> str:
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


_COUNTS = {2: "two", 3: "three"}


def _pins(pins: Sequence[int]) -> str:
    if len(pins) <= 5:
        return listed(pins)
    return f"every pin of this side from {pins[0]} to {pins[-1]}"


def listed(pins: Sequence[int]) -> str:
    return str(pins[0]) if len(pins) == 1 else f"{', '.join(map(str, pins[:-1]))} and {pins[-1]}"


def run(pins: Sequence[int]) -> str:
    return str(pins[0]) if len(pins) == 1 else f"{pins[0]}\N{EN DASH}{pins[-1]}"


def _span(first: int, last: int) -> str:
    return f"{first}\N{EN DASH}{last}" if last - first > 1 else f"{first} and {last}"


def _runs(pairs: Sequence[int]) -> str:
    """Pairs, those side by side together: "pair 3", "pairs 5\N{EN DASH}8 and 11\N{EN DASH}14"."""
    return f"{'pair' if len(pairs) == 1 else 'pairs'} {_by_runs(pairs)}"


def _by_runs(numbers: Sequence[int]) -> str:
    """Numbers that follow each other together: "3", "5 and 6", "5\N{EN DASH}8 and 11\N{EN DASH}14"."""
    begins = [number for number in numbers if number - 1 not in numbers]
    ends = [number for number in numbers if number + 1 not in numbers]
    told = [str(a) if a == b else f"{a}\N{EN DASH}{b}" for a, b in zip(begins, ends, strict=True)]
    if len(begins) == 1 and ends[0] - begins[0] == 1:
        told = [f"{begins[0]} and {ends[0]}"]
    return " and ".join(told)
