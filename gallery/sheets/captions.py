"""What a square is, in a few words: of each what differs under its picture, of all what they share at the head.

`FACTS` is the one table of all that can be told.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from constraints import symmetry as symmetries
from constraints.design import Design
from constraints.fillings import ALLOWED, OF_KIND
from constraints.layout import lay
from constraints.links import round_corner
from constraints.lying import lies
from constraints.pins import pins
from constraints.seams import seams_of
from constraints.stamp import Stamp
from constraints.wording import measure
from constraints.wording import shown as number_told
from gallery.looks.excerpt import TALL, shown
from gallery.seeing.knowing import known_as

BETWEEN = " \N{MIDDLE DOT} "

# What all squares share but so few, one in so many at most, is told at the head with their numbers.
_EXCEPTIONS, _IN_SO_MANY = 4, 6

# The words of a fact for a design and the stamps that it carries, "" or none where there is nothing to tell.
FactWords = Callable[[Design, Sequence[Stamp]], Iterable[str]]


@dataclass(frozen=True)
class Fact:
    """words: of a design, in full. brief: as a caption of a sheet has them; None where no sheet tells it. pictured:
    whether the picture tells it too: where captions have no room for all, these go first."""

    words: FactWords
    brief: FactWords | None
    pictured: bool = False


def _plain(told: Callable[[Design], str], pictured: bool = False) -> Fact:
    return Fact(lambda design, _: (told(design),), lambda design, _: (told(design),), pictured)


def _splits(design: Design) -> str:
    return f"{design.splits} split{'' if design.splits == 1 else 's'}" if design.splits else ""


def _seams(design: Design, with_pins: bool) -> str:
    seams = seams_of(lay(design))
    return seams_told(seams.number, len(seams.pins) if with_pins else 0) if seams.number else ""


def _left_open(design: Design) -> str:
    return "left open" if any(each.reverse for each in design.prints) else ""


def _worked(design: Design) -> str:
    """Where its form may be worked in several ways."""
    return design.form.asked_for(design.worked) if len(design.form.ways) > 1 else ""


def _turning(design: Design) -> str:
    turning, headside = round_corner(lay(design).piece), design.form.headside
    if headside is None or not turning:
        return ""
    return f"{turning} pairs turn in each corner {headside.kind}"


def _lies(design: Design, stamps: Sequence[Stamp]) -> tuple[str]:
    return (lies(design, stamps),)


def stitches_used(design: Design) -> tuple[str, ...]:
    """Names of the stitches and fillings in a square, in the order in which a brief names them."""
    used = {block.stitch for block in design.blocks}
    used |= {OF_KIND[each.kind].name for each in design.fillings if each.places}
    return tuple(name for name in ALLOWED if name in used)


def _stitches(design: Design, _: Sequence[Stamp]) -> list[str]:
    return [name.replace("-", " ") for name in stitches_used(design)]


# Whatever a caption tells, by what it is called: in this order, and where there is no room for all, the last go, those
# that the picture tells too before all others.
FACTS: dict[str, Fact] = {
    "pairs": _plain(lambda design: f"{design.pairs} pairs"),
    "size": _plain(measure),
    "pitch": _plain(lambda design: f"pitch {number_told(design.pitch_mm)} mm"),
    "pins": Fact(lambda design, _: (f"{pins(design)} pins",), None),
    "form": Fact(lambda design, _: (design.form.told,), lambda design, _: (shown(design, TALL) or design.form.told,)),
    "edging": _plain(lambda design: design.form.headside.name if design.form.headside is not None else ""),
    "how surely the print is known": _plain(known_as),
    "how the print lies": Fact(_lies, _lies, pictured=True),
    "left open": _plain(_left_open, pictured=True),
    "stitches": Fact(_stitches, _stitches, pictured=True),
    "splits": _plain(_splits),
    "seams": Fact(lambda design, _: (_seams(design, True),), lambda design, _: (_seams(design, False),)),
    "way of working": Fact(lambda *_: (), lambda design, _: (_worked(design),)),
    "turning pairs": _plain(_turning),
    "symmetry": Fact(lambda *_: (), lambda design, _: (symmetries.told(design.symmetry),), pictured=True),
}  # fmt: skip


def facts(design: Design, part: str = "", stamps: Sequence[Stamp] = ()) -> list[str]:
    """All that is told of a square, each fact a few words that stay together on a line. part: what of it the picture
    shows, where that is not all. stamps: what it carries, as they were drawn."""
    told = []
    for name, fact in FACTS.items():
        if name == "form" and part:
            continue
        words = [each for each in fact.words(design, stamps) if each]
        told += [f"{each}," for each in words[:-1]] + words[-1:]
    return [*told, part] if part else told


@dataclass(frozen=True)
class Told:
    """What a sheet tells of its squares. shared: of all of them, once. numbers: of the squares. own: the words that are
    left of each fact, of each square."""

    shared: tuple[str, ...]
    numbers: tuple[int, ...]
    own: tuple[Mapping[str, tuple[str, ...]], ...]

    @property
    def at_head(self) -> tuple[str, ...]:
        """What is shared, as the head of a sheet has it; of one square it is all there is."""
        if len(self.own) < 2 or not self.shared:
            return self.shared
        return f"All: {self.shared[0]}", *self.shared[1:]

    def listed(self, name: str) -> list[str]:
        """A fact as the head has it where captions have no room: its words, each with the squares it holds for."""
        words = dict.fromkeys(word for own in self.own for word in own.get(name, ()))
        return [f"{word} in {numbers_told(self._with(name, word))}" for word in sorted(words, key=_by_number)]

    def _with(self, name: str, word: str) -> list[int]:
        return [number for number, own in zip(self.numbers, self.own, strict=True) if word in own.get(name, ())]


def told_apart(designs: Sequence[Design], stamps: Sequence[Stamp] = (), silent: Collection[str] = ()) -> Told:
    """What is told of squares on one sheet: what they share, and how each differs. silent: facts that are not told.

    What but few lack is told as shared, with the numbers of those.
    """
    shared: list[str] = []
    own: list[dict[str, tuple[str, ...]]] = [{} for _ in designs]
    for name, fact in FACTS.items():
        if fact.brief is None or name in silent:
            continue
        every = [[word for word in fact.brief(design, stamps) if word] for design in designs]
        alike: dict[str, str] = {}
        for word in dict.fromkeys(word for words in every for word in words):
            without = [design.number for design, words in zip(designs, every, strict=True) if word not in words]
            if len(without) <= min(_EXCEPTIONS, len(designs) // _IN_SO_MANY):
                alike[word] = f"{word} but in {numbers_told(without)}" if without else word
        shared += [", ".join(alike.values())] if alike else []
        for each, words in zip(own, every, strict=True):
            further = tuple(word for word in words if word not in alike)
            if further:
                each[name] = further
    return Told(tuple(shared), tuple(design.number for design in designs), tuple(own))


def numbers_told(numbers: Sequence[int]) -> str:
    """Such as "2, 4-7, 9": numbers that rise, three and more in a row as from the first to the last."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{run[0]}\N{EN DASH}{run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs)


