"""The file of a design: JSON text, written and read.

`to_text` and `from_text` are exact inverses on valid squares.
"""

from __future__ import annotations

import json
from typing import Any

from constraints.design import Block, Design, FieldFilling, Print
from constraints.edgings import FOOTSIDE
from constraints.fillings import BY_WORDS, OF_KIND, UNITS
from constraints.forms import FORMS, Form, Square
from constraints.reader import DesignFileError, Reader
from constraints.stitches import GROUND, STITCHES

FORMAT, VERSION = "stampwork square", 4


# --- writing ---------------------------------------------------------------------------------------------


def to_text(design: Design) -> str:
    """The square as JSON text, one block or filling a line."""
    lines = []
    for key, value in _as_json(design).items():
        if key in ("blocks", "fillings") and value:
            inner = ",\n".join("  " + _compact(item) for item in value)
            lines.append(f"{_compact(key)}: [\n{inner}\n ]")
        else:
            lines.append(f"{_compact(key)}: {_compact(value)}")
    return "{" + ",\n ".join(lines) + "}\n"


def _compact(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)


def _as_json(design: Design) -> dict[str, Any]:
    fillings = []
    for each in design.fillings:
        filling, unit = OF_KIND[each.kind], UNITS.get(each.kind)
        entry: dict[str, Any] = {"filling": filling.words}
        if unit is not None and unit.legs:
            entry["legs"] = unit.legs
        entry[filling.places] = [list(place) for place in each.places]
        fillings.append(entry)
    data: dict[str, Any] = {
        "format": FORMAT,
        "version": VERSION,
        "number": design.number,
        "form": design.form.name,
        **design.form.encode(),
        "pitch_mm": design.pitch_mm,
        "worked": design.worked,
        "start": design.start,
        "symmetry": design.symmetry,
        "passives": design.passives,
        "edging": FOOTSIDE,
        "pairs": design.pairs,
        "ground": GROUND,
        "splits": design.splits,
        "blocks": [{"stitch": block.stitch, "pinholes": [list(p) for p in block.pinholes]} for block in design.blocks],
        "fillings": fillings,
    }
    if design.eyes:  # a release that does not know them works the same block without the holes
        data["eyes"] = [list(place) for place in design.eyes]
    if design.composition:
        data["composition"] = design.composition
    if design.prints:
        data["prints"] = [
            {
                "name": each.name,
                "size": each.size,
                "turn_degrees": each.turn_degrees,
                "reverse": each.reverse,
                "match": each.match,
                "outlines": [[list(point) for point in ring] for ring in each.outlines],
            }
            for each in design.prints
        ]
    data["seed"] = design.seed
    data["brief"] = dict(design.brief)
    return data


# --- reading ---------------------------------------------------------------------------------------------


def from_text(text: str) -> Design:
    """Read a square from JSON text. DesignFileError with one line if it is damaged or says something impossible.

    Reading checks that every value is of its kind and in its range; whether the lace can be worked is the
    business of `constraints.check`.
    """
    try:
        data = json.loads(text)
    except (ValueError, RecursionError) as error:
        raise DesignFileError(f"not a JSON text ({error})") from None
    read = Reader(data, "the file")
    if read.text("format") != FORMAT:
        raise DesignFileError(f'"format" must be "{FORMAT}"')
    version = read.whole("version", 1, 10**6)
    if version > VERSION:
        raise DesignFileError(f'"version" is {version}; this release reads versions 1 to {VERSION}')
    form = _form(read, version)
    # Files say so; no release has other values.
    read.choice("edging", (FOOTSIDE,), default=FOOTSIDE)
    read.choice("ground", (GROUND,), default=GROUND)
    return Design(
        number=read.whole("number", 0, 10**9),
        form=form,
        pitch_mm=read.number("pitch_mm", 0.1, 100.0),
        worked=read.choice("worked", form.ways),
        start=read.text("start", default="top-left"),
        symmetry=read.choice("symmetry", form.symmetries),
        passives=read.whole("passives", 0, 100),
        pairs=read.whole("pairs", 2, 10**5),
        splits=read.whole("splits", 0, 10**6),
        blocks=tuple(_block(item, form) for item in read.items("blocks")),
        fillings=tuple(_filling(item, form) for item in read.items("fillings")),
        eyes=read.points("eyes", form, pinholes=True) if "eyes" in read.data else (),
        composition=read.text("composition", default=""),
        prints=_prints(read, version),
        seed=read.whole("seed", 0, 2**63),
        brief=read.inside("brief").data if "brief" in read.data else {},
    )


def _form(read: Reader, version: int) -> Form:
    """The form with its measures; files of version 1 hold squares only."""
    if version == 1:
        read.whole("opening", 0, 0, default=0)
        return Square.decode(read)
    return FORMS[read.choice("form", tuple(FORMS))].decode(read)


def _block(read: Reader, form: Form) -> Block:
    return Block(read.choice("stitch", tuple(STITCHES)), read.points("pinholes", form, pinholes=True))


def _filling(read: Reader, form: Form) -> FieldFilling:
    filling = BY_WORDS[read.choice("filling", tuple(BY_WORDS))]
    legs = 0
    if len(filling.units) > 1:
        legs = read.whole("legs", 1, 100)
        if legs not in filling.legs:
            raise DesignFileError(f'"legs" is {legs}; {filling.several} have {filling.legs_told}')
    unit = filling.unit(legs)
    pinholes = unit is None or not unit.pin_in_hole
    kind = filling.name if unit is None else unit.name
    return FieldFilling(kind, read.points(filling.places, form, pinholes=pinholes))


def _prints(read: Reader, version: int) -> tuple[Print, ...]:
    """Every print; files of versions 1 to 3 hold one at the most."""
    if version < 4:
        return (_print(read.inside("stamp")),) if "stamp" in read.data else ()
    return tuple(_print(each) for each in read.items("prints")) if "prints" in read.data else ()


def _print(read: Reader) -> Print:
    return Print(
        name=read.text("name", default=""),
        size=read.number("size", 0.0, 10**4),
        turn_degrees=read.number("turn_degrees", -360.0, 360.0),
        outlines=tuple(read.rings("outlines")),
        match=read.number("match", 0.0, 1.0),
        reverse=read.yes_no("reverse", default=False),
    )
