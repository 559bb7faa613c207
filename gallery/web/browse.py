"""The page to sit with in a browser: one file that holds the squares, both looks, its style and its script.

The template and what it takes in lie in gallery/web/. Everything told by stamps and briefs is escaped; the
browser is told to run nothing but this script and to fetch nothing at all.
"""

from __future__ import annotations

import base64
import hashlib
import json
import zlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from importlib.resources import files
from typing import Any

import numpy as np
import shapely
from jinja2 import Environment, StrictUndefined

from constraints.design import Design
from constraints.difference import comparable
from constraints.fillings import ALLOWED
from constraints.forms import USUAL
from constraints.stamp import Stamp
from gallery.looks.excerpt import TALL, excerpt
from gallery.looks.named import extent
from gallery.web.legend import legend_of
from gallery.web.telling import BY_RANK, facts, told_of, words_of
from gallery.web.vector import vector

_SCRIPTS = ("ink.js", "picks.js", "sheet.js", "changes.js", "dialogs.js", "compare.js", "keys.js", "begin.js")

# How wide a picture is seen, points: about on a sheet, and enlarged; from how many points a lattice unit on every
# thread is drawn there.
_ON_SHEET, _ENLARGED, _FINE = 190.0, 640.0, 3.4

# What can be sorted and filtered by, as the page calls it: label, unit, step.
_MEASURES = {
    "pairs": ("Pairs", "", 1),
    "width": ("Size", "mm", 1),
    "pitch": ("Pitch", "mm", 0.1),
    "solid": ("Solid", "%", 1),
    "splits": ("Splits", "", 1),
    "seams": ("Seams", "", 1),
}
_ORDERS = (
    ("number", "number"),
    ("-surely", "best known"),
    ("solid", "open to dense"),
    ("-solid", "dense to open"),
    ("pairs", "fewest pairs"),
    ("width", "smallest"),
    ("-width", "largest"),
    ("pitch", "finest pitch"),
    ("splits", "fewest splits"),
    ("seams", "fewest seams"),
    ("rank", "most symmetry"),
    ("kinds", "fewest stitches"),
)

# What a printed caption says also where all squares are alike in it.
_PRINTED = {"pairs", "width", "form", "pitch"}

Drawings = Mapping[str, Any]


@dataclass(frozen=True)
class Marked:
    """What was ticked and noted of a square before the page is opened."""

    ticked: bool
    note: str


@dataclass(frozen=True)
class Browsed:
    """What a page shows. drawings: of each square, as `drawings_of` makes them. key: under it a browser keeps ticks.

    program, folder: how the program and the study are named in a command, quoted for a shell. marks: by the
    number of the square. look: the one it opens in. generator: what the page names as its maker.
    """

    generator: str
    study: str
    program: str
    folder: str
    key: str
    brief: str
    stamps: tuple[Stamp, ...]
    designs: Sequence[Design]
    drawings: Sequence[Drawings]
    marks: Mapping[int, Marked]
    look: str


def drawings_of(design: Design) -> Drawings:
    """The drawings of a square in every look, as plain data, so that a page printed the moment it is open shows them;
    of a long strip its first repeats.

    "lace-large" is the lace with every thread, as deflated JSON (RFC 1950) in base64; squares so large that no screen
    shows one have none.
    """
    drawn = excerpt(design, TALL)
    made: dict[str, Any] = {
        "drawing": vector(drawn, "drawing", _ENLARGED).data(),
        "lace": vector(drawn, "lace", _ON_SHEET, detailed=False).data(),
    }
    if _ENLARGED / (2 * extent(drawn)) >= _FINE:
        large = vector(drawn, "lace", _ENLARGED, detailed=True).data()
        made["lace-large"] = _deflated(json.dumps(large, separators=(",", ":")))
    return made


def _deflated(text: str) -> str:
    return base64.b64encode(zlib.compress(text.encode("utf-8"), 9)).decode("ascii")


def page(content: Browsed) -> str:
    """The text of the page."""
    script = "\n".join(['"use strict";', *(_part(name) for name in _SCRIPTS)])
    style = _part("page.css")
    told = [told_of(design, content.stamps) for design in content.designs]
    varying = {
        key
        for key in (*_MEASURES, "rank", "kinds", "form", "lies", "known", "surely")
        if len({each[key] for each in told}) > 1
    }
    text: str = _template().render(
        policy=_policy(style, script),
        generator=content.generator,
        style=style,
        script=script,
        study=content.study,
        piece=_piece(content.designs),
        brief=content.brief,
        prints=[(each.name, _print(each)) for each in content.stamps],
        same=_same(told, varying) if len(told) > 1 else "",
        designs=[_card(each, varying, content.marks) for each in told],
        orders=[each for each in _ORDERS if each[0].lstrip("-") in {"number", *varying}],
        ranges=[_range(told, key) for key in _MEASURES if key in varying],
        symmetries=[name for name in BY_RANK if any(each["symmetry"] == name for each in told)],
        stitches=_telling_stitches(told),
        data=_data(content, told),
    )
    return text


