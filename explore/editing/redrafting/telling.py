"""What a redraft says of itself: lines for the terminal and for its pictures."""

from __future__ import annotations

from collections.abc import Iterator

from constraints.edgings import Headside
from constraints.fillings import GATHERED, OF_KIND, UNITS
from constraints.stitches import STITCHES
from explore.editing.redrafting.proposals import Proposal
from explore.editing.redrafting.readings import BlockReading
from explore.editing.redrafting.redraft import Redraft
from explore.mending.trying import quoted

_MOST_TOLD = 20
# A grid stretched by less than this is even.
_EVEN = 0.005
# A far end that is seen less smaller than this tells nothing.
_ASLANT = 0.05
_SIDE = {
    "left": "on the left",
    "right": "on the right; mirrored to the left",
    "top": "at the top; turned to the left",
    "bottom": "at the bottom; turned to the left",
}


def found(made: Redraft, pitch_mm: float | None) -> Iterator[str]:
    """What was found, a few lines. pitch_mm: as she says, or as the file does."""
    draft = made.draft
    first, last = draft.rows
    pins = f"{len(draft.taken)} pinholes in {draft.columns} columns and {last - first + 1} rows"
    if draft.headside:
        pins += f", {_count(len(draft.headside), 'pin')} outside the grid"
    if draft.taken_centres:
        pins += f", {_count(len(draft.taken_centres), 'pin')} in the middle of holes"
    yield f"{made.name}: {pins}"
    if made.seat is not None:
        yield _measured(made, pitch_mm)
    yield _repeat(made)


def _measured(made: Redraft, pitch_mm: float | None) -> str:
    assert made.seat is not None
    net, side = made.seat.net, made.seat.side
    size = f"pitch {made.seat.pitch:.1f} pixels"
    if made.pitch_mm is not None:
        size += f" ({made.pitch_mm:g} mm)"
    elif pitch_mm is not None:
        size += f" (taken as {pitch_mm:g} mm)"
    tilt = round(net.tilt, 1)
    lean = f"tilted {abs(tilt):g} degrees {'clockwise' if tilt > 0 else 'anticlockwise'}" if tilt else "upright"
    stretch = net.stretch if side in ("left", "right") else 1 / net.stretch
    uneven = f", {abs(stretch - 1):.1%} {'longer' if stretch > 1 else 'shorter'} down than across"
    slant = f", seen aslant: the far end {net.aslant:.0%} smaller" if net.aslant > _ASLANT else ""
    return f"{size}, {lean}{slant or (uneven if abs(stretch - 1) > _EVEN else '')}; footside {_SIDE[side]}"


def aslant(made: Redraft) -> str:
    """What helps a card that is seen aslant to be read: the end of a sentence."""
    if made.seat is None or made.seat.net.aslant <= _ASLANT:
        return ""
    return f"; its far end is seen {made.seat.net.aslant:.0%} smaller: hold the camera straight above the card"


def _repeat(made: Redraft) -> str:
    repeat = made.repeat
    if repeat is None:
        return "nothing comes again: all rows are taken as one repeat"
    glide = f" (mirrored after {repeat.rows // 2})" if repeat.glide else ""
    return f"comes again after {repeat.rows} rows{glide}, shown {repeat.seen:.1f} times"


def doubts(made: Redraft) -> Iterator[str]:
    """The doubtful dots, and how to settle them."""
    every = made.draft.doubts
    if not every:
        return
    verb = "dot is" if len(every) == 1 else "dots are"
    yield f"{len(every)} {verb} doubtful, ringed and numbered; settle them with --take and --drop:"
    for doubt in every[:_MOST_TOLD]:
        where = f"column {doubt.at[0]:g}, row {doubt.at[1]:g}"
        yield f"  {doubt.number}: {where}: {doubt.why}; {'counts' if doubt.taken else 'does not count'}"
    if len(every) > _MOST_TOLD:
        yield f"  and {len(every) - _MOST_TOLD} more"


def notes(made: Redraft) -> Iterator[str]:
    """What was read over or taken together."""
    draft = made.draft
    if draft.doubled:
        yield f"{_count(draft.doubled, 'pinhole')} pricked twice {'counts' if draft.doubled == 1 else 'count'} once"
    if draft.lost and draft.edging is not None:
        verb = "has" if draft.lost == 1 else "have"
        yield f"{_count(draft.lost, 'pin')} of the {draft.edging.kind}s {verb} no dot"


def rival(made: Redraft) -> str:
    """That another kind of headside was nearly as likely."""
    draft = made.draft
    assert draft.rival is not None
    assert draft.edging is not None
    asked = f"--headside {quoted(draft.rival)}"
    return f"its edge shows {draft.edging.kind}s; {draft.rival}s fit it nearly as well: {asked} reads it so"


def of_blocks(reading: BlockReading) -> str:
    """The blocks and figures of a reading."""
    parts = []
    sizes = sorted((len(block) for block in reading.blocks), reverse=True)
    if sizes:
        shown = ", ".join(str(size) for size in sizes[:6]) + (" ..." if len(sizes) > 6 else "")
        parts.append(f"{_count(len(sizes), 'block')} of {shown} pinholes")
    for name, unit in UNITS.items():
        number = sum(own == name for _, own in reading.figures)
        if number:
            parts.append(f"{number} {OF_KIND[name].called(number, unit)}")
    if reading.pinless:
        nouns = OF_KIND[GATHERED[0].name]
        parts.append(f"{reading.pinless} {nouns.called(reading.pinless)} without a dot for its pin")
    if reading.splits:
        parts.append(f"splits or merges {reading.splits} times")
    return ", ".join(parts) or "no blocks"


def of_headside(headside: Headside | None, both: bool = False) -> str:
    if headside is None:
        return "straight edges"
    stitch = f"{STITCHES[headside.stitch].words} " if headside.stitch else ""
    return f"{stitch}{headside.kind} of depth {headside.depth}{' on both sides' if both else ''}"


def of_proposal(proposal: Proposal) -> str:
    """A reading on one line."""
    edges = of_headside(proposal.headside, proposal.repeat.both)
    return f"{of_blocks(proposal.reading)}; {edges}; {proposal.design.pairs} pairs"


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"
