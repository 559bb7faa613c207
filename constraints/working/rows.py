"""Blocks, row by row: the worker goes through all passives to the far pin and back to the near pin of the next row.

Common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass

from constraints.eyes import TWISTS
from constraints.lattice import Place
from constraints.stitches import STITCHES
from constraints.working.habits import TURNING_STITCH, Habits
from constraints.working.ledger import BLOCK, NOWHERE, Ledger

LEFT, RIGHT = 0, 1


@dataclass(frozen=True)
class Row:
    """One row of a block as it lies.

    ends: its left and right end. pins: the pins there, None where it has none of its own. corner: whether it
    meets a corner line at that end, and turns about the inner corner. leaving: how many pairs leave at that
    end, one but beside a split. hollow: whether the rows before and after reach further at that end, so that the worker
    goes straight on from theirs. last: whether the block ends with it. outer: the side at which it is a headside,
    NOWHERE elsewhere. order: the sides in the order in which the worker turns there, empty where that is as she likes.
    before: a pin on the right round which the worker turns first of all, where a row at the middle of a square meets
    two corner lines. eyes: beside which its worker is twisted.
    """

    ends: tuple[Place, Place]
    pins: tuple[Place | None, Place | None]
    corner: tuple[bool, bool]
    leaving: tuple[int, int]
    hollow: tuple[bool, bool]
    last: bool
    outer: int = NOWHERE
    order: tuple[int, ...] = ()
    before: Place | None = None
    eyes: tuple[Place, ...] = ()


@dataclass(eq=False)
class Stack:
    """The rows of one block while they are worked.

    near: the side from which the worker begins every row. pairs: from left to right. worker: its place among
    them. So each row is: to the near pin, through all passives to the far pin; then back, into the next row. A row
    that is hollow at an end has no pin there, and its worker does not turn.
    """

    ledger: Ledger
    stitch: str
    habits: Habits
    near: int
    pairs: list[int]
    worker: int = 0

    def __post_init__(self) -> None:
        self.worker = self._outermost(self.near)
        self._at: Place | None = None
        self._inner: list[Place | None] = [None, None]
        self._bend: list[Place | None] = [None, None]
        self._uses = [0, 0]
        self._side: int | None = None
        self._about: int | None = None
        # How many passives lie to the left of each eye of the row that is worked.
        self._eyes: set[int] = set()

    def join(self, side: int, segment: int) -> None:
        """A pair joins at a side."""
        if side == LEFT:
            self.pairs.insert(0, segment)
            self.worker += 1
        else:
            self.pairs.append(segment)

    def leave(self, side: int) -> int:
        """The outermost pair of a side leaves."""
        segment = self.pairs.pop(0 if side == LEFT else -1)
        self.worker -= side == LEFT
        return segment

    @property
    def turned(self) -> int | None:
        """The side at which the worker turned last, None if it met another at a pin."""
        return self._side

    def work(self, row: Row, turned: int | None = None) -> None:
        """Work a row with all its pairs; those that leave are then outermost, the worker is none of them.

        turned: the side at which its worker turned last, where it comes from another stack.
        """
        if turned is not None:
            self._side = turned
        if row.order:
            self.near = row.order[0]
        if len(self.pairs) == 2 and row.pins != (None, None):
            self._single(row)
            return
        far = 1 - self.near
        if self._at is None:
            self._at = row.ends[LEFT if 2 * self.worker < len(self.pairs) else RIGHT]
        if row.before is not None:
            self._turn(RIGHT, row, row.before)
        self._eyes = {passives_left_of(eye, row.ends, len(self.pairs) - 1) for eye in row.eyes}
        for side in (self.near, far):
            if not row.hollow[side]:
                self._turn(side, row, row.pins[side])
        self._eyes = set()
        for side in (self.near, far):
            inwards = row.leaving[side] - abs(self.worker - self._outermost(side))
            if inwards > 0 and not row.last:
                self._pass(1 - side, row.ends[side], only=inwards)

    def _single(self, row: Row) -> None:
        """A row of two pairs: they meet, the worker turns round its one pin, they meet again. If that one leaves then,
        or ends on the far side, the other is the worker from there on.

        Where the end of a strip cuts a fan next to a valley, one of the two goes round the outer pin too.
        """
        inner = 1 - row.outer if row.outer != NOWHERE else LEFT
        place = row.ends[inner]
        self._meet(0, place)
        self.worker = 1 - self.worker
        if (pin := row.pins[inner] or row.pins[1 - inner]) is not None:
            self._round(pin)
            self._inner, self._uses = [pin, pin], [1, 1]
        self._meet(0, place)
        self.worker = self.near if not row.leaving[self.near] else 1 - self.near
        if row.outer != NOWHERE:
            outermost, outer_pin = self._outermost(row.outer), row.pins[row.outer]
            if outer_pin is not None and outer_pin != pin:
                self.worker = outermost
                self._round(outer_pin)
        self._at, self._side, self._about = place, None, None

    def _turn(self, side: int, row: Row, pin: Place | None) -> None:
        """The worker goes to a side and turns round the pin there.

        About an inner corner it turns only on its way from one outer pin to the next; once the inner side has a
        pin of its own again, that one serves. Where a side has two pins in turn and the other side none between,
        the worker turns there without a pin, by a turning stitch.
        """
        if pin is None and row.corner[side] and (self._inner[side] or self._bend[side]):
            self._about = side if side != self._side else None
            return
        if self._about is not None and self._about != side:
            self._corner(self._about, row)
        self._about = None
        if side == self._side:
            if pin is None:
                return
            self._without_pin(1 - side, row.ends[1 - side])
        self._side = side
        if pin is None:
            self._inner[side], self._bend[side] = None, row.ends[side]
            if row.last and side != self.near:
                self._pass(side, row.ends[side])
            else:
                self._without_pin(side, row.ends[side])
            return
        self._uses[side] = self._uses[side] + 1 if pin == self._inner[side] else 1
        self._inner[side] = pin
        if self._uses[side] >= max(2, self.habits.turning_from):
            self._without_pin(side, pin)
            return
        self._pass(side, pin)
        self._round(pin)

    def _corner(self, side: int, row: Row) -> None:
        """The worker goes to an inner corner and turns: round its pin, or from some use on by a turning stitch.

        Where no pin stands at the inner corner, as at the middle of a square, every turn is a turning stitch.
        """
        self._side = side
        if self.worker == self._outermost(side):
            return  # few pairs are left: it is there already
        self._uses[side] += 1
        pin = self._inner[side]
        end = pin or self._bend[side] or row.ends[side]
        if pin is None or self._uses[side] >= self.habits.turning_from:
            self._without_pin(side, end)
            return
        self._pass(side, end)
        self._round(pin)

    def _without_pin(self, side: int, end: Place) -> None:
        """The worker goes to a side where no pin is and turns by a turning stitch, if it is not there already."""
        if self.worker != self._outermost(side):
            self._pass(side, end, short=1)
            self._meet(self.worker if side == RIGHT else 0, end, TURNING_STITCH)

    def _round(self, pin: Place) -> None:
        segment = self.pairs[self.worker]
        self.ledger.turn(segment, pin)
        self.ledger.twist(segment, self.habits.at_pins)

    def _pass(self, side: int, end: Place, short: int = 0, only: int = -1) -> None:
        """The worker goes through the passives towards a side, but for the last `short`, or `only` so many."""
        left = abs(self._outermost(side) - self.worker) - short
        crossings = left if only < 0 else only
        start = self._at or end
        for number in range(crossings):
            share = (number + 0.5) / crossings
            place = (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))
            self._meet(self.worker if side == RIGHT else self.worker - 1, place)
            self.worker += 1 if side == RIGHT else -1
            if number + 1 < crossings and self.worker in self._eyes:
                self.ledger.open(self.pairs[self.worker], TWISTS, self.worker)
        self._at = end

    def _meet(self, at: int, place: Place, moves: str = "") -> None:
        moves = moves or STITCHES[self.stitch].moves
        left, right = self.pairs[at : at + 2]
        self.pairs[at : at + 2] = self.ledger.cross(left, right, moves, place, BLOCK, self.worker - at)

    def _outermost(self, side: int) -> int:
        return 0 if side == LEFT else len(self.pairs) - 1


def passives_left_of(eye: Place, ends: tuple[Place, Place], passives: int) -> int:
    """How many passives of a row lie to the left of an eye, at least one and one less than there are."""
    (left, top), (right, bottom) = ends
    along = (right - left, bottom - top)
    share = ((eye[0] - left) * along[0] + (eye[1] - top) * along[1]) / (along[0] ** 2 + along[1] ** 2)
    return min(max(int(share * passives + 0.5), 1), passives - 1)
