"""Cards for the tests of redrafting that the program pricks itself: a strip drawn at random, its pricking printed to a
picture, and the picture scanned or photographed badly: tilted, seen aslant, noisy, some of its dots lost, pricked by
hand, soiled, drawn over. How badly is made up."""

from __future__ import annotations

import io
import sys
from dataclasses import dataclass, replace
from math import lcm
from pathlib import Path
from random import Random

import numpy as np
from PIL import Image, ImageDraw

sys.path.append(str(Path(__file__).parents[1] / "constraints"))

from designs import bar, spiders
from redrafting_pins import pins_of
from strips import strip

from constraints.check import check
from constraints.design import Design, FieldFilling
from constraints.edgings import EDGINGS, FOOTSIDE, Fan
from constraints.edgings.own_figures import with_own
from constraints.forms import Strip
from constraints.lattice import Point
from constraints.working.habits import Habits
from constraints.working.work import work
from gallery.paper.layers import Dots, Layer, Leaf, figure
from gallery.paper.page import house_rules
from gallery.pricking.drawn import PrickingOptions
from gallery.pricking.pages import leaf_of_all


@dataclass(frozen=True)
class Edge:
    """kind: of the headside, or a footside; depth: 0 for that. both: along both sides."""

    kind: str
    depth: int
    both: bool


EDGES = (
    Edge(FOOTSIDE, 0, False),
    *(Edge(kind, depth, both) for kind, each in EDGINGS.items() for depth in each.depths for both in (False, True)),
)


@dataclass(frozen=True)
class Scan:
    """tilt: degrees clockwise. aslant: how much smaller the far end of the picture is than the near one, a share.
    noise: of 255. lost: the share of the dots that are not there. off: how far from its place a dot is pricked, at the
    most, a share of the pitch. turned: quarter turns clockwise before it is seen. mirrored: from side to side. shadow:
    how much darker it is under the darkest of it, a share. table: the card lies on a dark one. bent: how far the middle
    of the picture's length stands aside, a share of its width. smudges, lines: so many of them, lines across the whole
    card. quality: of a JPEG; 0 for a PNG."""

    tilt: float = 0.0
    aslant: float = 0.0
    noise: float = 0.0
    lost: float = 0.0
    off: float = 0.0
    turned: int = 0
    mirrored: bool = False
    shadow: float = 0.0
    table: bool = False
    bent: float = 0.0
    smudges: int = 0
    lines: int = 0
    quality: int = 0
    dots_per_inch: int = 150


def printed(edge: Edge, seed: int, repeats: int = 4) -> Design:
    """A strip with this edge, with blocks and spiders where the check accepts them."""
    random = Random(f"{edge} {seed}")
    while True:
        made = _drawn(edge, random, repeats)
        if made is not None:
            return made


