"""The file of a square: JSON text, written and read.

`to_text` and `from_text` are exact inverses on valid squares.
"""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import Any

from constraints import edging, forms
from constraints.edging import Headside
from constraints.forms import FORMS, Form
from constraints.lattice import Point
from constraints.square import LARGEST_HALF_SIZE, MOST_REPEATS, Block, FieldFilling, Print, Ring, Square
from constraints.stitches import FILLINGS, GROUND, SPIDERS, STITCHES
from constraints.symmetry import OF_STRIPS, SYMMETRIES

FORMAT, VERSION = "stampwork square", 3
# Outlines of a print as it is traced have some hundred points.
MOST_POINTS = 10_000


class SquareError(ValueError):
    """A square file that does not say what a square must say. The message is one clear line."""


# --- writing ---------------------------------------------------------------------------------------------

_PLACES_KEY = {"rose ground": "holes", "spider": "centres", "double torchon ground": "pinholes"}


def to_text(square: Square) -> str:
    """The square as JSON text, one block or filling a line."""
    lines = []
    for key, value in _as_json(square).items():
        if key in ("blocks", "fillings") and value:
            inner = ",\n".join("  " + _compact(item) for item in value)
            lines.append(f"{_compact(key)}: [\n{inner}\n ]")
        else:
            lines.append(f"{_compact(key)}: {_compact(value)}")
    return "{" + ",\n ".join(lines) + "}\n"


def _compact(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)


def _as_json(square: Square) -> dict[str, Any]:
    fillings = []
    for each in square.fillings:
        entry: dict[str, Any] = {"filling": each.filling}
        if each.legs:
            entry["legs"] = each.legs
        entry[_PLACES_KEY[each.filling]] = [list(place) for place in each.places]
        fillings.append(entry)
    data: dict[str, Any] = {
        "format": FORMAT,
        "version": VERSION,
        "number": square.number,
        "form": square.form.name,
        **_measures(square.form),
        "pitch_mm": square.pitch_mm,
        "worked": square.worked,
        "start": square.start,
        "symmetry": square.symmetry,
        "passives": square.passives,
        "edging": square.edging,
        "pairs": square.pairs,
        "ground": square.ground,
        "splits": square.splits,
        "blocks": [
            {"stitch": block.stitch, "pinholes": [list(p) for p in block.pinholes]} for block in square.blocks
        ],
        "fillings": fillings,
    }
    if square.composition:
        data["composition"] = square.composition
    if square.stamp is not None:
        data["stamp"] = {
            "name": square.stamp.name,
            "size": square.stamp.size,
            "turn_degrees": square.stamp.turn_degrees,
            "reverse": square.stamp.reverse,
            "match": square.stamp.match,
            "outlines": [[list(point) for point in ring] for ring in square.stamp.outlines],
        }
    data["seed"] = square.seed
    data["brief"] = dict(square.brief)
    return data


def _measures(form: Form) -> dict[str, Any]:
    """The measures of a form, its headside only where it has one."""
    found = asdict(form)
    if not found.get("headside"):
        found.pop("headside", None)
        found.pop("both", None)
    return found


# --- reading ---------------------------------------------------------------------------------------------


