"""Strips, frames and rectangles ask that the print be known in them as squares do, and tell what mends it if it is
not."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from constraints.brief import HARDLY, KNOWN, UNKNOWN, Brief
from constraints.check import check
from constraints.design import Design
from constraints.edgings import named
from constraints.forms import FORMS, Frame, Rectangle, Strip
from explore import asking
from explore.mending.changes import offers
from explore.reading import built_in, read
from explore.search.accepting import JobResult
from explore.search.kinds import KindsWorkshop, in_rounds
from explore.search.laying.placement import extent, sizes_beside
from explore.search.search import search
from explore.search.sizing import SIZING
from explore.search.workers import WorkerPool
from explore.search.workshops import workshop
from explore.storage.listing import single_prints
from gallery.seeing.knowing import seen_in, surely

TULIP = read(built_in("tulip"))
STRIP = {"form": "strip", "repeat": "32"}
FRAME = {"form": "frame", "half_size": "34"}
BOOKMARK = {"form": "rectangle", "half_size": "12", "half_height": "30"}


def asked(flags: dict[str, str], **more: str) -> Brief:
    return asking.read(None, {"stamp": "tulip", "count": "2", **flags, **more}).brief


def results(brief: Brief, hasty: bool = False) -> list[JobResult]:
    return list(search(brief, TULIP, cores=1, hasty=hasty))


def found(brief: Brief, hasty: bool = False) -> list[Design]:
    return [each.design for each in results(brief, hasty) if each.design is not None]


@pytest.mark.parametrize("form", FORMS)
def test_every_form_asks_for_known_prints_unless_she_names_a_size_or_how_surely(form: str) -> None:
    assert asked({"form": form}).stamp.known == KNOWN
    assert asked({"form": form}, stamp_size="6").stamp.known == UNKNOWN
    assert asked({"form": form}, known=HARDLY).stamp.known == HARDLY
    assert asking.read(None, {"form": form, "stamp": ""}).brief.stamp.known == UNKNOWN


@pytest.mark.parametrize(
    ("flags", "many"),
    [({**STRIP, "pairs": "32"}, 2), ({**FRAME, "band": "26"}, 1), (BOOKMARK, 1)],
    ids=["strip", "frame", "rectangle"],
)
def test_in_all_that_is_found_the_print_is_known(flags: dict[str, str], many: int) -> None:
    brief = asked(flags, count=str(many))
    pieces = found(brief)
    assert len(pieces) == many
    for each in pieces:
        assert surely(seen_in(each).known, KNOWN)
        assert each.prints
        assert each.prints[0].match >= brief.rules.match
        assert check(each) == []


@pytest.mark.parametrize("flags", [{**STRIP, "pairs": "16"}, {**FRAME, "band": "17"}], ids=["strip", "frame"])
def test_where_the_print_has_too_little_room_what_gives_it_room_is_told(flags: dict[str, str]) -> None:
    """One of the wider pieces that are offered carries a known print; the lesser verdict is one that is reached."""
    brief = asked(flags, count="1")
    (only,) = results(brief)
    assert only.design is None
    assert only.note.startswith("tulip is known from 10 pitches, and the largest place for it has ")
    lower = [each for each in only.near if each.stamp.known != KNOWN]
    wider = [each for each in only.near if each.stamp.known == KNOWN]
    assert [surely(seen_in(each).known, lower[0].stamp.known) for each in found(lower[0], hasty=True)] == [True]
    assert any(surely(seen_in(each).known, KNOWN) for near in wider for each in found(near, hasty=True))


@pytest.mark.parametrize(
    ("flags", "symmetry"),
    [
        ({"form": "frame", "pairs": "30"}, "full"),
        ({"form": "rectangle", "pairs": "26"}, "upright-mirror"),
    ],
    ids=["frame", "rectangle"],
)
def test_what_she_leaves_open_is_taken_so_that_the_print_is_known(flags: dict[str, str], symmetry: str) -> None:
    """Bands and symmetries that her pairs allow, the fullest in which it is known; the first ones have no room."""
    brief = asked(flags, count="1")
    (piece,) = found(brief, hasty=True)
    assert surely(seen_in(piece).known, KNOWN)
    assert piece.symmetry == symmetry
    assert piece.pairs <= brief.rules.pairs
    assert check(piece) == []
    first = workshop(brief, TULIP)
    assert isinstance(first, KindsWorkshop)
    assert first.stages.largest(first.stages.first) < piece.prints[0].size


def test_a_size_that_she_names_is_hers_known_or_not() -> None:
    pieces = found(asked(STRIP, pairs="16", stamp_size="5"))
    assert pieces
    assert {each.prints[0].size for each in pieces if each.prints} == {5.0}
    assert {seen_in(each).known for each in pieces} == {UNKNOWN}


def test_what_the_search_came_near_to_is_tried_though_another_of_its_key_was_in_vain() -> None:
    brief = asked(STRIP, pairs="16")
    near = [brief.changed(pairs=pairs) for pairs in (23, 27)]
    choices = [each.choice for each in offers(brief, near, False) if set(each.options) == {"pairs"}]
    assert choices[:2] == [True, True]
    assert not any(choices[2:])


@pytest.mark.parametrize(
    ("flags", "grown"),
    [
        ({"form": "strip", "pairs": "16"}, ["columns"]),
        ({"form": "strip", "pairs": "40", "columns": "13"}, ["columns"]),
        ({"form": "frame", "pairs": "30"}, ["half_width"]),
        ({"form": "frame", "half_size": "24", "half_height": "30", "pairs": "18", "symmetry": "none"}, ["band"]),
        ({"form": "frame", "half_size": "25", "edging": "cloth fan 3", "symmetry": "none"}, ["band"]),
        ({"form": "rectangle", "pairs": "20"}, ["half_width"]),
        ({"form": "rectangle", "half_size": "9", "half_height": "20", "pairs": "22"}, ["half_width"]),
        ({"form": "rectangle", "width": "45mm", "height": "100mm", "pairs": "22"}, ["half_width"]),
    ],
)
def test_every_measure_that_gives_room_is_offered_with_the_pairs_it_takes(
    flags: dict[str, str], grown: list[str]
) -> None:
    brief = asked(flags)
    sizing = SIZING[brief.piece.form]
    assert sizing.conflict(brief) is None
    ways = [[sizing.allowed(each)[-1] for each in way] for way in sizing.wider(brief)]
    assert len(ways) == len(grown)
    for forms, measure in zip(ways, grown, strict=True):
        sizes = [getattr(each, measure) for each in [sizing.allowed(brief)[-1], *forms]]
        assert len(set(sizes)) > 3
        assert sizes == sorted(sizes)
    for each in (one for way in sizing.wider(brief) for one in way):
        assert sizing.conflict(each) is None


def test_squares_of_a_named_size_are_offered_no_more_pairs() -> None:
    assert list(SIZING["square"].wider(asked({}, half_size="10"))) == []
    (pairs,) = SIZING["square"].wider(asked({}, pairs="10"))
    assert [each.rules.pairs for each in pairs] == list(range(11, 31))


@pytest.mark.parametrize("flags", [{**STRIP, "pairs": "30"}, {"form": "rectangle", "half_size": "12"}])
def test_prints_are_laid_as_large_as_they_lie_there(flags: dict[str, str]) -> None:
    """Half a pitch more does not lie there upright: between the margins for a strip, the edges for a rectangle."""
    brief = asked(flags, symmetry="none")
    made = workshop(brief, TULIP)
    assert isinstance(made, KindsWorkshop)
    largest = max(
        placement.size for n in made.stages.every for placement in made.stages.places(n) if placement.turn == 0.0
    )
    for step, fits in ((0.0, True), (0.5, False)):
        size = (largest + step, largest + step)
        assert workshop(brief.changed(stamp_size=size, turns=(0.0,)), TULIP).has_place() == fits


def test_sizes_are_shares_of_the_usual_one_and_the_largest_with_some_below_it() -> None:
    assert sizes_beside(10.2, 6.0, (0.5, 1.0, 2.0)) == [3.0, 6.0, 8.0, 9.0, 10.0]
    wide, high = extent(TULIP, 0.0)
    assert max(wide, high) == pytest.approx(2.0, abs=1e-6)
    assert extent(TULIP, 90.0) == pytest.approx((high, wide), abs=1e-6)


def test_rounds_take_one_of_each_key_in_turn() -> None:
    assert in_rounds(["a1", "a2", "b1", "a3", "c1", "b2"], lambda each: each[0]) == ["a1", "b1", "c1", "a2", "b2", "a3"]


def test_of_single_prints_only_squares_tell() -> None:
    pieces = found(asked(BOOKMARK, count="1", symmetry="upright-mirror"))
    assert [type(each.form) for each in pieces] == [Rectangle]
    for form in (Strip, Frame, Rectangle):
        brief = asked({"form": form.name}).changed(symmetry="suits")
        assert single_prints(pieces, brief, (TULIP,)) == ""


def test_with_fans_the_print_is_known_too() -> None:
    brief = asked({"form": "strip", "repeat": "36"}, pairs="36", count="1").changed(headside=named("cloth fan 3"))
    (piece,) = found(brief)
    assert surely(seen_in(piece).known, KNOWN)


def test_what_is_laid_as_known_beside_fans_is_known_in_the_strip_with_its_ornaments() -> None:
    """No job is in vain for its print: fans count when it is laid, and ornaments keep clear of it."""
    brief = asked({"form": "strip", "repeat": "32-36"}, pairs="32", edging="cloth fan 3")
    steps = results(brief)
    assert sum(each.design is not None for each in steps) == 2
    assert not any("the print is not known" in each.note for each in steps)


def test_nothing_is_composed_amid_a_print_that_is_to_be_known() -> None:
    """The hull of its outlines holds blocks of the print alone; apart from that blocks are laid."""
    shop = workshop(asked(STRIP, pairs="32"), TULIP)
    beside = 0
    with WorkerPool(workshop, (shop.brief, TULIP), 1) as workers:
        for job, task in shop.tasks(workers, range(4), lambda done, total: None):
            composed = shop.compose(job, task, np.random.default_rng(job))
            assert not isinstance(composed, str)
            (laid,) = composed.laid
            assert laid.blocking is not None
            hull = shapely.MultiPoint([point for ring in laid.placement.rings for point in ring]).convex_hull
            inside = shapely.contains_xy(hull, *composed.context.piece.pinholes.T)
            assert (composed.canvas.block & inside == laid.blocking.block & inside).all()
            beside += int((composed.canvas.block & ~laid.blocking.block).sum())
    assert beside > 0
