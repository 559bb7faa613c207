"""The stitches that a piece takes, with their moves written out."""

from __future__ import annotations

from collections.abc import Iterator

from constraints.fillings import GROUNDS, NUMBERS, largest_first
from constraints.moves import spelled, times
from constraints.stitches import CLOTH, STITCHES
from constraints.stitches import NUMBERS as STITCH_NUMBERS
from constraints.swings import uncut
from constraints.working import ledger
from constraints.working.habits import EXCHANGE, GROUND_MOVES, TURNING_STITCH
from constraints.working.work import Work
from gallery.hands import Side
from gallery.order.edges import footsides

# Of squares from before blocks were worked in halves.
OLDER = (
    "This square was made before blocks were worked in two halves: on older papers of it the pins along the corner "
    "lines stand elsewhere. Use no older paper together with these."
)


def stitch_of(name: str) -> str:
    """A block's stitch in words."""
    return STITCHES[name].words


def stitch_lines(work: Work, side: Side) -> Iterator[str]:
    """What the piece takes, one line each; what it does not take is not told."""
    habits, crossings = work.habits, work.crossings
    held = {name for name, number in NUMBERS.items() if (crossings.filling == number).any()}
    yield (
        "Cross: of the four threads of two pairs the second over the third, left over right. Twist: in each pair the "
        "right thread over the left one. (Moves stay the same on either hand.)"
    )
    if ((crossings.kind == ledger.GROUND) & (crossings.filling == ledger.NOWHERE)).any():
        yield f"Ground, {habits.ground} method: {spelled(GROUND_MOVES[habits.ground])}."
    yield from (ground.told(habits) for name, ground in GROUNDS.items() if name in held)
    for name, passives in footsides(work.design):
        yield _footside(work, name.capitalize(), passives)
    for name in sorted({block.stitch for block in work.design.blocks}, key=STITCH_NUMBERS.__getitem__):
        yield f"{stitch_of(name).capitalize()}: {spelled(STITCHES[name].moves)}."
    if work.design.blocks:
        yield from _blocks(work, side)
    headside = work.layout.piece.headside
    if headside is not None:
        where = " and ".join(side(("left", "right")[edge]) for edge in work.layout.piece.headside_edges)
        yield headside.told(habits, where)
    if work.design.form.has_opening:
        yield (
            "Inner corners: no pin stands there. The edge pair of the inner edge goes from the last pin of one side "
            "straight on to the first pin of the next, its passives beside it."
        )
    yield from (filling.told(habits) for filling in largest_first(held))


def _footside(work: Work, name: str, count: int) -> str:
    habits = work.habits
    edge = f"twist the edge pair {times(habits.edge)}" if habits.edge else "leave the edge pair untwisted"
    if not count:
        meet = spelled(GROUND_MOVES[habits.ground])
        return f"{name}, at each of its pins: the pair of the ground and the edge pair {meet}; {edge}."
    passives = "the passive" if count == 1 else f"the {count} passives"
    twist = f", twist it {times(habits.at_passives)}" if habits.at_passives else ""
    return (
        f"{name}, at each of its pins: the pair of the ground goes out through {passives} (cross, twist, cross)"
        f"{twist}; with the edge pair {spelled(EXCHANGE[:-1])}, the pin inside both; {edge}, it waits; the old edge "
        f"pair goes back in through {passives}{twist}. It is the edge pair no longer, the other is."
    )


def _gimp(work: Work, side: Side) -> str:
    often = times(work.habits.at_gimp)
    twist = f"twist the pair {often}, " if often else ""
    again = f", twist it {often}" if often else ""
    return (
        "Gimp: a pair of a thicker thread, not counted with the others. Lay it across above the first pin of its "
        f"block, one bobbin to the {side('left')} and one to the {side('right')}. Wherever a pair comes into the block "
        f"or goes out of it: {twist}pass the gimp between its two threads{again}. Below the last pin cross the two "
        "gimps, take each back beside the other through three pairs, and cut them off when these hold."
    )


def _seams(work: Work) -> str:
    """How the halves of a block meet at a corner line."""
    halves = "Seams, where a block crosses a corner line: it is worked in two halves"
    if work.seams.open:
        leaving = work.habits.leaving
        between = f", twisted {times(leaving)} on their way" if leaving else ""
        return f"{halves}, each with pins of its own beside the line. Pairs go over it one by one{between}."
    return (
        f"{halves}. Before the line the worker turns in every row round a pin that stands on the line, and the "
        "outermost pair stays behind there. Turn the pillow. After the line that pair is taken in again, and the "
        "worker turns round the same pin once more."
    )


def _blocks(work: Work, side: Side) -> Iterator[str]:
    habits = work.habits
    at_pins = f", twisted {times(habits.at_pins)} at each" if habits.at_pins else ""
    cloth = any(block.stitch == CLOTH for block in work.design.blocks)
    leaving = f" Pairs that leave cloth are twisted {times(habits.leaving)}." if habits.leaving and cloth else ""
    yield (
        f"Blocks: the worker goes to and fro from pin to pin, {side('left')} first, then {side('right')}{at_pins}, "
        "through all pairs of the block. It begins with the pairs told, at its first pin. In at a pin: one pair more "
        "is taken in there, before the worker turns; out: the outermost pair goes out after it, and is worked no more"
        f".{leaving} Where a block goes on later, the pairs that are in it wait there, its worker among them."
    )
    if work.seams.number:
        yield _seams(work)
        if work.pinned_otherwise:
            yield OLDER
    if uncut(work.layout, work.start_row):
        yield (
            f"Slanting rows, where a trail goes round a corner: pins on the {side('right')} are used twice, each from "
            f"two pins on the {side('left')} one after the other, and the rows lie aslant between them. Before the "
            "line a pair comes in with the first of the two, after it one goes out with the second."
        )
    if work.gimps:
        yield _gimp(work, side)
    if TURNING_STITCH in work.crossings.words:
        yield (
            "Turning stitch, where a worker turns and no pin stands: worker and outermost passive "
            f"{spelled(TURNING_STITCH)}, and the passive goes on as worker."
        )