def from_text(text: str) -> Square:
    """Read a square from JSON text. SquareError with one line if it is damaged or says something impossible.

    Reading checks that every value is of its kind and in its range; whether the lace can be worked is the
    business of `constraints.check`.
    """
    try:
        data = json.loads(text)
    except (ValueError, RecursionError) as error:
        raise SquareError(f"not a JSON text ({error})") from None
    read = _Reader(data, "the file")
    if read.text("format") != FORMAT:
        raise SquareError(f'"format" must be "{FORMAT}"')
    version = read.whole("version", 1, 10**6)
    if version > VERSION:
        raise SquareError(f'"version" is {version}; this release reads versions 1 to {VERSION}')
    form = _form(read, version)
    return Square(
        number=read.whole("number", 0, 10**9),
        form=form,
        pitch_mm=read.number("pitch_mm", 0.1, 100.0),
        worked=read.choice("worked", form.ways),
        start=read.text("start", default="top-left"),
        symmetry=read.choice("symmetry", OF_STRIPS if form.name == forms.Strip.name else tuple(SYMMETRIES)),
        passives=read.whole("passives", 0, 100),
        edging=read.choice("edging", ("footside",), default="footside"),
        pairs=read.whole("pairs", 1, 10**5),
        ground=read.choice("ground", (GROUND,), default=GROUND),
        splits=read.whole("splits", 0, 10**6),
        blocks=tuple(_block(item, form) for item in read.items("blocks")),
        fillings=tuple(_filling(item, form) for item in read.items("fillings")),
        composition=read.text("composition", default=""),
        stamp=_print(read.inside("stamp")) if "stamp" in read.data else None,
        seed=read.whole("seed", 0, 2**63),
        brief=read.inside("brief").data if "brief" in read.data else {},
    )


def _form(read: _Reader, version: int) -> Form:
    """The form with its measures; files of version 1 hold squares only."""
    if version == 1:
        read.whole("opening", 0, 0, default=0)
        return forms.Square(read.whole("half_size", 1, LARGEST_HALF_SIZE))
    name = read.choice("form", tuple(FORMS))
    if name == forms.Strip.name:
        columns = read.whole("columns", 2, 2 * LARGEST_HALF_SIZE)
        rows = read.whole("rows", 2, 2 * LARGEST_HALF_SIZE)
        if rows % 2:
            raise SquareError(f'"rows" is {rows}; a repeat has an even number of rows')
        repeats = read.whole("repeats", 2, MOST_REPEATS)
        return forms.Strip(columns, rows, repeats, _headside(read), read.yes_no("both", default=False))
    if name == forms.Square.name:
        return forms.Square(read.whole("half_size", 1, LARGEST_HALF_SIZE), _headside(read))
    width, height = (read.whole(key, 1, LARGEST_HALF_SIZE) for key in ("half_width", "half_height"))
    if name == forms.Rectangle.name:
        return forms.Rectangle(width, height)
    return forms.Frame(width, height, read.whole("band", 1, max(1, min(width, height) - 1)), _headside(read))


def _headside(read: _Reader) -> Headside | None:
    if "headside" not in read.data:
        return None
    inside = read.inside("headside")
    kind = inside.choice("kind", edging.KINDS)
    depths, pairs = edging.depths(kind), edging.pairs_of(kind)
    return Headside(
        kind=kind,
        stitch=inside.choice("stitch", ("",) if kind == edging.GROUND_SCALLOP else edging.STITCHES),
        depth=inside.whole("depth", depths[0], depths[-1]),
        pairs=inside.whole("pairs", pairs[0], pairs[-1]),
        first=inside.whole("first", 0, LARGEST_HALF_SIZE),
    )


def _block(read: _Reader, form: Form) -> Block:
    return Block(read.choice("stitch", tuple(STITCHES)), read.points("pinholes", form, pinholes=True))


def _filling(read: _Reader, form: Form) -> FieldFilling:
    words = read.choice("filling", tuple(filling.words for filling in FILLINGS.values()))
    legs = 0
    if words == "spider":
        legs = read.whole("legs", 1, 100)
        if legs not in [spider.legs for spider in SPIDERS]:
            raise SquareError(f'"legs" is {legs}; spiders have 8, 12 or 16')
    pinholes = words == "double torchon ground" or legs == 12
    return FieldFilling(words, read.points(_PLACES_KEY[words], form, pinholes=pinholes), legs)


def _print(read: _Reader) -> Print:
    return Print(
        name=read.text("name", default=""),
        size=read.number("size", 0.0, 10**4),
        turn_degrees=read.number("turn_degrees", -360.0, 360.0),
        outlines=tuple(read.rings("outlines")),
        match=read.number("match", 0.0, 1.0),
        reverse=read.yes_no("reverse", default=False),
    )


