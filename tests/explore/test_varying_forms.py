"""Cousins and small steps of every form: what is kept stays pinhole for pinhole all over the piece, told from its file.

Where a form has its centre, its corners and its edge is written here anew, from the words of the guide.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from asked import Ask, Keep, file_of
from varied import exact

from constraints.brief import Brief
from constraints.check import check
from constraints.design import Design
from constraints.design_file import to_text
from constraints.edgings import named
from constraints.repeats import repeat_of
from explore.asking.designs import brief_of
from explore.bad_input import BadInput
from explore.editing.varying import sheets
from explore.editing.varying.cousins import cousins
from explore.editing.varying.kept import kept
from explore.editing.varying.steps import SmallStep, steps
from explore.editing.varying.studio import Studio
from explore.search.search import search

Data = dict[str, Any]
USUAL = Brief.of(pairs=40, count=1, solid=(0.1, 0.6))
STRIP = USUAL.changed(form="strip", worked="across", symmetry="half-turn,none", columns=14, rows=(16, 16), repeats=3)
FRAME = USUAL.changed(form="frame", half_size=(15, 15), half_height=15, band=10)
BRIEFS = {
    "strip": STRIP,
    "strip with fans": STRIP.changed(headside=named("cloth fan 3"), both_sides=True, columns=17, rows=(18, 18)),
    "frame": FRAME,
    "frame with fans": FRAME.changed(headside=named("cloth fan 2"), half_size=(15, 15), half_height=None, band=11),
    "rectangle": USUAL.changed(
        form="rectangle", worked="across", symmetry="upright-mirrors", half_size=(9, 9), half_height=12
    ),
    "mat": USUAL.changed(half_size=(13, 13), headside=named("cloth fan 3")),
    "mat with ground scallops": USUAL.changed(
        half_size=(13, 13), headside=named("ground scallop 4 with 3 pairs"), seed=2
    ),
}
CHANGE = (0.02, 0.5)


@pytest.fixture(scope="module", params=BRIEFS)
def piece(request: pytest.FixtureRequest) -> Design:
    brief = BRIEFS[request.param]
    found = next((step.design for step in search(brief, cores=1) if step.design is not None), None)
    assert found is not None
    return found


def brief_for(design: Design) -> Brief:
    return brief_of(design, USUAL)


def made(design: Design, *keep: str, count: int = 2) -> list[Design]:
    every = cousins(design, brief_for(design), (), kept(design, keep), CHANGE, count=count, cores=1)
    return [step.design for step in every if step.design is not None]


# --- where the parts of a form lie, in the words of the guide ----------------------------------------------


def _edge(data: Data, x: int, y: int) -> bool:
    """A quarter of the way to the middle, without a headside; with one the pins of the edge alone are looked at."""
    share = 0 if "headside" in data else 0.25
    if data["form"] == "strip":
        return bool(min(x, data["columns"] - 1 - x) <= share * (data["columns"] - 1) / 2)
    wide, high = halves(data)
    away = min(wide - abs(x), high - abs(y))
    if data["form"] == "frame":
        return bool(min(away, data["band"] - away) <= share * data["band"] / 2)
    return bool(away <= share * min(wide, high))


def _centre(data: Data, x: int, y: int) -> bool:
    """Half of the way; with a headside, whose depth is not told here, only the very middle is looked at."""
    share = 0.9 if "headside" in data else 0.5
    if data["form"] == "strip":
        return bool(min(x, data["columns"] - 1 - x) >= share * (data["columns"] - 1) / 2)
    wide, high = halves(data)
    if data["form"] == "frame":
        away = min(wide - abs(x), high - abs(y))
        return bool(share == 0.5 and min(away, data["band"] - away) >= 0.25 * data["band"])
    return bool(abs(x) <= wide / 2 and abs(y) <= high / 2)


def _corner(data: Data, x: int, y: int) -> bool:
    wide, high = halves(data)
    band = data.get("band")
    inner = (wide - band, high - band) if band else (wide / 2, high / 2)
    return bool(abs(x) >= inner[0] and abs(y) >= inner[1])


def halves(data: Data) -> tuple[int, int]:
    return (data["half_size"],) * 2 if "half_size" in data else (data["half_width"], data["half_height"])


WHERE: dict[str, Callable[[Data, int, int], bool]] = {"centre": _centre, "corner": _corner, "edge": _edge}


@pytest.mark.parametrize("name", WHERE)
def test_kept_places_stay_pinhole_for_pinhole_in_every_form(piece: Design, name: str) -> None:
    if name == "corner" and piece.form.repeating:
        with pytest.raises(BadInput, match="a strip has no corner; allowed: centre, blocks, fillings, edge, or a box"):
            kept(piece, [name])
        return
    before = file_of(piece)
    told = exact(before)
    places = [(x, y) for x, y in told if WHERE[name](before, x, y)]
    assert places or "headside" in before
    found = made(piece, name, count=1)
    assert found
    for design in found:
        assert check(design) == []
        after = exact(file_of(design))
        assert [after[point] for point in places] == [told[point] for point in places]
        assert after != told


def test_a_box_is_kept_in_every_repeat(piece: Design) -> None:
    left, top, _, _ = piece.form.box
    box = (left, top + 2, left + 9, top + 7)
    before = exact(file_of(piece))
    rows = piece.form.repeating.rows if piece.form.repeating else 10**6
    places = [
        (x, y) for x, y in before if box[0] <= x <= box[2] and box[1] <= y <= top + 10**5
        and box[1] <= (y - top) % rows + top <= box[3]
    ]  # fmt: skip
    assert len(places) >= 20
    for design in made(piece, "{},{}:{},{}".format(*box), count=1):
        after = exact(file_of(design))
        assert [after[point].split(" at ")[0] for point in places] == [
            before[point].split(" at ")[0] for point in places
        ]


def test_kept_blocks_and_kept_fillings_stay(piece: Design) -> None:
    for design in made(piece, "blocks", count=1):
        assert design.blocks == piece.blocks
    if piece.fillings:
        worked = {point: words for point, words in exact(file_of(piece)).items() if not words.startswith("plain")}
        worked = {point: words for point, words in worked.items() if not words.startswith("block")}
        for design in made(piece, "fillings", count=1):
            after = exact(file_of(design))
            assert all(after[point] == words for point, words in worked.items())


def test_cousins_keep_measures_edge_and_symmetry(piece: Design) -> None:
    found = made(piece)
    assert len(found) == 2
    for design in found:
        assert (design.form, design.symmetry, design.pairs) == (piece.form, piece.symmetry, piece.pairs)
        if design.form.repeating:
            repeat_of(design).piece.images_under(design.symmetry)
        assert to_text(design) != to_text(piece)


def test_cousins_are_the_same_on_two_cores(piece: Design) -> None:
    brief = brief_for(piece)
    runs = [
        [
            to_text(step.design)
            for step in cousins(piece, brief, (), kept(piece, []), CHANGE, count=2, cores=cores)
            if step.design is not None
        ]
        for cores in (1, 2)
    ]
    assert runs[0] == runs[1]


def test_every_small_step_is_sound_and_told_by_its_place(piece: Design) -> None:
    found = list(steps(Studio(piece, brief_for(piece), (), kept(piece, []), CHANGE)))
    valid = [step for step in found if step.design is not None]
    assert valid
    for step in valid:
        assert step.design is not None
        assert check(step.design) == []
        assert step.design.form == piece.form
        _where_it_can_lie(piece, step)


def _where_it_can_lie(piece: Design, step: SmallStep) -> None:
    """A strip has neither centre nor corners, a frame no centre."""
    if piece.form.repeating:
        assert not any(word in step.words for word in ("centre", "corner", "top", "bottom"))
    if piece.form.has_opening:
        assert "centre" not in step.words


def test_a_study_of_cousins_is_read_again_with_its_form(piece: Design, keep: Keep, ask: Ask, monkeypatch: Any) -> None:
    monkeypatch.setattr(sheets, "write_sheets", lambda *_: [])
    keep(USUAL, [piece])
    change = ("--change", "4-50%", "--count", "1", "--cores", "1")
    assert ask("vary", "edgings", str(piece.number), *change, "--out", "cousins")[0] == 0
    assert ask("check", "cousins")[0] == 0
    assert ask("vary", "cousins", "2", *change, "--seed", "3", "--out", "again")[0] == 0
