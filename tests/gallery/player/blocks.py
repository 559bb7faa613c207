"""Blocks, fans and scallops, row by row: who is in them, and who comes and goes."""

from __future__ import annotations

from itertools import groupby

from player.board import Begun, Board
from player.fault import Fault, must
from player.gimps import past_gimp
from player.ground import cross_over
from player.pillow import Pair
from player.pricking import Place
from player.rows import LEFT, RIGHT, RowsOfBlock
from player.steps import Coming, Rows
from player.worker import Worker


class _Side:
    """What is told of one side, taken off pin by pin."""

    def __init__(self, name: str, told: tuple[Coming, ...]) -> None:
        self.name, self.left, self._within = name, list(told), False

    def take(self, pin: int | None, words: tuple[str, ...]) -> None:
        """What happens at the next pin of the side."""
        each = f"{self.name}: {' and '.join(words)} at {pin or 'no pin'}"
        if not self.left:
            raise Fault(f"{each} is not told")
        told = self.left[0]
        within = sorted((told.pin or 0, told.last or 0))
        later = self._within and pin is not None and told.last is not None and within[0] <= pin <= within[1]
        must(told.words == words and (told.pin == pin or later), f"{each}, told is {told}")
        self._within = told.last != pin
        if not self._within:
            self.left.pop(0)


