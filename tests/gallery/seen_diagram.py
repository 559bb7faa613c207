"""A reader of working diagrams: it sees the SVG file as a lacemaker sees the print, lines and signs and nothing else.

What it takes for granted is what the page itself says: how large it is drawn, which colour and width a sign has in the
legend, where pins stand and which number stands beside each. Nothing here imports `constraints` or `gallery`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cached_property
from xml.etree import ElementTree

import numpy as np
import shapely
from numpy.typing import NDArray

Floats = NDArray[np.float64]
_SPACE = "{http://www.w3.org/2000/svg}"
# Of figures of Noto Sans, in sizes of the type: 572 and 724 of 1000 units (its tables hmtx and glyf).
_WIDE, _HIGH = 0.572, 0.724
# A worker that comes so near to a pin and turns there goes round it, half pitches; so near it touches it. So
# near, mm, to the middle of a dot it makes a turning stitch.
_NEAR, _TOUCH, _AT = 0.46, 0.1, 0.002
# It turns where its way bends by more than this, degrees.
_BEND = 25.0


@dataclass(frozen=True)
class Stroke:
    """A line as it is inked, its parts as points (n, 2) mm with curves in eighths. nodes: of each part, where its lines
    and curves meet."""

    layer: str
    colour: str
    width: float
    dashed: bool
    parts: tuple[Floats, ...]
    nodes: tuple[Floats, ...]

    @cached_property
    def line(self) -> shapely.Geometry:
        return shapely.multilinestrings([shapely.linestrings(part) for part in self.parts if len(part) > 1])


@dataclass(frozen=True)
class Word:
    """A number or words. box: left, top, right, bottom of its figures, mm."""

    layer: str
    text: str
    box: tuple[float, float, float, float]


class Seen:
    """All that is on a diagram. unit: mm of half a pitch."""

    def __init__(self, svg: str) -> None:
        root = ElementTree.fromstring(svg)
        self.strokes: list[Stroke] = []
        self.areas: list[tuple[str, str, Floats]] = []
        self.dots: list[tuple[str, str, float, Floats]] = []
        self.words: list[Word] = []
        for layer in root.findall(f"{_SPACE}g"):
            for each in layer:
                self._see(layer.attrib["id"], each)
        said = " ".join(each.text for each in self.words if each.layer == "text")
        pitch, large = re.search(r"pitch ([\d.]+) mm", said), re.search(r"Drawn ([\d.]+) times", said)
        assert pitch is not None
        assert large is not None
        self.unit = float(pitch[1]) * float(large[1]) / 2

    def _see(self, layer: str, each: ElementTree.Element) -> None:
        kind, said = each.tag.removeprefix(_SPACE), each.attrib
        if kind == "path" and "stroke" in said:
            parts = _parts(said["d"])
            parts = [part for part in parts if len(part[0]) > 1]
            self.strokes.append(
                Stroke(layer, said["stroke"], float(said["stroke-width"]), "stroke-dasharray" in said,
                       tuple(points for points, _ in parts), tuple(nodes for _, nodes in parts))
            )  # fmt: skip
        elif kind == "path":
            self.areas += [(layer, said["fill"], points) for points, _ in _parts(said["d"])]
        elif kind == "g":
            circles = [{name: float(c.attrib[name]) for name in ("cx", "cy", "r")} for c in each]
            centres = np.array([(c["cx"], c["cy"]) for c in circles])
            self.dots.append((layer, said["fill"], circles[0]["r"], centres))
        elif kind == "text":
            self._read(layer, each)

    def _read(self, layer: str, each: ElementTree.Element) -> None:
        text, size = each.text or "", float(each.attrib["font-size"])
        x, y = float(each.attrib["x"]), float(each.attrib["y"])
        wide = _WIDE * size * len(text)
        x -= {"middle": wide / 2, "end": wide}.get(each.attrib.get("text-anchor", ""), 0.0)
        self.words.append(Word(layer, text, (x, y - _HIGH * size, x + wide, y)))

    # --- pins ----------------------------------------------------------------------------------------------

    @cached_property
    def pins(self) -> dict[int, Floats]:
        """Number to place, mm, of the pin that is nearest to each number."""
        [centres] = [found for layer, _, _, found in self.dots if layer == "pins"]
        told = [word for word in self.words if word.layer == "numbers"]
        boxes = shapely.box(*np.array([word.box for word in told]).T)
        nearest = shapely.distance(boxes[:, None], shapely.points(centres)[None]).argmin(axis=1)
        return {int(word.text): centres[place] for word, place in zip(told, nearest.tolist(), strict=True)}

    # --- workers -------------------------------------------------------------------------------------------

    @cached_property
    def workers(self) -> list[Floats]:
        """The bold lines, each from where it begins to where it ends, (n, 2) the nodes along it, mm."""
        parts = [nodes for stroke in self.strokes if stroke.layer == "workers" for nodes in stroke.nodes]
        begins = {tuple(part[0].tolist()): part for part in parts}
        goes_on = {tuple(part[-1].tolist()) for part in parts}
        joined = []
        for line in (part for begin, part in begins.items() if begin not in goes_on):
            while (after := begins.get(tuple(line[-1].tolist()))) is not None:
                line = np.concatenate([line, after[1:]])
            joined.append(line)
        return joined

    def turns(self, worker: Floats) -> list[int]:
        """The pins round which a bold line turns, one after the other, 0 for a turning stitch."""
        return [number for number, _ in self._turned(worker)]

    def _turned(self, worker: Floats) -> list[tuple[int, bool]]:
        """The same, and whether it touches the pin."""
        numbers, places = list(self.pins), np.array(list(self.pins.values()))
        found: list[tuple[int, bool]] = []  # whether it touches the pin
        for at, node in enumerate(worker):
            away = np.hypot(*(places - node).T)
            nearest = int(away.argmin())
            inner = 0 < at < len(worker) - 1
            if len(self.turning) and np.hypot(*(self.turning - node).T).min() < _AT:
                found.append((0, True))
            elif away.min() < _TOUCH * self.unit:
                found.append((numbers[nearest], True))
            elif away.min() < _NEAR * self.unit and inner and _bend(worker[at - 1 : at + 2]) > _BEND:
                found.append((numbers[nearest], False))
        # On its way to a pin it may bend close to it.
        return [
            (number, touches)
            for at, (number, touches) in enumerate(found)
            if touches
            or ((number, True) not in found[max(at - 1, 0) : at + 2] and (number, touches) not in found[at - 1 : at])
        ]

    @cached_property
    def turning(self) -> Floats:
        """The dots of turning stitches."""
        found = [centres for layer, _, _, centres in self.dots if layer == "twists"]
        return np.concatenate(found) if found else np.empty((0, 2))

    # --- twists --------------------------------------------------------------------------------------------

    def strayed_bars(self) -> list[tuple[float, float]]:
        """The bars beside a pin of a block which lie on a passive of it: on no worker, on no line of another colour
        (a pair that comes from outside), at no gimp, and not where the start line cuts the block."""
        bold, colours = self._lines("workers"), {each.colour for each in self.strokes if each.layer == "workers"}
        if bold.is_empty:
            return []
        others = {each.colour for each in self.strokes if each.layer == "pairs"} - colours
        # Where a worker goes out at the last pin of a waist, its bar lies a hair beyond its bold line.
        allowed = [(bold, 0.04), (self._lines("pairs", others), 0.25)]
        allowed += [(self._lines("gimps"), 0.5), (self._lines("start"), 0.6)]
        turned = [pin for worker in self.workers for pin in self.turns(worker) if pin]
        pins = shapely.multipoints([self.pins[pin] for pin in turned])
        middles = [part.mean(axis=0) for each in self.strokes if each.layer == "twists" for part in each.parts]
        found = []
        for x, y in (middle.tolist() for middle in middles):
            bar = shapely.Point(x, y)
            near = bar.distance(pins) < 0.5 * self.unit
            if near and all(each.is_empty or bar.distance(each) > away * self.unit for each, away in allowed):
                found.append((x, y))
        return found

    def _lines(self, layer: str, colours: set[str] | None = None) -> shapely.Geometry:
        """All lines of a layer, of some colours or all."""
        of_layer = [each for each in self.strokes if each.layer == layer]
        own = [each.line for each in of_layer if colours is None or each.colour in colours]
        return shapely.union_all(own) if own else shapely.MultiLineString()

    # --- legend --------------------------------------------------------------------------------------------

    def signs(self, legend: bool) -> list[tuple[str, str, float, bool]]:
        """Every line and dot of the legend, or of all else: what it is, colour, width in mm, whether dashed."""
        lines = [("line", each.colour, each.width, each.dashed) for each in self.strokes
                 if (each.layer == "legend") == legend]  # fmt: skip
        dots = [("dot", colour, 2 * r, False) for layer, colour, r, _ in self.dots if (layer == "legend") == legend]
        areas = [("area", colour, 0.0, False) for layer, colour, _ in self.areas
                 if (layer == "legend") == legend and layer != "blocks"]  # fmt: skip
        return sorted({*lines, *dots, *areas})

    @property
    def told(self) -> str:
        """The words of the legend."""
        return "; ".join(each.text for each in self.words if each.layer == "legend")

    def rounded(self) -> list[int]:
        """The pins that a worker goes round without touching them, between two pairs that meet before and after it."""
        return [pin for worker in self.workers for pin, touches in self._turned(worker) if pin and not touches]

    def shared(self) -> list[int]:
        """The pins on corner lines to which several workers go, or one from both sides."""
        dashed = [each.line for each in self.strokes if each.layer in ("guides", "start") and each.dashed]
        lines = shapely.union_all(dashed)
        turned = [pin for worker in self.workers for pin in self.turns(worker)]
        return [pin for pin, place in self.pins.items()
                if turned.count(pin) > 1 and lines.distance(shapely.Point(place)) < _TOUCH * self.unit]  # fmt: skip

    # --- numbers -------------------------------------------------------------------------------------------

    def run_together(self) -> list[str]:
        """The numbers of pins that cover each other, stand side by side nearer than half a figure is wide, or touch the
        disc of a pair."""
        told = [word for word in self.words if word.layer == "numbers"]
        boxes = np.array([word.box for word in told])
        gap = _WIDE / _HIGH * (boxes[:, 3] - boxes[:, 1]) / 4
        wide = shapely.box(boxes[:, 0] - gap, boxes[:, 1], boxes[:, 2] + gap, boxes[:, 3])
        one, other = shapely.STRtree(wide).query(wide, predicate="intersects")
        discs = [shapely.buffer(shapely.points(centres), r) for layer, _, r, centres in self.dots if layer == "start"]
        held = shapely.intersects(shapely.box(*boxes.T), shapely.union_all([disc for each in discs for disc in each]))
        return [told[each].text for each in {*one[one != other].tolist(), *np.flatnonzero(held).tolist()}]


def _bend(three: Floats) -> float:
    """By how much a way bends at the second of three places, degrees."""
    before, after = np.diff(three, axis=0)
    cosine = before @ after / max(np.hypot(*before) * np.hypot(*after), 1e-12)
    return float(np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0))))


_TOKEN = re.compile(r"([MLCQZ])([^MLCQZ]*)")


def _parts(data: str) -> list[tuple[Floats, Floats]]:
    """The parts of path data: points along each, curves in eighths, and its nodes."""
    found: list[tuple[list[Floats], list[Floats]]] = []
    share = np.linspace(0.0, 1.0, 9)[1:, None]
    for letter, rest in _TOKEN.findall(data):
        points = np.array([float(each) for each in re.findall(r"-?\d*\.?\d+", rest)]).reshape(-1, 2)
        if letter == "M":
            found.append(([points[0]], [points[0]]))
            continue
        line, nodes = found[-1]
        if letter == "Z":
            points = nodes[0][None]
        if letter == "C":
            a, (b, c, d) = nodes[-1], points
            along = (1 - share) ** 3 * a + 3 * share * (1 - share) ** 2 * b + 3 * share**2 * (1 - share) * c
            line += list(along + share**3 * d)
        elif letter == "Q":
            a, (b, d) = nodes[-1], points
            line += list((1 - share) ** 2 * a + 2 * share * (1 - share) * b + share**2 * d)
        else:
            line.append(points[-1])
        nodes.append(points[-1])
    return [(np.array(line), np.array(nodes)) for line, nodes in found]
