"""Cards for the tests of redrafting that the program pricks itself: a strip drawn at random, its pricking printed to a
picture, and the picture scanned badly: tilted, seen aslant, noisy, some of its dots lost."""

from __future__ import annotations

import io
import sys
from dataclasses import dataclass, replace
from math import lcm
from pathlib import Path
from random import Random

import numpy as np
from PIL import Image

sys.path.append(str(Path(__file__).parents[1] / "constraints"))

from redrafting_pins import pins_of
from squares import bar, spiders
from strips import strip

from constraints.check import check
from constraints.edging import FAN, FOOTSIDE, KINDS, Headside, depths
from constraints.forms import Strip
from constraints.lattice import Point
from constraints.scallops import with_own
from constraints.square import FieldFilling, Square
from constraints.working.habits import Habits
from constraints.working.work import work
from gallery.paper.layers import Dots, Layer, Leaf, figure
from gallery.paper.page import house_rules
from gallery.pricking.drawn import Wishes
from gallery.pricking.pages import leaf_of_all


@dataclass(frozen=True)
class Edge:
    """kind: of the headside, or a footside; depth: 0 for that. both: along both sides."""

    kind: str
    depth: int
    both: bool


EDGES = (
    Edge(FOOTSIDE, 0, False),
    *(Edge(kind, depth, both) for kind in KINDS for depth in depths(kind) for both in (False, True)),
)


@dataclass(frozen=True)
class Scan:
    """tilt: degrees clockwise. aslant: how much smaller the far end of the picture is than the near one, a share.
    noise: of 255. lost: the share of the dots that are not there."""

    tilt: float = 0.0
    aslant: float = 0.0
    noise: float = 0.0
    lost: float = 0.0
    dots_per_inch: int = 150


def printed(edge: Edge, seed: int) -> Square:
    """A strip with this edge, with blocks and spiders where the check accepts them."""
    random = Random(f"{edge} {seed}")
    while True:
        made = _drawn(edge, random)
        if made is not None:
            return made


