"""Something that she owns gives form and size in the studio."""

from __future__ import annotations

import json

import numpy as np
import pytest
from studios import Visited

from constraints.edgings.outer_side import curved, outer_pins
from constraints.forms import Form
from explore.reading import built_in, read
from explore.search.sizing import SIZING
from explore.studio import fits, wishes


def made(flags: dict[str, str]) -> tuple[Form, float, int]:
    """The form that such wishes come to by the brief alone, its pitch, mm, and the pairs that may be used."""
    brief = wishes.brief_of("tulip", flags)
    (form,) = SIZING[brief.piece.form].allowed(brief)
    return form, brief.piece.middle_pitch_mm, brief.rules.pairs


def between_the_outer_pins(form: Form, pitch: float) -> tuple[float, float]:
    """Width and height, mm, measured on the pins as drawings have them; fans stand out."""
    piece = form.piece(form.ways[0])
    pins = curved(piece, np.concatenate([outer_pins(piece), piece.pinholes]))
    wide, high = (pins.max(axis=0) - pins.min(axis=0)) / 2 * pitch
    return float(wide), float(high)


@pytest.mark.parametrize(
    ("flags", "purpose", "size", "form"),
    [
        ({"pairs": "40"}, "mat", (150, 150), "square"),
        ({"pairs": "60", "edging": "half fan 3"}, "mat", (240, 240), "square"),
        ({"pairs": "40", "edging": "cloth fan 3"}, "mat", (100, 150), "rectangle"),
        ({"pairs": "30"}, "frame", (290, 410), "frame"),
        ({"pairs": "30", "edging": "cloth fan 3"}, "edging", (200, 300), "frame"),
        ({"pairs": "31", "edging": "cloth fan 3"}, "strip", (0, 800), "strip"),
        ({"pairs": "31"}, "strip", (45, 180), "strip"),
    ],
)
def test_what_is_offered_fits(flags: dict[str, str], purpose: str, size: tuple[int, int], form: str) -> None:
    thing = fits.own_thing({"purpose": purpose, "width": size[0], "height": size[1]})
    ways = fits.ways("tulip", {**flags, "width": "77mm"}, read(built_in("tulip")), thing)
    assert 1 <= len(ways) <= 3
    best, pitch, pairs = made(ways[0]["flags"])
    assert (best.name, pairs) == (form, int(flags["pairs"]))
    assert best.pairs(best.ways[0], 1) <= pairs
    assert 4.25 <= pitch <= 5.75
    # An edging is sewn round: its inner edge must fit (the guide to fitting).
    inner = (best.opening[0] * pitch, best.opening[1] * pitch)
    measured = inner if purpose == "edging" else between_the_outer_pins(best, pitch)
    # A pin in a valley or two rows at the ends may be missing.
    off = [abs(got - asked) for got, asked in zip(measured, size, strict=True) if asked]
    assert max(off) <= (pitch if form == "strip" else 1.0)
    assert "It fits" in ways[0]["words"]


def test_where_pairs_do_not_suffice_as_many_as_it_takes_are_offered() -> None:
    thing = fits.own_thing({"purpose": "mat", "width": 150, "height": 150})
    way = fits.ways("tulip", {"pairs": "12"}, read(built_in("tulip")), thing)[0]
    # README: a square of N pitches worked round takes N pairs, the edge pair and the passive.
    assert (way["flags"]["half_size"], way["flags"]["pairs"]) == ("30", "32")


@pytest.mark.parametrize(
    "fit",
    [None, {"purpose": "curtain", "width": 100, "height": 100}, {"purpose": "mat", "width": 100},
     {"purpose": "mat", "width": "100", "height": 100}, {"purpose": "strip", "height": 10**9}],
)  # fmt: skip
def test_nonsense_fits_nothing(house: Visited, fit: object) -> None:
    status, answer = house.post("/wishes/fit", json.dumps({"of": "kite.svg", "flags": {}, "fit": fit}))
    assert (status, set(answer)) == (422, {"why"})
