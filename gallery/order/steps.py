"""Steps of the work in words: one line for each, or for several alike."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from constraints.fillings import FILLINGS, NAMES, OF_KIND
from constraints.piece import LEFT_EDGE
from constraints.working.ledger import NOWHERE
from constraints.working.rows import LEFT
from constraints.working.steps import BlockPart, CornerPin, Diagonal, FigureStep, Step
from constraints.working.work import Work
from gallery.hands import Side
from gallery.order.block_parts import part_of_block, with_gimp
from gallery.order.called import Called
from gallery.order.numbers import by_runs, crossed_over, run, span

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
        words = part_of_block(design, first, called, side)
        return words if gimp is None else with_gimp(words, gimp, first, side)
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
    told = [f"{pins} {run(step.pins)} (pairs {span(step.first, step.last)}{crossed_over(step)})" for step in steps]
    return f"{name}{f' with {unit.legs} legs' if unit.legs else ''}: {'; '.join(told)}."


def _diagonals(steps: Sequence[Diagonal], called: Called, side: Side) -> str:
    if len(steps) == 1 and len(steps[0].pins) == 1 and steps[0].pins[0] in called.valleys:
        return f"Valley pin {steps[0].pins[0]} ({steps[0].pairs[0]}, {steps[0].pairs[1]}{crossed_over(steps[0])})."
    ground = "Ground" if steps[0].ground == NOWHERE else _ground(steps[0].ground).capitalize()
    far = "" if steps[0].slope == LEFT else f" down to the {side('right')}"
    single = all(len(step.pins) == 1 for step in steps)
    count = sum(len(step.pins) for step in steps)
    what = ("pin" if count == 1 else "pins") if single or len(steps) == 1 else f"{len(steps)} diagonals{far}, pins"
    if len(steps) == 1 and count > 1:
        what = f"the diagonal{far}, pins"
    told = []
    for step in steps:
        told.append(f"{_marked(step, called)} ({step.pairs[0]}, {step.pairs[1]}{crossed_over(step)}{_grounds(step)})")
    return f"{ground}, {what} {'; '.join(told)}."


def _grounds(step: Diagonal) -> str:
    """The pins of a diagonal that are worked in grounds of their own, where not all are in the same."""
    if step.ground != NOWHERE:
        return ""
    own = {each: [pin for pin, filling in step.grounds if filling == each] for _, each in sorted(set(step.grounds))}
    return "".join(f"; {by_runs(own[each])} in {_ground(each)}" for each in sorted(own))


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