class Rowing:
    """One step of a block while it is followed."""

    def __init__(self, board: Board, told: Rows) -> None:
        self.board, self.told, self.pillow, self.pricking = board, told, board.pillow, board.pricking
        self.number = self._number()
        board.called[self.number] = f"the {told.kind}" if told.number is None else f"{told.kind} {told.number}"
        self.rows = RowsOfBlock(board.pillow, self.number)
        self.begun = self._begun()
        names = (("left", told.left), ("right", told.right), ("in the middle", told.middle))
        self.sides = [_Side(*each) for each in names]
        self.pairs: list[Pair] = []
        self.fresh = told.how != "go on"
        self.ended: tuple[int, ...] = ()
        self.last_row: list[Place] = []
        # How many pairs came and went over seams in the row that is worked: they pass no gimp.
        self.over_seams = 0
        self.first_pins: set[int] = set()

    def follow(self) -> None:
        told = self.told
        cross_over(self.board, told.over, None, self.pricking.blocks[self.number])
        self.pairs += [self.pillow.pair(number) for number in told.pairs]
        self._first_pairs()
        pair = self.pillow.pair(told.worker)
        way = self.begun.way(pair, fresh=self.fresh)
        worker = Worker(self.board, self.number, self.begun, pair, self.pairs, told.turns, way)
        before = self.board.last
        must(all(1 <= row <= told.rows for row, _ in told.eyes), f"an eye in a row that is not: {told.eyes}")
        for row in range(1, told.rows + 1):
            # One pair may still join at either side; the worker is none of the passives.
            beside = [passives for at, passives in told.eyes if at == row]
            must(all(1 <= each <= len(self.pairs) for each in beside), f"no passives beside an eye in row {row}")
            must(not self.ended, f"block {self.number} ends before {told.rows} rows are worked")
            self._row(self.rows.next_row(self.pairs, self.board.quarter), worker)
        done = tuple(range(before + 1, self.board.last + 1))
        must(done == told.pins, f"pins {done} are put up, told are {told.pins}")
        must(set(told.clefts) == {pin for pin in done if self._between_arms(pin)}, f"between arms {told.clefts}")
        known = all(each.before is None or each.before in self.first_pins for each in told.over)
        must(known, "a cross-over before another pin")
        must(not worker.turns, f"turns that cannot be made: {worker.turns}")
        left = [side.left for side in self.sides if side.left]
        must(not left, f"told of what comes and goes, but nothing does: {left}")
        self._end(worker.pair)

    def _between_arms(self, pin: int) -> bool:
        """Whether a pin stands amid its block, and before it or after it as the work goes is a hole of its quarter that
        lies in the block but for the pinhole farthest from the pin."""
        x, y = self.pricking.pins[pin]
        places = self.pricking.blocks[self.number]
        around = {(x + dx, y + dy) for dx in (-1, 1) for dy in (-1, 1)}
        if (x, y) not in places or not around <= places:
            return False
        quarter = self.pricking.quarter((x, y))
        dx, dy = self.pricking.ahead(quarter)
        for by in (1, -1):
            hole = {(x + by * dx + each * dy, y + by * dy - each * dx) for each in (-1, 1)}
            far = (x + 2 * by * dx, y + 2 * by * dy)
            if far not in places and {self.pricking.quarter(each) for each in (*hole, far)} == {quarter}:
                return True
        return False

    # --- before the first row ------------------------------------------------------------------------------

    def _number(self) -> int:
        told, edging, blocks = self.told, self.pricking.edging, self.pricking.blocks
        if told.number is None:
            must(told.kind == "scallop" and len(edging) == 1, "one scallop goes by no number")
            return next(iter(edging))
        must(told.number in blocks, f"there is no block {told.number} on the map")
        must((told.kind != "block") == (told.number in edging), f"{told.number} is no {told.kind}")
        if told.kind in ("fan", "corner fan"):
            turned = len({self.pricking.quarter(place) for place in blocks[told.number]}) > 1
            must((told.kind == "corner fan") == turned, f"{told.number} is no {told.kind}")
        return told.number

    def _begun(self) -> Begun:
        told, begun = self.told, self.board.begun
        if told.how == "begin":
            must(self.number == len(begun) + 1, f"block {self.number} is begun after {len(begun)} blocks")
            begun[self.number] = Begun(told.in_all or (0, 0))
            valleys = self.rows.valleys() if told.kind in ("fan", "corner fan") else ()
            must(told.valleys == valleys, f"valley pins {told.valleys} are told, {valleys} lie beside it")
        must(self.number in begun, f"block {self.number} has not been begun")
        state = begun[self.number]
        laid = told.how == "begin" and self.number in self.pricking.gimps
        must((told.gimp is not None) == laid, "where a gimp is laid in")
        if told.gimp is not None:
            must(told.gimp[0] == told.pins[0], "a gimp is laid in above the first pin")
            state.gimp = told.gimp[1:]
        return state

    def _first_pairs(self) -> None:
        told, state = self.told, self.begun
        worker = self.pillow.pair(told.worker)
        must(worker in self.pairs, f"worker {told.worker} is none of the pairs {told.pairs}")
        if self.fresh:
            must(not any(pair in state.pairs for pair in self.pairs), f"of pairs {told.pairs} some are in it already")
            first = self.rows.first_side(self.rows.next_row(self.pairs, self.board.quarter))
            outermost = told.pairs[0 if (first or (LEFT if self.board.left_first else RIGHT)) == LEFT else -1]
            must(told.worker == outermost, f"the worker begins outermost, {told.worker} is told")
            state.side.pop(worker, None)  # where it turned in another part, it has not in this one
        else:
            strange = [n for n, pair in zip(told.pairs, self.pairs, strict=True) if pair not in state.pairs]
            must(not strange, f"pairs {strange} are not in block {self.number}")
            known = [pair for pair in self.pairs if pair in state.workers]
            must(not known or worker in known, f"pair {told.worker} is not the worker of block {self.number}")
            state.workers.difference_update(known)
            if not known:  # a worker found anew among the passives has turned nowhere yet
                state.side.pop(worker, None)
        state.workers.add(worker)

    # --- row by row ----------------------------------------------------------------------------------------

    def _row(self, row: list[Place], worker: Worker) -> None:
        state, pins = self.begun, self.rows.pins(row)
        for place in row:
            must(place not in state.worked, f"{place} is worked twice")
            state.worked.add(place)
        if new := [pin for pin in pins if pin > self.board.last]:
            # Before its first pin: by the second one the worker has passed the pairs that come to it.
            cross_over(self.board, self.told.over, min(new), row)
            self.first_pins.add(min(new))
        self.over_seams = 0
        came = self._in(row)
        worker.on_line, worker.first_side = self.rows.on_line(row), self.rows.first_side(row)
        worker.single = len(row) == 1
        pins = {pin: side for pin, side in pins.items() if pin not in worker.on_line or pin > self.board.last}
        if all(side is None for side in pins.values()):
            worker.turn_as_told()
        if len(self.pairs) == 2:  # they meet, the pin, they meet again
            pins |= {pin: 0 for pin in pins if pin != self.rows.outer_pin(row) or len(pins) == 1}
        for pin in sorted(pins):
            worker.visit(pin, pins[pin])
        gone = [not self.rows.stays(place, side) for place in row for side in (LEFT, RIGHT)]
        ends = all(gone)
        for side, order, edge in ((LEFT, gone, 0), (RIGHT, gone[::-1], 1)):
            if not ends and self.rows.edge != edge:
                worker.step_inwards(side, order.index(False))
        self._hand_on(row)
        self._events(came, self._ended(row) if ends else self._out())

    def _in(self, row: list[Place]) -> list[tuple[int, int | None]]:
        """The pairs that come to a row from outside its block: the side at which each does, and its pin."""
        state = self.begun
        coming = [(place, self.pillow.pair(number)) for place in row for number in self.pillow.heading(place)]
        # Within a row that slants pairs go from one place to the next.
        within = sum(above in row for place in row for above in self.pricking.above(place))
        must(len(coming) == 2 * len(row) - within, f"{len(coming)} pairs come to {len(row)} places of {self.number}")
        if self.fresh:
            own = {pair for _, pair in coming}
            extra = [pair for pair in self.pairs if pair not in own and not self.rows.runs_along(pair)]
            must(own <= set(self.pairs) and not extra, f"pairs {self.told.pairs} are not those of its first row")
            edge = self.told.pins[0] if self.told.how == "begin" else None
            past_gimp(self.board, state, [(place, pair.at, place) for place, pair in coming], row, edge)
        came = self._joining(coming)
        self.fresh = False
        state.pairs.update(self.pairs)
        numbers = sorted(self.pillow.place(pair) for pair in self.pairs)
        must(numbers == list(range(numbers[0], numbers[-1] + 1)), f"pairs {numbers} do not lie side by side")
        state.taken.update(numbers)
        return came

    def _joining(self, coming: list[tuple[Place, Pair]]) -> list[tuple[int, int | None]]:
        held = [self.pillow.place(pair) for pair in self.pairs]
        came: list[tuple[int, int | None]] = []
        for place, pair in coming:
            if pair in self.pairs:
                continue
            must(pair not in self.begun.pairs, "a pair of another arm of the block, which is not told")
            self.over_seams += pair.at is not None and self.pricking.seam(pair.at, place)
            came.append((_side(self.pillow.place(pair), held), self._pin(pair.at, place, place)))
            self.pairs.append(pair)
        return came

    def _hand_on(self, row: list[Place]) -> None:
        for place in sorted(row, key=lambda each: self.pricking.along(each, self.board.quarter)):
            left, right = self.pillow.heading(place)
            edge = self.pricking.edge_of.get(place)
            between = self.pillow.passives[edge] if edge is not None else 0
            must(right - left - 1 == between, f"pairs {left} and {right} do not lie side by side")
            self.pillow.worked(place, left, right)

    def _ended(self, row: list[Place]) -> list[tuple[int, int | None]]:
        ways = [(place, place, self.pricking.below(place, side)) for place in row for side in (LEFT, RIGHT)]
        done = self.begun.worked == self.rows.places
        past_gimp(self.board, self.begun, ways, row, max(self.rows.pins(row), default=0) if done else None)
        self.last_row = row
        self.ended = tuple(sorted(self.pillow.place(pair) for pair in self.pairs))
        self.begun.pairs.difference_update(self.pairs)
        return []

    def _out(self) -> list[tuple[int, int | None]]:
        """The pairs that leave the block: the side at which each does, and its pin."""
        leaving = [pair for pair in self.pairs if not self._in_block(pair)]
        kept = [self.pillow.place(pair) for pair in self.pairs if pair not in leaving]
        gone: list[tuple[int, int | None]] = []
        for pair in sorted(leaving, key=self.pillow.place):
            self.over_seams += pair.at is not None and self.pricking.seam(pair.at, pair.to)
            gone.append((_side(self.pillow.place(pair), kept), self._pin(pair.at, pair.to, pair.at)))
            self.pairs.remove(pair)
            self.begun.pairs.remove(pair)
            self.begun.workers.discard(pair)
        return gone

    def _pin(self, at: Place | None, to: Place | None, own: Place | None) -> int | None:
        """The pin at which a pair comes or goes: that of its own place, or over a seam the one on the line."""
        if at is not None and to is not None and at in self.rows.places and self.pricking.seam(at, to):
            on_line = self.pricking.pin_over(at, to)
            if on_line is not None:
                return on_line
        if own is None or own in self.pricking.number:
            return None if own is None else self.pricking.number[own]
        # A row that ends at a pin on the line has no other there; between two lines it goes from one to the other.
        near = 0 if own == at else 1
        beside = sorted((link for link in self.pricking.seams if own in link), key=lambda link: link[near] != own)
        serving = (self.pricking.pin_over(*link) for link in beside)
        return next((pin for pin in serving if pin is not None), None)

    def _in_block(self, pair: Pair) -> bool:
        stays = pair.to in self.rows.places and not pair.over
        over = pair.at is not None and self.pricking.seam(pair.at, pair.to)
        return self.rows.runs_along(pair) or (stays and not over)

    def _events(self, came: list[tuple[int, int | None]], gone: list[tuple[int, int | None]]) -> None:
        """What came and went is told, side by side and pin by pin."""
        for at, side in enumerate((LEFT, RIGHT, 0)):
            events = [(pin, word) for all_, word in ((came, "in"), (gone, "out")) for each, pin in all_ if each == side]
            if side:
                self.begun.passings[at] += len(events) - (self.over_seams if side == RIGHT else 0)
            for pin, group in groupby(events, key=lambda event: event[0]):
                words = tuple(word for _, word in group)
                for each in [words] if pin is not None else [(word,) for word in words]:
                    self.sides[at].take(pin, each)

    # --- the end -------------------------------------------------------------------------------------------

    def _end(self, worker: Pair) -> None:
        told, state = self.told, self.begun
        must(told.ends == self.ended, f"it ends with pairs {self.ended}, told are {told.ends}")
        done = state.worked == self.rows.places
        if self.ended:
            state.workers.discard(worker)
            cut = self.rows.cut(self.last_row)
            rest = "" if done else "start line" if cut else "other"
            must(told.after == rest, f"{told.after!r} is told of the rest")
        else:
            later = "later" if told.how == "begin" else ""
            must(told.after == later, "that it goes on later is told where it begins")
        must(told.gimp_ends == (state.gimp is not None and done), "where a gimp ends")
        if done:
            span = min(state.taken), max(state.taken)
            must(state.told == span, f"{state.told} in all, it took {span}")
            must(state.gimp is None or list(state.gimp) == state.passings, f"the gimp passed {state.passings} pairs")


def _side(number: int, kept: list[int]) -> int:
    return LEFT if number < min(kept) else RIGHT if number > max(kept) else 0