def _by_number(words: str) -> tuple[int, str]:
    """Words that begin with a number by that number, before all others."""
    first = words.split(" ")[0]
    return (int(first), "") if first.isdecimal() else (10**9, words)


def seams_told(number: int, pins: int) -> str:
    """Such as "8 seams with 24 pins"; "no seams" where no block crosses a corner line in halves.

    Where both rows at a line are of one place each, no pin stands on it.
    """
    told = f"{number or 'no'} seam{'' if number == 1 else 's'}"
    return f"{told} with {pins} pin{'' if pins == 1 else 's'}" if pins else told


def wrapped(told: list[str], first_width: float, width: float, measure: Callable[[str], float]) -> list[str]:
    """Facts set in lines that measure no more than `width`, the first no more than `first_width`.

    A fact wider than a line is broken between its words; a word wider than a line stands on a line of its own.
    """
    lines = [""]
    used = 0.0
    for between_facts, words in _pieces(told, min(first_width, width), measure):
        between = (" " if lines[-1].endswith(",") else between_facts) if lines[-1] else ""
        wide = measure(words)
        longer = used + (measure(between) if between else 0.0) + wide
        if between and longer > (width if len(lines) > 1 else first_width):
            lines.append(words)
            used = wide
        else:
            lines[-1] += between + words
            used = longer
    return lines


def _pieces(told: list[str], width: float, measure: Callable[[str], float]) -> Iterator[tuple[str, str]]:
    """What must stay together, each with what stands before it on the same line."""
    for fact in told:
        words = [fact] if measure(fact) <= width else fact.split(" ")
        yield BETWEEN, words[0]
        for word in words[1:]:
            yield " ", word
