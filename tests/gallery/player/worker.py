"""The worker of a block: it goes to and fro through all pairs, and turns round pins or as it is told."""

from __future__ import annotations

from player.board import Begun, Board
from player.fault import must
from player.pillow import Pair
from player.steps import Turning

LEFT, RIGHT = -1, 1


class Worker:
    """A worker in one step. pairs: those in the block with it, changed from outside as they come and go. pair: itself.
    turns: those told beside those round new pins, still to be made. way: the pins round which it turns, 0 for a turning
    stitch, noted as it goes."""

    def __init__(
        self,
        board: Board,
        block: int,
        begun: Begun,
        pair: Pair,
        pairs: list[Pair],
        turns: tuple[Turning, ...],
        way: list[int],
    ) -> None:
        self.board, self.block, self.begun, self.pair, self.pairs = board, block, begun, pair, pairs
        self.turns, self.way = list(turns), way
        self.last_pin: int | None = None
        # The pins on corner lines at the row that is worked, and the side to which it turns first, 0 for either;
        # whether that row is a single place.
        self.on_line: list[int] = []
        self.first_side = 0
        self.single = False

    def visit(self, pin: int, side: int | None) -> None:
        """A new pin: at a side; of a row of two pairs, 0; None where it only stands beside the worker's way."""
        self.board.put_up(pin)
        if side is None:
            return
        self.turn_as_told(before=pin)
        self.board.sides[pin] = side
        self.begun.held |= dict.fromkeys([side] if side else [LEFT, RIGHT], pin)
        if side:
            self._turn(side, f"pin {pin}")
        else:
            self._meet_at_pin()
        self.way.append(pin)
        self.last_pin = pin
        self.turn_as_told()

    def _meet_at_pin(self) -> None:
        """Two pairs meet at a single pin."""
        must(len(self.pairs) == 2, f"{len(self.pairs)} pairs at a single pin")
        self._to_end(self.first_side or (LEFT if self.board.left_first else RIGHT))
        self.begun.side[self.pair] = 0

    def turn_as_told(self, before: int | None = None) -> None:
        """The turns that are told before a pin, or after the last one: made before anything else comes or goes, or in a
        row without pins after it."""
        while self.turns and self._is_now(self.turns[0], before):
            turn = self.turns[0]
            if turn.again in self.board.pricking.line_pins and turn.again not in self.on_line:
                must(before is None, f"{turn} is made too early")
                return  # in the row at which that pin stands
            if turn.again in self.on_line and self.single:
                self._meet_at_pin()
                self.way.append(turn.again)
                self.last_pin = turn.again
                self.turns.pop(0)
                continue
            side = self._side(turn)
            if not side or self._at() == side:
                must(before is None, f"{turn} cannot be made")
                return
            self._turn(side, f"{turn}")
            self.way.append(turn.again or 0)
            if turn.again is None:
                self.pass_one(-side)
                if len(self.pairs) == 2:  # it is at the other side already
                    self.begun.side[self.pair] = 0
            else:
                self.last_pin = turn.again
            self.turns.pop(0)

    def _is_now(self, turn: Turning, before: int | None) -> bool:
        if turn.before is not None:
            return turn.before == before
        # What follows one told before a pin comes before that pin too.
        return turn.after == self.last_pin and (before is None or self.last_pin in self.on_line)

    def _side(self, turn: Turning) -> int:
        """The side at which a turn is made; 0 if it is none."""
        if turn.again is None:
            lying = {self.board.pillow.place(self.outermost(side)): side for side in (LEFT, RIGHT)}
            return lying.get(turn.pair, 0)
        pricking = self.board.pricking
        must(turn.again <= self.board.last and turn.again in self.board.sides, f"nothing turned round {turn.again} yet")
        must(pricking.block_of.get(pricking.pins[turn.again]) == self.block, f"{turn.again} is a pin of another block")
        if turn.again in self.on_line:
            return RIGHT
        # One that stands at both sides is turned round again only at the inner side of a corner.
        side = self.board.sides[turn.again] or RIGHT
        must(self.begun.held[side] == turn.again, f"{turn.again} is not the pin that holds the block at that side")
        return side

    def step_inwards(self, side: int, leaving: int) -> None:
        """The outermost pairs of a side leave: a worker among them goes back through the others."""
        ends = self.board.pillow.place(self.outermost(side))
        for _ in range(leaving - abs(self.board.pillow.place(self.pair) - ends)):
            self.pass_one(-side)

    def _at(self) -> int:
        return self.begun.side.get(self.pair, 0)

    def _turn(self, side: int, what: str) -> None:
        must(self.pair in self.pairs, f"{what}: the worker has left its block")
        must(self._at() != side, f"{what}: the worker turned last at that side, and nothing is told between")
        self.begun.side[self.pair] = side
        self._to_end(side)

    def outermost(self, side: int) -> Pair:
        return (min if side == LEFT else max)(self.pairs, key=self.board.pillow.place)

    def _to_end(self, side: int) -> None:
        while self.pair is not self.outermost(side):
            self.pass_one(side)

    def pass_one(self, side: int) -> None:
        """It goes through one passive; the ways on which pairs run stay where they are."""
        self.board.pillow.meet(self.pair, side)
