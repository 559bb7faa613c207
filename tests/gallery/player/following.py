"""The whole text, followed from the hanging on to the finish."""

from __future__ import annotations

import re
from collections.abc import Callable

from player.blocks import Rowing
from player.board import Board
from player.fault import Fault, must
from player.finishing import finish
from player.ground import follow_corner, follow_figure, follow_line
from player.hanging import hang
from player.head import read_head
from player.pricking import ROUND, Pricking
from player.reading import DASH, TIMES, Item, Section, numbers, sections, swapped
from player.sentences import read_step
from player.steps import Corner, Done, Figure, Line, renumbered
from player.stitches import read_stitches

_QUARTER = re.compile(
    rf"The (left|bottom|right|top) quarter( again, up to the start line)?, (pins (\d+(?:{DASH}\d+)?)|no pins)"
)
_SECTION = re.compile(
    rf"(The work|Further on|The beginning|The end|What comes (?:once|twice|\d+ times))(?:, pins (\d+(?:{DASH}\d+)?))?"
)
_TURN = re.compile(
    r"Turn the pillow a quarter (anti)?clockwise: the (left|bottom|right|top) edge now lies on your left\."
)
_AGAIN = re.compile(
    r"Work (?:step (\d+)|steps (\d+) (?:and|to) (\d+)) (once|twice|\d+ times) more, beginning with pins? ([\d, "
    r"and]+): each time "
    r"every pin is (\d+) on(?:, every block or fan (\d+))?(?:; blocks? ([\d, and]+) go(?:es)? on)?\."
)


def follow(text: str, pricking: Pricking, after: Callable[[Board], None] = lambda board: None) -> Board:
    """Follow a text on a pricking to its end; the board as it is then. after: shown the board after every sentence that
    tells what to do. Fault at the first sentence that cannot be."""
    told = sections(text)
    head = read_head(told, pricking)
    if head.mirrored:
        told = [Section(swapped(each.heading), [Item(n, swapped(w)) for n, w in each.items]) for each in told]
        pricking = pricking.mirrored()
    names = [each.heading for each in told]
    before = ["How to read it", "The stitches", "Hang on the pairs"]
    must(names[1:4] == before and names[-1] == "Finish", f"the sections {names}")
    words = {each.heading: " ".join(item.words for item in each.items) for each in (*told[1:4], told[-1])}
    turns = read_stitches(words["How to read it"], words["The stitches"], head, pricking)
    pillow = hang(words["Hang on the pairs"], head, pricking)
    board = Board(head, pricking, pillow, turns.left_first)
    board.hung = [(pair.at, pair.to) for pair in pillow.pairs if not pair.passive]
    player = _Player(board, head.mirrored, after)
    for section in told[4:-1]:
        player.section(section)
    finish(board, words["Finish"])
    must(turns.turned is None or turns.turned == len(board.quarters) - 1, "how often the pillow is turned")
    return board


class _Player:
    """Steps one after the other, and again."""

    def __init__(self, board: Board, mirrored: bool, after: Callable[[Board], None]) -> None:
        self.board, self.mirrored, self.after = board, mirrored, after
        self.steps: dict[int, list[Done]] = {}
        self.first_pin: dict[int, int] = {}

    def section(self, section: Section) -> None:
        board, items = self.board, list(section.items)
        before = board.last
        if board.pricking.worked_round:
            read = _QUARTER.fullmatch(section.heading)
            if read is None:
                raise Fault(f"no heading of a quarter: {section.heading!r}")
            self._turned(read[1], read[2] is not None, items)
            pins = read[4]
        else:
            read = _SECTION.fullmatch(section.heading)
            if read is None:
                raise Fault(f"no heading: {section.heading!r}")
            pins = read[2]
        often = None
        for item in items:
            if item.number:
                must(item.number == len(self.steps) + 1, f"step {item.number} is told after step {len(self.steps)}")
                self.steps[item.number] = read_step(item.words)
                self.first_pin[item.number] = board.last + 1
                try:
                    self._do(self.steps[item.number])
                except Fault as fault:
                    raise Fault(f"step {item.number}, {item.words!r}: {fault}") from None
                once = board.last
            else:
                once = board.last
                often = self._again(item.words)
            self.after(board)
        if read[1].startswith("What comes"):
            told = read[1].removeprefix("What comes ").removesuffix(" times")
            must(int(TIMES.get(told, 0) or told) == often, f"{read[1]}: it comes {often} times")
            self._range(pins, before, once)
        else:
            self._range(pins, before, board.last)

    def _range(self, told: str | None, before: int, last: int) -> None:
        own = tuple(range(before + 1, last + 1))
        must((numbers(told) if told else ()) == own, f"pins {told} are told, {own[:1]} to {own[-1:]} are put up")

    def _turned(self, quarter: str, again: bool, items: list[Item]) -> None:
        board = self.board
        must(again == (quarter in board.quarters), "a quarter once more, up to the start line")
        if board.quarters:
            read = _TURN.fullmatch(items.pop(0).words) if items else None
            if read is None:
                raise Fault("the pillow is not turned")
            must(read[2] == quarter, f"the {read[2]} edge is told to lie on the left in the {quarter} quarter")
            must((read[1] is not None) == self.mirrored, "the pillow is turned the wrong way")
            after = ROUND[(ROUND.index(board.quarter) + 1) % 4]
            must(after == quarter, f"after the {board.quarter} quarter the {quarter} one is told")
        board.quarters.append(quarter)
        board.quarter = quarter

    def _do(self, done: list[Done]) -> None:
        for each in done:
            if isinstance(each, Line):
                follow_line(self.board, each)
            elif isinstance(each, Figure):
                follow_figure(self.board, each)
            elif isinstance(each, Corner):
                follow_corner(self.board, each)
            else:
                Rowing(self.board, each).follow()

    def _again(self, words: str) -> int:
        """Steps worked again, with other pins and blocks; how often they come in all."""
        read = _AGAIN.fullmatch(words)
        if read is None:
            raise Fault(f"nothing to do: {words!r}")
        first, last = (int(read[1]), int(read[1])) if read[1] else (int(read[2]), int(read[3]))
        must(first <= last == len(self.steps), f"steps {first} to {last} are worked again after step {len(self.steps)}")
        told = read[4].removesuffix(" times")
        times = TIMES.get(told) or int(told)
        begins, on, blocks = numbers(read[5]), int(read[6]), int(read[7] or 0)
        staying = numbers(read[8]) if read[8] else ()
        must(len(begins) == times, f"{times} times, beginning with {len(begins)} pins")
        for time, begin in enumerate(begins, 1):
            must(begin == self.board.last + 1 == self.first_pin[first] + time * on, f"it begins again with pin {begin}")
            for number in range(first, last + 1):
                again = [
                    renumbered(
                        each,
                        lambda pin, time=time: pin + time * on,
                        lambda block, time=time: block if block in staying else block + time * blocks,
                    )
                    for each in self.steps[number]
                ]
                self._do(again)
        return times + 1
