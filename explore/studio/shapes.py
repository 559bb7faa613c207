"""The outline of a piece before there is one, as the page draws it: its edge with fans, its opening, its grid."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from constraints.forms import Form
from constraints.piece import LEFT_EDGE, RIGHT_EDGE, ROUND
from gallery.looks.excerpt import TALL

# How far beyond a corner the fan across it is bent, as a share of its sides.
_CORNER = 0.3


@dataclass(frozen=True)
class _PieceSide:
    """start: its first end, clockwise. along, out: unit steps to the other end and outwards. long: units. valleys: of
    its fans or scallops the first one and the last, units from its start; None for a plain side."""

    start: tuple[float, float]
    along: tuple[int, int]
    out: tuple[int, int]
    long: float
    valleys: tuple[float, float] | None

    def at(self, far: float, out: float = 0.0) -> str:
        """A point so far along and so far outside, as path data."""
        x, y = (
            start + far * along + out * outwards
            for start, along, outwards in zip(self.start, self.along, self.out, strict=True)
        )
        return f"{x:g} {y:g}"


def outline(form: Form) -> dict[str, Any]:
    """What the page needs, lattice units: `box` and `bounds`, left, top, right, bottom; `parity` of x + y at a
    pinhole; `opening`, its half-sides; `edge`, path data. Of a long strip its first repeats."""
    cut = shown_of(form)
    return {
        "box": cut.box,
        "bounds": cut.bounds,
        "parity": cut.parity,
        "opening": cut.opening,
        "edge": _edge(cut),
    }


def shown_of(form: Form) -> Form:
    """The form; of a long strip its first repeats, two at least."""
    strip = form.repeating
    if strip is None:
        return form
    left, _, right, _ = strip.bounds
    return replace(strip, repeats=min(strip.repeats, max(2, int(TALL * (right - left) / strip.rows))))


def _edge(form: Form) -> str:
    """Once round, with a curve for every fan or scallop."""
    sides = _sides(form)
    told = ["M", sides[0].at(0.0 if sides[0].valleys is None else sides[0].valleys[0])]
    for side, following in zip(sides, sides[1:] + sides[:1], strict=True):
        if side.valleys is not None and form.headside is not None:
            at, last = side.valleys
            told += ["L", side.at(at)]
            while at + form.headside.period <= last:
                # A parabola that stands out by half of what its middle point does.
                told += ["Q", side.at(at + form.headside.depth, form.headside.depth), " "]
                at += form.headside.period
                told += [side.at(at)]
        if ROUND in form.edged and following.valleys is not None:
            far = _CORNER * following.valleys[0]
            told += ["Q", side.at(side.long + far, far), " ", following.at(following.valleys[0])]
        else:
            told += ["L", side.at(side.long)]
    return "".join([*told, "Z"])


def _sides(form: Form) -> list[_PieceSide]:
    """Top, right, bottom and left."""
    left, top, right, bottom = (float(each) for each in form.box)
    wide, high = right - left, bottom - top
    return [
        _PieceSide((left, top), (1, 0), (0, -1), wide, _valleys(form, None, wide)),
        _PieceSide((right, top), (0, 1), (1, 0), high, _valleys(form, RIGHT_EDGE, high)),
        _PieceSide((right, bottom), (-1, 0), (0, 1), wide, _valleys(form, None, wide)),
        _PieceSide((left, bottom), (0, -1), (-1, 0), high, _valleys(form, LEFT_EDGE, high)),
    ]


def _valleys(form: Form, edge: int | None, long: float) -> tuple[float, float] | None:
    """edge: None for the top and the bottom, where only what is worked round has a headside."""
    headside = form.headside
    if headside is None:
        return None
    if ROUND in form.edged:
        corner = 2.0 * headside.first + 1
        return corner, long - corner
    if edge not in form.headside_edges:
        return None
    if form.repeating is None:
        return long / 2 - headside.first, long / 2 + headside.first
    staggered = headside.depth if headside.depth % 2 else 1
    first = (headside.first + (staggered if edge == LEFT_EDGE and form.width % 2 else 0)) % headside.period
    last = first + (long - first) // headside.period * headside.period
    return (first, last) if edge == RIGHT_EDGE else (long - last, long - first)
