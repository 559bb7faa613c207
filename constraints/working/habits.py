"""What one lacemaker does otherwise than another: methods and twists, as data.

Moves are written as in the trade's books: C, cross, the left of the two middle threads over the right one; T,
twist, in each pair the right thread over the left one; a point is the pin.
"""

from __future__ import annotations

from dataclasses import dataclass

CLOSED, OPEN = "closed", "open"
# A round begins along a corner line, or horizontally through the first quarter; or as suits: along the corner line
# unless that cuts blocks and a row cuts less than half as many of their pairs.
CORNER, HORIZONTAL, AS_SUITS = "corner", "horizontal", "suits"

# A pinhole of plain ground by either method (common practice, no source).
GROUND_MOVES = {CLOSED: "CT.CT", OPEN: "TC.TC"}
# Outside the passives the worker exchanges with the edge pair, the pin inside them both.
EXCHANGE = "CTCT."
# Worker and outermost passive change over where no pin holds them (value from memory).
TURNING_STITCH = "CTCTC"


@dataclass(frozen=True)
class Habits:
    """Twists are added ones, beside those in the moves. Defaults are common practice, no source.

    ground: closed (CT pin CT) or open (TC pin TC). at_pins: the worker of a block, round every pin.
    leaving: pairs that leave a block. legs: both ends of a figure's legs. edge: the edge pair from pin to
    pin. at_passives: the worker of the footside between passives and edge pair. turning_from: from which use
    on a pin at an inner corner is replaced by a turning stitch. start_line: CORNER, HORIZONTAL or AS_SUITS, of a round.
    corner_pins: whether a pin off the grid squares each outer corner of a round. gimp: numbers of the blocks, in the
    order in which they are begun, that a gimp pair goes round; at_gimp: twists of the pairs that it passes, before it
    and after it. seam: closed or open, where blocks are worked in halves.
    """

    ground: str = CLOSED
    at_pins: int = 1
    leaving: int = 1
    legs: int = 2
    edge: int = 2
    at_passives: int = 1
    turning_from: int = 4
    start_line: str = CORNER
    corner_pins: bool = False
    gimp: tuple[int, ...] = ()
    at_gimp: int = 1
    seam: str = CLOSED
