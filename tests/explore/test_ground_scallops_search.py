"""Pieces with ground scallops: from the search, in the mirror, in the catalogue, on paper."""

from __future__ import annotations

from pathlib import Path

import pytest

from constraints.brief import Brief
from constraints.check import check
from constraints.design import Design
from constraints.edgings import named
from constraints.edgings.dressing import figures
from constraints.working import check as working
from constraints.working.work import work
from explore.editing.edgings.trying import Trying
from explore.editing.mirroring.offers import Mirrored
from explore.search.search import search
from explore.storage.study import create
from gallery.order.words import Telling, order_lines

EDGING = "ground scallop 4 with 4 pairs"
BRIEF = Brief.of(pairs=24, headside=named(EDGING), count=2)
STRIP = BRIEF.changed(form="strip", worked="across", symmetry="suits", rows=(16, 16))


def _found(brief: Brief) -> list[Design]:
    return [step.design for step in search(brief, cores=1) if step.design is not None]


@pytest.fixture(scope="module")
def strips() -> list[Design]:
    return _found(STRIP)


@pytest.mark.parametrize(
    "brief", [BRIEF, STRIP, STRIP.changed(both_sides=True, pairs=34), BRIEF.changed(form="frame", pairs=30)]
)
def test_the_search_puts_a_spider_into_every_scallop_and_keeps_the_ground_round_it(brief: Brief) -> None:
    found = _found(brief)
    assert len(found) == 2
    for each in found:
        piece = each.piece()
        own = {(x, y) for x, y in figures(piece).tolist()}
        listed = {place for filling in each.fillings if filling.kind == "spider-8" for place in filling.places}
        assert own
        assert own <= listed
        assert not any(piece.held[piece.index[point]] for block in each.blocks for point in block.pinholes)
        assert check(each) == []
        assert working.faults(work(each)) == []


def test_it_is_found_without_spiders_among_the_stitches_she_allows() -> None:
    """The edging brings its spiders with it, as fans bring their stitch."""
    [design] = _found(BRIEF.changed(stitches=("cloth", "rose"), count=1))
    assert {each.kind for each in design.fillings} >= {"spider-8"}
    assert check(design) == []


def test_its_spiders_go_round_the_corners_of_a_frame_unchanged(strips: list[Design]) -> None:
    for strip in strips:
        offers = Mirrored(strip, STRIP).corners()
        assert offers
        for offer in offers[:2]:
            assert check(offer.shown) == []
            assert working.faults(work(offer.shown)) == []


def test_a_strip_is_given_it_and_another_edge_instead(tmp_path: Path, strips: list[Design]) -> None:
    create(tmp_path / "edgings", STRIP, (), ()).keep(strips[0].numbered(1), 0)
    trying = Trying(tmp_path / "edgings", 1)
    tried = {wanted.called: offer for wanted, offer in trying.all()}
    again, footside = tried[EDGING], tried["footside with 1 passive"]
    assert again is not None
    assert footside is not None
    assert (again.piece.form, again.piece.blocks) == (strips[0].form, strips[0].blocks)
    assert {p for each in again.piece.fillings for p in each.places} == {
        p for each in strips[0].fillings for p in each.places
    }
    # Its own spiders went with it.
    own = {(x, y) for x, y in figures(strips[0].piece()).tolist()}
    assert not own & {p for each in footside.piece.fillings for p in each.places}
    assert check(footside.piece) == []


def test_the_order_of_work_tells_both_edges(strips: list[Design]) -> None:
    """A footside with one passive on the left, the scalloped edge with two on the right."""
    text = " ".join(line.words for line in order_lines(work(strips[0]), Telling("A strip")))
    assert "headside of ground scallops, a spider of 8 legs in each and 2 passives along them on the right" in text
    assert "Footside, at each of its pins: the pair of the ground goes out through the passive" in text
    assert "Scalloped edge, at each of its pins: the pair of the ground goes out through the 2 passives" in text
