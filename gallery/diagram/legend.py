"""The legend of a working diagram: every line and mark that it uses, and no other."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from constraints.fillings import FILLINGS, GROUNDS, NUMBERS
from constraints.lattice import FloatArray
from constraints.piece import ROUND
from constraints.stitches import STITCHES
from constraints.working.habits import EXCHANGE, GROUND_MOVES, TURNING_STITCH
from constraints.working.work import Work
from gallery.diagram.drawn import (
    EYE,
    EYE_LINE,
    GIMP,
    GIMP_COLOUR,
    INK,
    LINE_COLOURS,
    PIN,
    TURN,
    TURNING,
    TWIST,
    WORKER,
    Diagram,
)
from gallery.diagram.drawn import PAIR as PAIR_WIDTH
from gallery.diagram.guides import CORNER, DASHES, GUIDE
from gallery.diagram.inking import FOOTSIDE, GROUND, SORTS
from gallery.diagram.standing import TIP
from gallery.diagram.start import HELD, START
from gallery.order.edges import counted_from, footsides
from gallery.paper import paths
from gallery.paper.layers import Areas, Dots, Layer, Lines, Mark, Words, gathered, moved
from gallery.paper.page import MM_PER_POINT, Type

FACT = Type(8.5)
# Between two lines, mm; a sample is so long.
LINE, _SAMPLE = 6.6, 13.0
# In the legend's samples one lattice unit is so many mm.
_UNIT = 7.5


@dataclass(frozen=True)
class LegendLine:
    """One line of the legend. marks: drawn from (0, 0) to (_SAMPLE, 0) mm, at half its height."""

    words: str
    marks: tuple[Mark, ...]


def legend(diagram: Diagram) -> list[LegendLine]:
    """Every line and mark that this diagram uses, and no other."""
    sorts = {(each.sort, each.worker) for each in diagram.inking.inked}
    here = [(sort, words) for sort, words in _open(diagram.work) if (sort, False) in sorts]
    found = [LegendLine(words, (_line(LINE_COLOURS[sort], PAIR_WIDTH),)) for sort, words in here]
    for name, ground in GROUNDS.items():
        # The lines of other grounds are told already.
        if (diagram.standing.back & (diagram.work.crossings.filling == NUMBERS[name])).any():
            found.append(LegendLine(ground.legend, (_lozenge(), _dot(PIN, INK))))
    for stitch, each in STITCHES.items():
        colour = LINE_COLOURS[stitch]
        if (stitch, False) in sorts:
            found.append(LegendLine(f"{each.words} ({each.moves}): passive pair", (_line(colour, PAIR_WIDTH),)))
        if (stitch, True) in sorts:
            found.append(LegendLine(f"{each.words}: the worker, from pin to pin", (_line(colour, WORKER),)))
    tips = [SORTS[number] for number in sorted(set(diagram.inking.sort[diagram.standing.tips].tolist()))]
    if tips:
        words = "two pairs at one pin, the tip or waist of a block: they meet, pin, they meet again"
        found.append(LegendLine(words, (*_tip(LINE_COLOURS[tips[0]]), _dot(PIN, INK))))
    return [*found, *(make() for shown, make in _marks(diagram) if shown)]


def _open(work: Work) -> list[tuple[str, str]]:
    """Lines outside blocks, in words."""
    habits, plain = work.habits, footsides(work.design)
    moves = GROUND_MOVES[habits.ground].replace(".", ", pin, ")
    footside = "; ".join(_footside(name, count, moves) for name, count in plain)
    if not plain:
        footside = f"valley pin between two fans: {moves}"
    elif work.layout.piece.headside is not None and work.layout.piece.headside.valley_pins:
        footside += "; the same colour at valley pins"
    return [
        (GROUND, f"pair of the ground: {moves} where two meet at a pin"),
        *((name, filling.legend) for name, filling in FILLINGS.items()),
        (FOOTSIDE, footside),
    ]


def _footside(name: str, count: int, moves: str) -> str:
    if not count:
        return f"twisted {name}: edge pair and pair of the ground, {moves}"
    passives = f"{count} {'passive' if count == 1 else 'passives'}"
    return f"{name} of cloth, {passives} (CTC) and edge pair ({EXCHANGE[:-1]}, pin inside)"


def _marks(diagram: Diagram) -> list[tuple[bool, Callable[[], LegendLine]]]:
    round_, near = diagram.work.design.worked == ROUND, counted_from(diagram.work.design)
    gimps = [str(gimp.called) for gimp in diagram.work.gimps]
    on_lines = {(x, y) for x, y in diagram.work.seams.pins.tolist()}
    shared = any(
        len(turned) > 1 and pin.place in on_lines
        for pin, turned in zip(diagram.work.pins, diagram.work.turned, strict=True)
    )
    one = Words(_SAMPLE / 2, 0.9, "1", Type(7), "center")
    held = () if round_ else (_line(START, HELD / _UNIT),)
    disc = (*held, Dots(_middle(), 4.0, START), Dots(_middle(), 3.5, "#ffffff"), one)
    bar = np.array([[(_SAMPLE / 2, -1.0), (_SAMPLE / 2, 1.0)]])
    arrow = np.array([(12.0, 0.0), (9.6, -1.3), (9.6, 1.3)])
    arrows = (Lines(paths.lines(np.array([[(1.0, 0.0), (10.0, 0.0)]])), 0.5, GUIDE), Areas(paths.rings([arrow]), GUIDE))
    numbered = ", numbered as it is put up" if diagram.wanted.numbers else ""
    turned = "which way the work goes; bent: turn the pillow a quarter" if round_ else "which way the work goes"
    return [
        (len(diagram.twists) > 0, lambda: LegendLine(
            "a twist beside those of the stitch: one bar, one twist",
            (_line(LINE_COLOURS[GROUND], PAIR_WIDTH), Lines(paths.lines(bar), TWIST * _UNIT, INK, butt=True)),
        )),
        (bool(diagram.standing.turning.any()), lambda: LegendLine(
            f"turning stitch ({TURNING_STITCH}): worker and passive, no pin", (_dot(TURN, TURNING),)
        )),
        (len(diagram.eyes) > 0, lambda: LegendLine(
            "eye of a block of cloth: in its row the worker is twisted twice between two passives", (_eye(),)
        )),
        (len(gimps) > 0, lambda: LegendLine(
            f"gimp pair round block{'s' if len(gimps) > 1 else ''} {', '.join(gimps)}: the pairs it passes are twisted "
            "before it and after it", (_line(GIMP_COLOUR, GIMP),)
        )),
        (True, lambda: LegendLine(f"pin{numbered}", (_dot(PIN, INK),))),
        (shared, lambda: LegendLine(
            "pin on a line between two quarters, used from both sides: its block is worked in halves", _on_line()
        )),
        (round_, lambda: LegendLine("start line", (_line(START, 0.04, (2.2, 1.0)),))),
        (True, lambda: LegendLine(f"a pair hung on, counted from the {near}" if round_ else "a pair hung on", disc)),
        (round_, lambda: LegendLine("corner line", (_line(GUIDE, CORNER / _UNIT, DASHES),))),
        (True, lambda: LegendLine(turned, arrows)),
    ]  # fmt: skip


def _middle() -> FloatArray:
    return np.array([[_SAMPLE / 2, 0.0]])


def _line(colour: str, width: float, dash: tuple[float, ...] = ()) -> Lines:
    return Lines(paths.lines(np.array([[(0.0, 0.0), (_SAMPLE, 0.0)]])), width * _UNIT, colour, dash)


def _dot(width: float, colour: str) -> Dots:
    return Dots(_middle(), width * _UNIT, colour)


def _eye() -> Lines:
    angles = np.linspace(0.0, 2 * np.pi, 13)
    ring = _middle() + 0.3 * EYE * _UNIT * np.stack([np.cos(angles), np.sin(angles)], axis=1)
    return Lines(paths.lines(ring[None]), EYE_LINE * _UNIT, INK)


def _lozenge() -> Lines:
    return Lines(paths.lines(_round_pin(2.2)), PAIR_WIDTH * _UNIT, LINE_COLOURS[GROUND])


def _tip(colour: str) -> tuple[Lines, Lines]:
    """Both pairs round a pin, and on one side the worker."""
    around = _round_pin(TIP * _UNIT)
    return (
        Lines(paths.lines(around), PAIR_WIDTH * _UNIT, colour),
        Lines(paths.lines(around[:, :3]), WORKER * _UNIT, colour),
    )


def _round_pin(reach: float) -> FloatArray:
    """(1, 5, 2) a lozenge in the middle of a sample."""
    around = np.array([(0, -1), (1, 0), (0, 1), (-1, 0), (0, -1)])
    corners: FloatArray = _middle() + reach * around
    return corners[None]


def _on_line() -> tuple[Mark, ...]:
    """A corner line, and on it a pin to which pairs come from either side."""
    line = np.array([[(_SAMPLE / 2, -2.6), (_SAMPLE / 2, 2.6)]])
    dashed = Lines(paths.lines(line), CORNER, GUIDE, DASHES)
    return dashed, _dot(PIN, INK)


def legend_layers(entries: list[LegendLine], x: float, y: float) -> tuple[Layer, ...]:
    """The legend with its first line at a place, mm."""
    layers: list[Layer] = []
    for number, entry in enumerate(entries):
        at = y + number * LINE
        layers += moved((Layer("legend", entry.marks),), x, at)
        words = Words(x + _SAMPLE + 4.0, at + 0.36 * FACT.size * MM_PER_POINT, entry.words, FACT)
        layers.append(Layer("legend", (words,)))
    return gathered(layers)
