"""Small strips, frames and headsides: the project and an answer set program tell the same ones.

The answer set program knows pinholes and steps alone; see `answer_forms`. So headsides, which the formula and the check
both read off the piece, are held against a description that shares nothing with either.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from answer_forms import AskedForms, Outline, Place, every, places
from answer_sets import Told
from designs import double, roses
from designs import spiders as spiders_at
from every import laces
from hypothesis import given, settings
from hypothesis import strategies as some
from strips import strip, worked_across, worked_round

from constraints import forms, rulebook
from constraints.check import check
from constraints.design import Design, FieldFilling
from constraints.edgings import EDGINGS, Headside
from constraints.edgings.dressing import figures
from constraints.edgings.headside import along_side
from constraints.edgings.outer_side import outer_pins
from constraints.edgings.own_figures import with_own
from constraints.piece import ACROSS, ROUND, Piece
from constraints.ruleset import Rules
from constraints.working import check as working
from constraints.working.work import work

QUARTERS = ("left", "bottom", "right", "top")
KINDS = {"fan": "fan", "scallop": "scallop", "ground": "ground scallop"}


def headside_of(outline: Outline) -> Headside | None:
    if not outline.headside:
        return None
    stitch, pairs = ("" if outline.headside == "ground" else "cloth"), (2 if outline.headside == "fan" else 4)
    return EDGINGS[KINDS[outline.headside]](stitch, outline.depth, pairs, outline.first)


def form_of(outline: Outline) -> forms.Form:
    headside, (a, b) = headside_of(outline), outline.size
    match outline.form:
        case "strip":
            return forms.Strip(a, b, 2, headside, outline.both)
        case "frame":
            return forms.Frame(a, b, outline.band, headside)
        case "square":
            return forms.Square(a, headside)
    return forms.Rectangle(a, b, headside and along_side(b, headside))


def piece_of(outline: Outline, symmetry: str = "none") -> Piece:
    form = form_of(outline)
    return form.once(form.ways[0], symmetry)


def of_the_piece(piece: Piece) -> dict[str, set[Place]]:
    """What `places` tells, as the project has it."""

    def points(mask: object) -> set[Place]:
        return {(x, y) for x, y in piece.pinholes[mask].tolist()}

    zones = QUARTERS if len(piece.directions) > 1 else ("all",)
    return {
        "pin": points(slice(None)),
        "fan": points(piece.fan),
        "held": points(piece.held),
        "spider_at": {(x, y) for x, y in figures(piece).tolist()},
        "inner": points(piece.depth >= 1),
        **{name: set() for name in (*QUARTERS, "all")},
        **{name: points(piece.zone == number) for number, name in enumerate(zones)},
    }


@some.composite
def strips(draw: some.DrawFn) -> Outline:
    kind = draw(some.sampled_from(["", "fan", "scallop", "ground"]))
    depth = draw(some.integers(3 if kind == "ground" else 2, 6))
    both = draw(some.booleans()) and bool(kind)
    columns = draw(some.integers(depth * (2 if both else 1) + 2, 18))
    first = draw(some.integers(0, depth - 1)) * 2 + columns % 2 if kind else 0
    rows = 2 * depth * draw(some.integers(1, 2)) if kind else 2 * draw(some.integers(1, 8))
    return Outline("strip", (columns, rows), 0, kind, depth, first, both)


@some.composite
def rounds(draw: some.DrawFn) -> Outline:
    """Frames and squares, with a headside that meets its corners."""
    kind = draw(some.sampled_from(["", "fan", "scallop", "ground"]))
    depth, first = draw(some.integers(3 if kind == "ground" else 2, 6)), draw(some.integers(1, 4))
    half = 2 * first + 1 + depth * draw(some.integers(1, 4))
    if draw(some.booleans()):
        return Outline("square", (half, half), 0, kind, depth, first)
    other = 2 * first + 1 + depth * draw(some.integers(1, 4))
    least = max(depth, 2 * first + 1) + 1
    if min(half, other) <= least:
        half = other = least + depth - (least - 2 * first - 1) % depth + depth
    band = draw(some.integers(least, min(half, other) - 1))
    return Outline("frame", (half, other), band, kind, depth, first)


@some.composite
def rectangles(draw: some.DrawFn) -> Outline:
    """Rectangles with a headside along both sides."""
    kind = draw(some.sampled_from(["", "fan", "scallop", "ground"]))
    depth = draw(some.integers(3 if kind == "ground" else 2, 6))
    return Outline(
        "rectangle", (draw(some.integers(depth + 1, 12)), 1 + depth * draw(some.integers(1, 4))), 0, kind, depth
    )


@settings(max_examples=60)
@given(outline=strips() | rounds() | rectangles())
def test_headsides_take_the_places_that_steps_outwards_from_their_tips_reach(outline: Outline) -> None:
    assert of_the_piece(piece_of(outline)) == places(outline)


@settings(max_examples=40)
@given(outline=(strips() | rounds() | rectangles()).filter(lambda outline: outline.headside in ("fan", "scallop")))
def test_every_row_of_a_headside_ends_at_the_edge_or_one_unit_outside_a_scallop(outline: Outline) -> None:
    """Rows run straight to the outer side of their quarter; where no pinhole is, a pin of the outer side stands."""
    told, further = places(outline), outline.headside == "scallop"
    (a, b), fan = outline.size, told["fan"]
    if outline.form == "strip":
        ends = {(-further if outline.both and x < a - 1 - x else a - 1 + further, y) for x, y in fan}
    elif outline.form == "rectangle":
        ends = {(a + further if x > 0 else -a - further, y) for x, y in fan}
    else:
        ends = {(-a - further, y) for _, y in fan & told["left"]} | {(a + further, y) for _, y in fan & told["right"]}
        ends |= {(x, -b - further) for x, _ in fan & told["top"]} | {(x, b + further) for x, _ in fan & told["bottom"]}
    assert {(x, y) for x, y in outer_pins(piece_of(outline)).tolist()} == ends - fan


# --- all small laces -------------------------------------------------------------------------------------


def by_formula(asked: AskedForms) -> set[Told]:
    limits = {
        name: getattr(asked, name)
        for name in ("stitches", "narrowest", "widest", "narrowest_ground", "margin", "splits", "solid", "corners")
    }
    return laces(rulebook.build(piece_of(asked.outline, asked.symmetry), Rules(**limits)))


def passes(asked: AskedForms, told: Told) -> bool:
    """Whether the check lets the lace pass, with as many splits as it has."""
    model = as_lace(asked, told)
    return any(not check(replace(model, splits=number)) for number in range(asked.splits + 1))


def as_lace(asked: AskedForms, told: Told) -> Design:
    worked, units, doubled = told
    parts: list[Any] = [(name, {(x, y) for x, y, stitch in worked if stitch == name}) for name in asked.stitches]
    parts = [part for part in parts if part[1]]
    for kind in sorted({kind for kind, _, _ in units}):
        centres = {(x, y) for k, x, y in units if k == kind}
        parts.append(roses(centres) if kind == "rose" else spiders_at(centres, int(kind.removeprefix("spider-"))))
    if doubled:
        parts.append(double(set(doubled)))
    brief = {
        name: getattr(asked, name)
        for name in ("narrowest", "widest", "narrowest_ground", "margin", "splits", "solid", "stitches", "corners")
    }
    form = form_of(asked.outline)
    make = {"strip": strip, "rectangle": worked_across}.get(form.name, worked_round)
    return make(form, *with_own_spiders(asked, parts), symmetry=asked.symmetry, brief=brief)


def with_own_spiders(asked: AskedForms, parts: list[Any]) -> list[Any]:
    """The spiders of ground scallops are listed with the others."""
    fillings = tuple(part for part in parts if isinstance(part, FieldFilling))
    rest = [part for part in parts if not isinstance(part, FieldFilling)]
    return [*rest, *with_own(fillings, piece_of(asked.outline, asked.symmetry))]


ANY = {"narrowest": 1, "narrowest_ground": 1}
BOTH = ("cloth", "half")
ASKED = [
    AskedForms(Outline("strip", (9, 8))),
    AskedForms(Outline("strip", (11, 8)), "glide", BOTH),
    AskedForms(Outline("strip", (11, 8)), "glide-mirrors", ("cloth", "double-ground"), **ANY),
    AskedForms(Outline("strip", (10, 8), 0, "scallop", 2, 0)),
    AskedForms(Outline("strip", (13, 12), 0, "fan", 3, 1), "level-mirror"),
    AskedForms(Outline("strip", (12, 8), 0, "fan", 2, 0, True), "half-turn", **ANY),
    AskedForms(Outline("strip", (13, 8), 0, "scallop", 2, 1, True), "upright-mirrors", BOTH, **ANY),
    AskedForms(Outline("frame", (7, 7), 6)),
    AskedForms(Outline("frame", (8, 7), 6), "half-turn", splits=2),
    AskedForms(Outline("frame", (9, 9), 6, "fan", 2, 1), "full", BOTH, **ANY),
    AskedForms(Outline("frame", (9, 9), 6), "full", ("cloth", "rose", "spider", "double-ground"), corners="clear"),
    AskedForms(Outline("square", (8, 8), 0, "scallop", 3, 2), "quarter-turn", **ANY),
    AskedForms(Outline("square", (9, 9), 0, "ground", 3, 1), "quarter-turn", ("cloth", "spider"), **ANY),
    AskedForms(Outline("rectangle", (5, 4)), "half-turn", BOTH, narrowest=1, splits=2),
    AskedForms(Outline("rectangle", (6, 5), 0, "fan", 2), **ANY),
    AskedForms(Outline("rectangle", (7, 7), 0, "scallop", 3), "upright-mirrors", BOTH, **ANY),
    AskedForms(Outline("rectangle", (8, 7), 0, "ground", 3), "half-turn", ("cloth", "spider"), **ANY),
    AskedForms(Outline("rectangle", (4, 3)), "none", ("cloth", "rose", "spider")),
    AskedForms(Outline("rectangle", (4, 4)), "upright-mirrors", ("cloth", "rose")),
]


ROSES = ("cloth", "rose", "double-ground")
SPIDERS = (*ROSES, "spider")
# How many columns and rows there are up to the middle, odd or even, tells which roses of two images are in line.
MIDDLES = [
    (Outline("strip", (7, 6)), "none level-mirror", ROSES),
    (Outline("strip", (8, 4)), "none", ROSES),
    (Outline("strip", (8, 6)), "none half-turn level-mirror", ROSES),
    (Outline("strip", (9, 6)), "upright-mirror half-turn upright-mirrors level-mirror", ROSES),
    (Outline("strip", (9, 8)), "upright-mirror half-turn upright-mirrors level-mirror glide glide-mirrors", ROSES),
    (Outline("strip", (10, 6)), "half-turn glide glide-mirrors", ROSES),
    (Outline("strip", (10, 8)), "half-turn", ROSES),
    (Outline("strip", (11, 6)), "upright-mirror half-turn upright-mirrors", ROSES),
    (Outline("strip", (11, 8)), "upright-mirrors glide-mirrors", ROSES),
    (Outline("strip", (12, 6)), "half-turn glide glide-mirrors", ROSES),
    (Outline("strip", (10, 8), 0, "fan", 2, 2), "level-mirror", ROSES),
    (Outline("strip", (11, 8), 0, "fan", 2, 1), "level-mirror", ROSES),
    (Outline("strip", (12, 8), 0, "fan", 2, 0, True), "half-turn", ROSES),
    (Outline("strip", (13, 8), 0, "fan", 2, 1, True), "upright-mirror half-turn upright-mirrors glide-mirrors", ROSES),
    (Outline("strip", (10, 6), 0, "ground", 3, 2), "none level-mirror", SPIDERS),
    (Outline("strip", (11, 6), 0, "ground", 3, 1), "none level-mirror", SPIDERS),
    (Outline("strip", (10, 12), 0, "ground", 3, 0), "level-mirror", SPIDERS),
    (Outline("strip", (15, 6), 0, "ground", 3, 1, True), "none upright-mirror half-turn upright-mirrors", SPIDERS),
    (Outline("rectangle", (4, 3)), "none", ROSES),
    (Outline("rectangle", (4, 4)), "full quarter-turn half-turn upright-mirrors diagonal-mirrors", ROSES),
    (Outline("rectangle", (4, 4)), "upright-mirror diagonal-mirror", ROSES),
    (Outline("rectangle", (4, 5)), "half-turn upright-mirrors upright-mirror", ROSES),
    (Outline("rectangle", (5, 4)), "half-turn upright-mirrors upright-mirror", ROSES),
    (Outline("rectangle", (5, 5)), "full quarter-turn upright-mirrors diagonal-mirrors", ROSES),
    (Outline("frame", (5, 5), 4), "quarter-turn half-turn diagonal-mirrors upright-mirror diagonal-mirror", ROSES),
    (Outline("frame", (5, 6), 4), "half-turn upright-mirrors upright-mirror", ROSES),
    (Outline("frame", (6, 5), 4), "half-turn upright-mirrors", ROSES),
    (Outline("frame", (7, 7), 6), "full quarter-turn upright-mirrors diagonal-mirrors", ROSES),
    (Outline("frame", (8, 7), 6), "upright-mirrors", ROSES),
    (Outline("frame", (9, 9), 7, "ground", 3, 1), "full quarter-turn half-turn upright-mirrors", SPIDERS),
    (Outline("frame", (9, 9), 7, "ground", 3, 1), "diagonal-mirrors diagonal-mirror", SPIDERS),
    (Outline("frame", (9, 12), 7, "ground", 3, 1), "upright-mirrors", SPIDERS),
    (Outline("frame", (12, 9), 7, "ground", 3, 1), "half-turn upright-mirror", SPIDERS),
    (Outline("square", (9, 9), 0, "ground", 3, 1), "full quarter-turn upright-mirrors diagonal-mirrors", SPIDERS),
    (Outline("square", (9, 9), 0, "ground", 3, 1), "half-turn diagonal-mirror upright-mirror", SPIDERS),
]  # fmt: skip
FILLED = [
    AskedForms(outline, symmetry, stitches, solid=(0.0, 0.1 if outline.form in ("frame", "square") else 1.0))
    for outline, symmetries, stitches in MIDDLES
    for symmetry in symmetries.split()
]
FILLED += [
    AskedForms(Outline("frame", (5, 5), 4), "none", ("cloth", "rose")),
    AskedForms(Outline("square", (9, 9), 0, "ground", 3, 1), "none", ROSES, solid=(0.0, 0.0)),
    # A ring of ground round each of these repeats comes back to itself out of line.
    AskedForms(Outline("strip", (9, 6)), "none", ("cloth", "spider")),
    AskedForms(Outline("strip", (9, 6))),
]


@pytest.mark.parametrize("asked", [*ASKED, *FILLED], ids=str)
def test_the_formula_tells_all_laces_of_an_answer_set_program(asked: AskedForms) -> None:
    told = by_formula(asked)
    assert len(told) > 1
    assert told == every(asked)
    for each in sorted(told, key=repr)[::7]:
        assert passes(asked, each)


@pytest.mark.parametrize("asked", [asked for asked in FILLED if "rose" in asked.stitches][::4], ids=str)
def test_small_laces_with_roses_can_be_worked_from_the_first_pin_to_the_last(asked: AskedForms) -> None:
    with_roses = sorted((told for told in every(asked) if any(kind == "rose" for kind, _, _ in told[1])), key=repr)
    assert with_roses
    for told in with_roses[:: max(1, len(with_roses) // 3)]:
        assert working.faults(work(as_lace(asked, told))) == []


def test_every_symmetry_of_every_form_has_small_laces_with_roses_and_with_double_ground() -> None:
    wanted = {
        (form_of(outline).name, symmetry)
        for outline, _, _ in MIDDLES
        for symmetry in form_of(outline).symmetries_allowed(ROUND if outline.form in ("frame", "square") else ACROSS)
    }
    assert wanted == {(asked.outline.form, asked.symmetry) for asked in FILLED}


@pytest.mark.parametrize("asked", [ASKED[0], ASKED[3], ASKED[7]], ids=str)
def test_the_check_refuses_what_the_answer_set_program_does_not_tell(asked: AskedForms) -> None:
    """Every lace that differs in one place from one that is told, if it is not told itself."""
    told = {worked for worked, _, _ in every(asked)}
    places_in_blocks = sorted({place for worked in told for place in worked})
    for worked in sorted(told, key=repr)[:: max(1, len(told) // 6)]:
        for place in places_in_blocks:
            other = worked ^ {place}
            assert passes(asked, (other, frozenset(), frozenset())) == (other in told), other