def _drawn(edge: Edge, random: Random) -> Square | None:
    depth = edge.depth
    rows = 2 * (depth or random.randint(4, 8))
    rows *= random.randint(1, max(1, 20 // rows))
    columns = random.randint(9, 16) + (1 + edge.both) * depth
    first = random.randrange(2 * depth) if depth else 0
    pairs = 2 if edge.kind == FAN else random.randint(3, 6)
    stitch = "" if edge.kind == KINDS[2] else "cloth"
    form = Strip(columns, rows, 4, Headside(edge.kind, stitch, depth, pairs, first) if depth else None, edge.both)
    try:
        piece = form.repeat()
        made = strip(form, *with_own((), piece))
    except (ValueError, AssertionError):
        return None
    if check(made):
        return None
    beside = np.append(piece.fan, False)[piece.neighbours].any(axis=1) | piece.fan
    open_ = {(x, y) for x, y in piece.pinholes[~beside].tolist()}
    blocks: list[tuple[str, set[Point]]] = []
    figures: dict[int, list[Point]] = {}
    for _ in range(10):
        x, y = random.randrange(2, columns - 2), random.randrange(rows)
        more, own = list(blocks), {legs: list(each) for legs, each in figures.items()}
        if random.random() < 0.7:
            block = {
                (a, b % rows) for a, b in bar((x, y + (x + y + 1) % 2), random.randint(3, 5), random.randint(3, 5))
            }
            if not block <= open_:  # one that touches a fan is the fan's
                continue
            more.append(("cloth", block))
        else:
            legs = random.choice((8, 12, 16))
            own.setdefault(legs, []).append((x, (y + (x + y + (legs == 12)) % 2) % rows))
        fillings: tuple[FieldFilling, ...] = tuple(spiders(set(each), legs) for legs, each in sorted(own.items()))
        tried = strip(form, *more, *with_own(fillings, piece))
        if not check(tried):
            made, blocks, figures = tried, more, own
    return made


def pricked(square: Square, scan: Scan, seed: int) -> tuple[bytes, int]:
    """The pricking of a strip as a scan of it, PNG, and how many of its dots are lost."""
    rng = np.random.default_rng(seed)
    leaf, lost = _without(leaf_of_all(work(square, Habits()), "Greenhouse edging", Wishes(), "whole"), scan.lost, rng)
    with house_rules():
        out = io.BytesIO()
        figure(leaf, scan.dots_per_inch).savefig(out, format="png", dpi=scan.dots_per_inch)
    image = _seen(Image.open(out).convert("L"), scan)
    values = np.asarray(image, dtype=float) * 0.9
    values += rng.normal(0, scan.noise, values.shape) if scan.noise else 0
    out = io.BytesIO()
    dpi = (scan.dots_per_inch, scan.dots_per_inch)
    Image.fromarray(values.clip(0, 255).round().astype(np.uint8)).save(out, "PNG", dpi=dpi)
    return out.getvalue(), lost


def _without(leaf: Leaf, share: float, rng: np.random.Generator) -> tuple[Leaf, int]:
    layers, lost = [], 0
    for layer in leaf.layers:
        if layer.name == "pinholes":
            marks = []
            for mark in layer.marks:
                assert isinstance(mark, Dots)
                kept = rng.random(len(mark.centres)) >= share
                lost += int((~kept).sum())
                marks.append(replace(mark, centres=mark.centres[kept]))
            layer = Layer(layer.name, tuple(marks))
        layers.append(layer)
    return replace(leaf, layers=tuple(layers)), lost


def _seen(image: Image.Image, scan: Scan) -> Image.Image:
    turned = image.rotate(-scan.tilt, Image.Resampling.BICUBIC, expand=True, fillcolor=255)
    if not scan.aslant:
        return turned
    # A camera held at the lower end: what lies further off is smaller, across and along.
    width, height = turned.size
    far = 1 - scan.aslant
    # Of the map from the picture to the card: at the top, so much more of the card a pixel.
    g = (1 / far - 1) / height
    factors = (1.0, width / 2 * g, 0.0, 0.0, 1 + height * g, 0.0, 0.0, g)
    size = (width, height)
    return turned.transform(
        size, Image.Transform.PERSPECTIVE, _flipped(factors, height), Image.Resampling.BICUBIC, fillcolor=255
    )


def _flipped(factors: tuple[float, ...], height: float) -> tuple[float, ...]:
    """The map with its near end at the bottom: (x, y) to (x, height - y), before and after."""
    full = np.array([*factors, 1.0]).reshape(3, 3)
    flip = np.array([[1.0, 0, 0], [0, -1, height], [0, 0, 1]])
    found = flip @ full @ flip
    return tuple((found / found[2, 2]).ravel()[:8].tolist())


Pins = tuple[set[Point], set[Point], int]


def pins(square: Square) -> Pins:
    """Of one repeat: pins on the grid, pins in holes, its rows."""
    assert isinstance(square.form, Strip)
    grid, holes, _ = pins_of(square)
    return grid, holes, square.form.rows


def alike(one: Pins, other: Pins) -> bool:
    """Whether two repeats have the same pins, wherever they are counted from."""
    return least_apart(one, other) == 0


def least_apart(one: Pins, other: Pins) -> int:
    """How many pins of the longer repeat are in one and not in the other, at the best."""
    rows = lcm(one[2], other[2])
    grid, holes = ({(x, y + k * one[2]) for x, y in each for k in range(rows // one[2])} for each in one[:2])
    best = len(grid) + len(holes)
    for shift in range(0, rows, 2):
        moved = [
            {(x, (y + shift + k * other[2]) % rows) for x, y in each for k in range(rows // other[2])}
            for each in other[:2]
        ]
        best = min(best, len(grid ^ moved[0]) + len(holes ^ moved[1]))
    return best