class _Reader:
    """Reads one JSON object; every complaint names the key, the value found and what is allowed."""

    def __init__(self, data: Any, where: str) -> None:
        if not isinstance(data, dict):
            raise SquareError(f"{where} must be a JSON object")
        self.data: dict[str, Any] = data
        self.where = where

    def _get(self, key: str, default: Any) -> Any:
        if key in self.data:
            return self.data[key]
        if default is None:
            raise SquareError(f'"{key}" is missing from {self.where}')
        return default

    def text(self, key: str, default: str | None = None) -> str:
        value = self._get(key, default)
        if not isinstance(value, str):
            raise SquareError(f'"{key}" must be a text, not {_short(value)}')
        return value

    def choice(self, key: str, allowed: tuple[str, ...], default: str | None = None) -> str:
        value = self.text(key, default)
        if value not in allowed:
            raise SquareError(f'"{key}" is {_short(value)}; allowed: {", ".join(allowed)}')
        return value

    def whole(self, key: str, least: int, most: int, default: int | None = None) -> int:
        value = self._get(key, default)
        if not isinstance(value, int) or isinstance(value, bool) or not least <= value <= most:
            raise SquareError(f'"{key}" must be a whole number from {least} to {most}, not {_short(value)}')
        return value

    def number(self, key: str, least: float, most: float) -> float:
        value = self._get(key, None)
        if not isinstance(value, int | float) or isinstance(value, bool) or not least <= value <= most:
            raise SquareError(f'"{key}" must be a number from {least:g} to {most:g}, not {_short(value)}')
        return float(value)

    def yes_no(self, key: str, default: bool) -> bool:
        value = self._get(key, default)
        if not isinstance(value, bool):
            raise SquareError(f'"{key}" must be true or false, not {_short(value)}')
        return value

    def inside(self, key: str) -> _Reader:
        return _Reader(self._get(key, None), f'"{key}"')

    def items(self, key: str) -> list[_Reader]:
        return [_Reader(item, f'each entry of "{key}"') for item in self._list(key)]

    def points(self, key: str, form: Form, pinholes: bool) -> tuple[Point, ...]:
        left, top, right, bottom = form.box
        parity = form.parity if pinholes else 1 - form.parity
        points = []
        for value in self._list(key):
            if not _is_pair(value, int) or not (left <= value[0] <= right and top <= value[1] <= bottom):
                within = f"x {left} to {right}, y {top} to {bottom}"
                raise SquareError(f'"{key}" must list [x, y] within {within}, not {_short(value)}')
            if (value[0] + value[1]) % 2 != parity:
                kind = f"{'odd' if parity else 'even'} at a {'pinhole' if pinholes else 'hole'}"
                raise SquareError(f'"{key}" holds {_short(value)}: x + y is {kind}')
            points.append((value[0], value[1]))
        if len(set(points)) != len(points):
            raise SquareError(f'"{key}" names a place twice')
        return tuple(sorted(points, key=lambda p: (p[1], p[0])))

    def rings(self, key: str) -> list[Ring]:
        rings = []
        for ring in self._list(key):
            if not isinstance(ring, list) or len(ring) < 3 or not all(_is_pair(p, int | float) for p in ring):
                raise SquareError(f'"{key}" must list rings of at least three [x, y]')
            if any(abs(number) > 10**5 for point in ring for number in point):
                raise SquareError(f'"{key}" runs outside every piece')
            rings.append(tuple((float(x), float(y)) for x, y in ring))
        points = sum(map(len, rings))
        if points > MOST_POINTS:
            raise SquareError(f'"{key}" has {points} points; at most {MOST_POINTS} are read')
        return rings

    def _list(self, key: str) -> list[Any]:
        value = self._get(key, None)
        if not isinstance(value, list):
            raise SquareError(f'"{key}" must be a list')
        return value


def _is_pair(value: Any, kind: Any) -> bool:
    return (
        isinstance(value, list)
        and len(value) == 2
        and all(isinstance(v, kind) and not isinstance(v, bool) and v == v for v in value)
    )


def _short(value: Any) -> str:
    text = json.dumps(value, ensure_ascii=False, default=str)
    return text if len(text) <= 40 else text[:37] + "..."
