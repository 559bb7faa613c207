"""What `explore` chooses where she leaves it open: prints that are known and stand upright, and why not if there are
none."""

import re
from dataclasses import replace

import numpy as np
import pytest
import shapely

from constraints.brief import AT_ONCE, KNOWN, UNKNOWN, Brief
from constraints.character import character
from constraints.design import Design
from constraints.layout import lay
from constraints.lying import has_upright, poses, under
from constraints.rules.one_worker import notches
from constraints.square_sizes import sizes
from constraints.stamp import shape_of
from constraints.symmetry import matrices
from explore import asking, reading
from explore.search.laying.laid import PlaceLaid
from explore.search.laying.sectors import Place
from explore.search.search import search
from explore.search.squares.placing import Placing
from explore.search.squares.suited import LaidThere, chosen, closer, placings_of, settled
from explore.search.squares.suiting import ACROSS, LINE, MIDDLE, QUARTER, kind_of, lines_crossed, room, several, suiting
from explore.storage.listing import single_prints
from gallery.seeing.knowing import seen_in, surely

TULIP = reading.read(reading.built_in("tulip"))
SNAIL = reading.read(reading.built_in("snail"))


def asked(**flags: str) -> Brief:
    return asking.read(None, {"stamp": "tulip", **flags}).brief


@pytest.fixture(scope="module")
def squares() -> list[Design]:
    found = search(asked(pairs="24", count="6"), TULIP, cores=1)
    return [each.design for each in found if each.design is not None]


def test_in_every_square_the_print_is_known_and_a_copy_stands_upright(squares: list[Design]) -> None:
    assert len(squares) == 6
    shape = character(TULIP)
    for design in squares:
        assert surely(seen_in(design).known, KNOWN)
        assert design.prints
        copies = [pose for own in poses(design.prints[0], TULIP) for pose in under(own, design.symmetry)]
        assert has_upright(copies, shape)


def test_one_sheet_mixes_symmetries(squares: list[Design]) -> None:
    assert len({(design.symmetry, design.worked) for design in squares}) > 1


def test_only_the_print_splits(squares: list[Design]) -> None:
    for design in squares:
        layout = lay(design)
        inside, missing = notches(layout.piece, design.brief["corners"])
        split = inside[layout.inside[inside].all(axis=1) & ~layout.inside[missing]]
        assert design.prints
        own = shapely.union_all([shapely.Polygon(ring) for ring in design.prints[0].outlines]).buffer(2.5)
        every = [shapely.affinity.affine_transform(own, [a, b, c, d, 0, 0]) for a, b, c, d in _turns(design.symmetry)]
        spots = shapely.points(layout.piece.pinholes[split].mean(axis=1))
        assert shapely.intersects(shapely.union_all(every), spots).all()


def _turns(symmetry: str) -> list[tuple[int, ...]]:
    from constraints.symmetry import matrices

    return [tuple(matrix.ravel().tolist()) for matrix in matrices(symmetry)]


def test_the_print_is_in_cloth_with_two_rows_of_ground_round_it(squares: list[Design]) -> None:
    for design in squares:
        layout = lay(design)
        assert design.prints
        bodies = shapely.MultiPoint([p for ring in design.prints[0].outlines for p in ring]).convex_hull
        for block in design.blocks:
            if shapely.contains_xy(bodies, *np.array(block.pinholes).T).any():
                assert block.stitch == "cloth"
                own = np.zeros(len(layout.piece), dtype=bool)
                own[[layout.piece.index[place] for place in block.pinholes]] = True
                near = layout.piece.widened(own, 2) & ~layout.inside
                assert (layout.unit_of[near] < 0).all()


def test_places_within_a_quarter_cross_no_corner_line() -> None:
    """Against shapely's lines and hulls."""
    rng = np.random.default_rng(3)
    hull = np.array(shapely.MultiPoint(rng.uniform(-9, 9, size=(9, 2))).convex_hull.exterior.coords[:-1])
    centres = rng.integers(-20, 20, size=(60, 2)).astype(float)
    rays = [shapely.LineString([(0, 0), (99 * x, 99 * y)]) for x, y in ((1, 1), (1, -1), (-1, -1), (-1, 1))]
    for centre, crossed in zip(centres, lines_crossed(hull, centres), strict=True):
        assert crossed == sum(ray.intersects(shapely.Polygon(hull + centre)) for ray in rays)