def _piece(designs: Sequence[Design]) -> str:
    """What one of them is called: as their form is, if they have the same."""
    names = {design.form.name for design in designs}
    return names.pop() if len(names) == 1 else "piece"


def _template() -> Any:
    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    return environment.from_string(_part("page.html"))


def _part(name: str) -> str:
    return (files("gallery") / "web" / name).read_text(encoding="utf-8")


def _policy(style: str, script: str) -> str:
    """The Content Security Policy (W3C, level 3): nothing but this style and this script."""
    hashed = {
        directive: base64.b64encode(hashlib.sha256(text.encode("utf-8")).digest()).decode("ascii")
        for directive, text in (("style-src", style), ("script-src", script))
    }
    allowed = "; ".join(f"{directive} 'sha256-{value}'" for directive, value in hashed.items())
    return f"default-src 'none'; {allowed}; base-uri 'none'; form-action 'none'"


def _same(told: Sequence[Mapping[str, Any]], varying: set[str]) -> str:
    """What all squares have in common, and captions need not say."""
    return ", ".join(words for key, words in words_of(told[0]).items() if key not in varying and words)


def _card(each: Mapping[str, Any], varying: set[str], marks: Mapping[int, Marked]) -> dict[str, Any]:
    mark = marks.get(each["number"])
    return {
        "number": each["number"],
        "told": [
            (words, key in varying) for key, words in words_of(each).items() if words and key in varying | _PRINTED
        ],
        "stitches": ", ".join(each["stitches"]),
        "picked": mark is not None and mark.ticked,
    }


def _range(told: Sequence[Mapping[str, Any]], key: str) -> dict[str, Any]:
    label, unit, step = _MEASURES[key]
    values = [each[key] for each in told if each[key] is not None]
    low, high = min(values), max(values)
    if step == 1:
        low, high = int(np.floor(low)), int(np.ceil(high))
    return {"key": key, "label": label, "unit": unit, "step": step, "low": f"{low:g}", "high": f"{high:g}"}


def _telling_stitches(told: Sequence[Mapping[str, Any]]) -> list[str]:
    """The stitches that some squares have and others lack."""
    names = [name.replace("-", " ") for name in ALLOWED]
    return [name for name in names if 0 < sum(name in each["stitches"] for each in told) < len(told)]


def _data(content: Browsed, told: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    forms = any(each["form"] != USUAL for each in told)
    designs = [
        {**each, "facts": facts(each, forms), "drawings": dict(drawings), **_offered(content, design)}
        for each, drawings, design in zip(told, content.drawings, content.designs, strict=True)
    ]
    marks = [{"number": number, "ticked": m.ticked, "note": m.note} for number, m in sorted(content.marks.items())]
    return {
        "study": content.study,
        "program": content.program,
        "folder": content.folder,
        "key": content.key,
        "look": content.look,
        "picks": marks,
        "piece": _piece(content.designs),
        "legend": legend_of(content.designs),
        "squares": designs,
    }


def _offered(content: Browsed, design: Design) -> dict[str, Any]:
    """Which commands take a piece. hung: the prints of a series that it can be in, "" for none; like: the first number
    that it can lie on."""
    return {
        "hung": _prints_hung(design),
        "like": next(each.number for each in content.designs if comparable(design, each)),
    }


def _prints_hung(design: Design) -> str:
    return "; ".join(f"{each.name} {each.size:g} {each.turn_degrees:g} {each.reverse}" for each in design.prints)


def _print(stamp: Stamp) -> str:
    """The print of the stamp as path data in a box of 100 by 100."""
    shape = stamp.placed(48, 0.0, (50, 50))
    rings = [ring for part in shape.geoms for ring in (part.exterior, *part.interiors)]
    points = [np.round(shapely.get_coordinates(ring)[:-1], 1).tolist() for ring in rings]
    return "".join("M" + "L".join(f"{x:g} {y:g}" for x, y in ring) + "Z" for ring in points)