def _drawn(edge: Edge, random: Random, repeats: int) -> Design | None:
    depth = edge.depth
    rows = 2 * (depth or random.randint(4, 8))
    rows *= random.randint(1, max(1, 20 // rows))
    columns = random.randint(9, 16) + (1 + edge.both) * depth
    first = random.randrange(2 * depth) if depth else 0
    pairs = 2 if edge.kind == Fan.kind else random.randint(3, 6)
    headside = None
    if depth:
        kind = EDGINGS[edge.kind]
        headside = kind("cloth" if "cloth" in kind.stitches else "", depth, pairs, first)
    form = Strip(columns, rows, repeats, headside, edge.both)
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


def pricked(design: Design, scan: Scan, seed: int) -> tuple[bytes, int]:
    """The pricking of a strip as a picture of it, PNG or JPEG, and how many of its dots are lost."""
    rng = np.random.default_rng(seed)
    whole = leaf_of_all(work(design, Habits()), "Greenhouse edging", PrickingOptions(), "whole")
    leaf, lost = _by_hand(whole, scan, design.pitch_mm, rng)
    with house_rules():
        out = io.BytesIO()
        figure(leaf, scan.dots_per_inch).savefig(out, format="png", dpi=scan.dots_per_inch)
    image = Image.open(out).convert("L")
    if scan.lines:
        _drawn_over(image, scan.lines, rng)
    image = image.transpose(Image.Transpose.FLIP_LEFT_RIGHT) if scan.mirrored else image
    image = _seen(image.rotate(-90 * scan.turned, expand=True), scan)
    values = _lit(np.asarray(image, dtype=float) * 0.9, scan, rng)
    values += rng.normal(0, scan.noise, values.shape) if scan.noise else 0
    out = io.BytesIO()
    dpi = (scan.dots_per_inch, scan.dots_per_inch)
    found = Image.fromarray(values.clip(0, 255).round().astype(np.uint8))
    if scan.quality:
        found.save(out, "JPEG", quality=scan.quality, dpi=dpi)
    else:
        found.save(out, "PNG", dpi=dpi)
    return out.getvalue(), lost


def _by_hand(leaf: Leaf, scan: Scan, pitch_mm: float, rng: np.random.Generator) -> tuple[Leaf, int]:
    """The leaf with some of its dots lost and the others a little off their places."""
    layers, lost = [], 0
    for layer in leaf.layers:
        if layer.name == "pinholes":
            marks = []
            for mark in layer.marks:
                assert isinstance(mark, Dots)
                kept = rng.random(len(mark.centres)) >= scan.lost
                lost += int((~kept).sum())
                centres = mark.centres[kept]
                if scan.off:
                    away, way = (rng.uniform(0, most, len(centres)) for most in (scan.off * pitch_mm, 2 * np.pi))
                    centres = centres + np.stack([away * np.cos(way), away * np.sin(way)], axis=1)
                marks.append(replace(mark, centres=centres))
            layer = Layer(layer.name, tuple(marks))
        layers.append(layer)
    return replace(leaf, layers=tuple(layers)), lost


def _drawn_over(image: Image.Image, lines: int, rng: np.random.Generator) -> None:
    """Pencil lines from edge to edge."""
    draw = ImageDraw.Draw(image)
    for _ in range(lines):
        (x, y), way = rng.uniform(0.1, 0.9, 2) * image.size, rng.uniform(0, np.pi)
        far = max(image.size) * np.array([np.cos(way), np.sin(way)])
        draw.line([x - far[0], y - far[1], x + far[0], y + far[1]], fill=130, width=2)


def _lit(values: np.ndarray, scan: Scan, rng: np.random.Generator) -> np.ndarray:
    """In a light that falls off towards a corner, with the shadow of a hand across it, and soiled."""
    height, width = values.shape
    y, x = np.mgrid[0:height, 0:width]
    light = 1 - 0.5 * scan.shadow * (x / width + y / height) / 2
    light -= 0.5 * scan.shadow / (1 + np.exp(-(x - y * width / height - 0.2 * width) / (0.02 * width)))
    for _ in range(scan.smudges):
        cx, cy, reach = rng.uniform(0, width), rng.uniform(0, height), rng.uniform(5, 40)
        light *= 1 - 0.4 * np.exp(-((x - cx) ** 2 + 2 * (y - cy) ** 2) / (2 * reach**2))
    found: np.ndarray = values * light
    return found


def _seen(image: Image.Image, scan: Scan) -> Image.Image:
    ground = 60 if scan.table else 255
    if scan.table:
        wide = Image.new("L", (image.width + image.width // 4, image.height + image.height // 6), ground)
        wide.paste(image, ((wide.width - image.width) // 2, (wide.height - image.height) // 2))
        image = wide
    turned = image.rotate(-scan.tilt, Image.Resampling.BICUBIC, expand=True, fillcolor=ground)
    if scan.bent:
        turned = _bent(turned, scan.bent)
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
        size, Image.Transform.PERSPECTIVE, _flipped(factors, height), Image.Resampling.BICUBIC, fillcolor=ground
    )


def _bent(image: Image.Image, share: float) -> Image.Image:
    """Card that does not lie flat: its length runs in a bow."""
    values = np.asarray(image)
    height, width = values.shape
    aside = np.rint(share * width * (1 - (2 * np.arange(height) / height - 1) ** 2)).astype(int)
    columns = np.clip(np.arange(width) - aside[:, None], 0, width - 1)
    return Image.fromarray(values[np.arange(height)[:, None], columns])


def _flipped(factors: tuple[float, ...], height: float) -> tuple[float, ...]:
    """The map with its near end at the bottom: (x, y) to (x, height - y), before and after."""
    full = np.array([*factors, 1.0]).reshape(3, 3)
    flip = np.array([[1.0, 0, 0], [0, -1, height], [0, 0, 1]])
    found = flip @ full @ flip
    return tuple((found / found[2, 2]).ravel()[:8].tolist())


Pins = tuple[set[Point], set[Point], int]


def pins(design: Design) -> Pins:
    """Of one repeat: pins on the grid, pins in holes, its rows."""
    assert isinstance(design.form, Strip)
    grid, holes, _ = pins_of(design)
    return grid, holes, design.form.rows


def images(one: Pins, columns: int) -> list[Pins]:
    """A repeat as it is, upside down, mirrored from side to side, and turned by half a turn."""
    grid, holes, rows = one
    odd = 1 - columns % 2  # column + row stays odd at pinholes
    found = []
    for across in (False, True):
        for down in (False, True):
            moved = [
                {
                    (columns - 1 - x if across else x, ((-y if down else y) + (odd if across else 0)) % rows)
                    for x, y in each
                }
                for each in (grid, holes)
            ]
            found.append((moved[0], moved[1], rows))
    return found


def expected(design: Design, scan: Scan) -> list[Pins]:
    """What a card may be read as: of one whose two edges are alike nobody can tell which of them is the left one; and
    one with its footside on the right is read as mirrored, though it may have been turned by half a turn."""
    form = design.form
    assert isinstance(form, Strip)
    every = images(pins(design), form.columns)
    if form.headside is None or form.both:
        return every
    return every[1:2] if scan.turned == 2 else every[:1]


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