def test_a_print_of_one_size_that_she_names_is_tried_at_several_places() -> None:
    brief = asked(pairs="30", symmetry="none", stamp_size="18")
    places = suiting(placings_of(brief, TULIP), 18.0, 12)
    assert {place.size for _, place in places} == {18.0}
    assert len(places) == len({place.centre for _, place in places}) >= 4


def test_every_kind_of_place_has_its_turn() -> None:
    placings = placings_of(asked(pairs="40"), TULIP)
    rooms = room(placings)
    assert set(rooms) == {QUARTER, LINE, MIDDLE, ACROSS}
    # The more lines a print may lie over the larger it may be.
    assert rooms[QUARTER] < rooms[LINE] < rooms[MIDDLE]
    places = suiting(placings, 8.0, 14)
    assert len(set(places)) == 14
    assert {placings[number].brief.piece.worked for number, _ in places} == {"round", "across"}
    assert all(place.size >= 8.0 for _, place in places)


def test_copies_on_their_side_prints_alone_aside_and_squares_half_as_wide_come_last() -> None:
    """How each image lies is worked out here from the turn of what the symmetry does to "up"."""
    placings = placings_of(asked(), TULIP)
    # Of 30 pairs worked round, and across.
    assert {placing.size.half_size for placing in placings} == {28, 13}

    def ways(placing: Placing, turn: float) -> set[int]:
        up = np.array([np.sin(np.radians(turn)), -np.cos(np.radians(turn))])
        images = [np.array(matrix) @ up for matrix in matrices(placing.brief.piece.symmetry)]
        return {round(np.degrees(np.arctan2(x, -y))) % 360 for x, y in images}

    def off(number: int, place: Place) -> bool:
        there = ways(placings[number], place.turn)
        copies = len(matrices(placings[number].brief.piece.symmetry)) // (2 if place.sector.mirrored else 1)
        alone = copies == 1 and kind_of(placings[number], place) in (QUARTER, LINE)
        lost = placings[number].size.half_size == 13
        return alone or lost or (bool(there & {90, 270}) and 180 not in there)

    last = [off(*each) for each in suiting(placings, 8.0, 400)]
    assert last == sorted(last)
    assert set(last) == {False, True}


def test_a_symmetry_or_way_of_working_that_is_named_is_kept_to() -> None:
    both = asked(symmetry="none,quarter-turn", worked="round")
    assert {each.piece.symmetry for each in settled(both, TULIP)} == {"none", "quarter-turn"}
    assert {each.piece.worked for each in settled(both, TULIP)} == {"round"}
    alone = asking.read(None, {"stamp": ""}).brief
    assert [(each.piece.symmetry, each.piece.worked) for each in settled(alone, None)] == [("full", "round")]


def laid_there(count: int) -> tuple[Placing, list[LaidThere]]:
    """So many places of different sizes, laid alike."""
    brief = asked(pairs="24")
    placing = Placing(brief.changed(symmetry="none", worked="round"), TULIP, sizes(brief)[0])
    place = suiting([placing], 15.0, 1)[0][1]
    laid: PlaceLaid = placing.lay(place)
    assert laid.known_as(KNOWN)
    every = [replace(laid, place=replace(place, size=place.size + number)) for number in range(count)]
    return placing, [LaidThere(0, each) for each in every]


def test_few_prints_are_left_open_and_none_of_the_first() -> None:
    placing, solid = laid_there(9)
    left_open = [LaidThere(0, replace(each.laid, place=replace(each.laid.place, reverse=True))) for each in solid[:3]]
    there = chosen([placing], left_open + solid, placing.brief)
    assert [each.laid.place.reverse for each in there].count(True) == 1
    assert not any(each.laid.place.reverse for each in there[:7])
    assert not any(each.laid.place.reverse for each in chosen([placing], left_open + solid[:1], placing.brief))


def test_what_is_known_at_once_comes_first_and_has_two_of_three_turns_but_no_more_than_four() -> None:
    placing, laid = laid_there(4)
    assert all(each.laid.seen is not None for each in laid)

    def with_outline(each: LaidThere, outline: float) -> LaidThere:
        return LaidThere(0, replace(each.laid, seen=replace(each.laid.seen, overlap=0.8, outline=outline, margin=0.0)))

    surest, known = with_outline(laid[0], 1.0), [with_outline(each, 0.6) for each in laid[1:]]
    assert [each.laid.known_as(AT_ONCE) for each in (surest, *known)] == [True, False, False, False]
    assert chosen([placing], [*known, surest], placing.brief) == [surest, surest, known[0], surest, surest, *known[1:]]


def test_of_places_beside_each_other_the_best_is_taken() -> None:
    placing, (first, *_) = laid_there(1)
    x, y = first.laid.place.centre
    assert first.laid.seen is not None
    worse = replace(first.laid.seen, overlap=first.laid.seen.overlap - 0.01)
    beside = replace(first.laid, place=replace(first.laid.place, centre=(x + 0.5, y)), seen=worse)
    taken = {each.laid for each in chosen([placing], [LaidThere(0, beside), first], placing.brief)}
    assert taken == {first.laid}


def test_the_best_places_are_looked_at_again_with_those_less_than_a_pitch_away() -> None:
    placing, laid = laid_there(3)
    again = [place for _, place in closer([placing], laid, placing.brief)]
    assert {each.laid.place for each in laid} < set(again)
    for place in again:
        near = [each.laid.place for each in laid if each.laid.place.size == place.size]
        assert any(np.hypot(*np.subtract(place.centre, each.centre)) < 2 for each in near)


def test_one_print_by_itself_lies_in_the_middle_first() -> None:
    brief = asked(pairs="26", symmetry="none", worked="round")
    placing = Placing(brief, TULIP, sizes(brief)[0])
    laid = [LaidThere(0, placing.lay(place)) for _, place in suiting([placing], 14.0, 12)]
    there = chosen([placing], laid, brief)
    kinds = [kind_of(placing, each.laid.place) for each in there if each.laid.known_as(AT_ONCE)]
    assert kinds[0] == MIDDLE


def test_a_print_that_no_place_is_large_enough_for_is_told_with_the_pairs_it_takes() -> None:
    (only,) = search(asked(pairs="12", stamp="snail"), SNAIL, cores=1)
    assert only.design is None
    assert "snail is known from" in only.note
    pairs = min(near.rules.pairs for near in only.near if near.rules.pairs != 12)
    # Whether there is any square is all that is asked.
    found = search(asked(pairs=str(pairs), stamp="snail", count="1"), SNAIL, cores=1, hasty=True)
    assert any(each.design is not None and surely(seen_in(each.design).known, KNOWN) for each in found)


def test_what_is_known_at_once_can_be_asked_for() -> None:
    found = search(asked(pairs="26", known=AT_ONCE, count="2"), TULIP, cores=1)
    assert [seen_in(each.design).known for each in found if each.design is not None] == [AT_ONCE, AT_ONCE]


def test_it_is_said_from_how_many_pairs_there_is_room_for_several() -> None:
    brief = asked(pairs="22", worked="round", count="1")
    design = next(each.design for each in search(brief, TULIP, cores=1) if each.design is not None)
    assert design.prints
    told = re.fullmatch(
        r"one tulip in each square, .* have room from (\d+) pairs", single_prints([design] * 3, brief, (TULIP,))
    )
    assert told is not None
    pairs = int(told[1])
    assert not several(placings_of(brief.changed(pairs=pairs - 1), TULIP), design.prints[0].size)
    assert single_prints([design] * 3, brief.changed(pairs=pairs), (TULIP,)) == ""
    assert single_prints([design] * 2, brief, (TULIP,)) == ""
    # Two of them, as large as in that square, are laid in one of so many pairs.
    size = (design.prints[0].size, design.prints[0].size)
    roomy = brief.changed(
        pairs=pairs, stamp_size=size, known=UNKNOWN, symmetry="half-turn,upright-mirrors,upright-mirror"
    )
    found = [each.design for each in search(roomy, TULIP, cores=1) if each.design is not None]
    assert len(found) == 1


def test_nothing_is_said_of_single_prints_where_a_symmetry_is_named(squares: list[Design]) -> None:
    assert single_prints(squares, asked(pairs="24", symmetry="none"), (TULIP,)) == ""


def test_where_there_is_little_room_squares_come_from_every_place_in_which_it_is_known() -> None:
    """At 17 pairs the print fills most of a square: the ten best places alone give four squares."""
    found = [each.design for each in search(asked(pairs="17", count="8"), TULIP, cores=1) if each.design is not None]
    assert len(found) == 8
    centres = {(each.symmetry, shape_of(each.prints[0].outlines).centroid.wkt) for each in found if each.prints}
    assert len(centres) > 4
