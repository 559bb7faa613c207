"""Several stamps in one piece: each lies whole, clear of the others and of all images, at its spot, in every file."""

from __future__ import annotations

import json
import re
import tomllib
from pathlib import Path

import numpy as np
import pytest
import shapely
from asked import Ask
from shapely.geometry import MultiPolygon, Polygon

from constraints.brief import SPOTS, Brief
from constraints.check import check
from constraints.design import Design
from constraints.design_file import from_text, to_text
from constraints.forms import Square
from constraints.stamp import Stamp, outlines, shape_of
from constraints.targets import images
from explore.search import memory
from explore.search.laying.placement import AIR, Placement
from explore.search.laying.spots import spot_of
from explore.search.laying.together import together
from explore.search.search import search
from explore.search.several import SeveralWorkshop
from explore.search.workshops import workshop
from explore.storage.study import open_study

BUD = Stamp("bud", MultiPolygon([Polygon([(0, -3), (3, 0), (0, 3), (-3, 0)])]))
BAR = Stamp("bar", MultiPolygon([Polygon([(0, -2), (4, 2), (2, 4), (-2, 0)])]))
ASKED = [("bud", "suits"), ("bar", "suits")]
PLAIN = {"match": 0.5, "narrowest": 2, "stamp_size": (4.0, 6.0), "count": 3, "apart": 0.02}
BRIEFS = {
    "square": Brief.of(half_size=(16, 16), symmetry="quarter-turn,none", worked="round", solid=(0.05, 0.6), **PLAIN),
    "rectangle": Brief.of(
        form="rectangle", half_size=(12, 12), half_height=22, pairs=60, worked="across", symmetry="none",
        solid=(0.02, 0.6), **PLAIN,
    ),
    "frame": Brief.of(
        form="frame", half_size=(30, 30), half_height=30, band=14, pairs=60, symmetry="quarter-turn", solid=(0.02, 0.6),
        **PLAIN,
    ),
    "strip": Brief.of(
        form="strip", columns=16, rows=(40, 40), pairs=30, worked="across", symmetry="none", solid=(0.02, 0.6), **PLAIN
    ),
}  # fmt: skip


def found(brief: Brief, *stamps: Stamp, cores: int = 1) -> list[Design]:
    return [step.design for step in search(brief, *stamps, cores=cores) if step.design is not None]


def every_image(design: Design) -> list[list[MultiPolygon]]:
    """Of each print all copies, those of the symmetry too."""
    setting = design.form.once(design.worked, design.symmetry).setting
    return [images(shape_of(each.outlines), design.symmetry, setting) for each in design.prints]


@pytest.fixture(scope="module", params=BRIEFS)
def pieces(request: pytest.FixtureRequest) -> list[Design]:
    return found(BRIEFS[request.param].showing(ASKED), BUD, BAR)


def test_every_piece_shows_every_stamp_and_can_be_worked(pieces: list[Design]) -> None:
    assert len(pieces) == 3
    for design in pieces:
        assert [each.name for each in design.prints] == ["bud", "bar"]
        assert all(4.0 <= each.size <= 6.0 and each.match >= 0.5 for each in design.prints)
        assert check(design) == []
        assert from_text(to_text(design)) == design


def test_no_print_comes_near_another(pieces: list[Design]) -> None:
    """By the outlines in the file and the general geometry of Shapely."""
    for design in pieces:
        buds, bars = (shapely.union_all(each) for each in every_image(design))
        # No pinhole has half of the air of both: the prints themselves may come a little nearer between pinholes.
        assert buds.distance(bars) >= AIR / 2


def test_the_check_finds_a_print_that_is_not_there(pieces: list[Design]) -> None:
    data = json.loads(to_text(pieces[0]))
    data["prints"][1]["match"] -= 0.25
    assert {finding.rule for finding in check(from_text(json.dumps(data)))} == {"match"}


def test_pieces_are_the_same_on_two_cores() -> None:
    brief = BRIEFS["square"].showing(ASKED)
    alone = [*map(to_text, found(brief, BUD, BAR))]
    memory.forget()
    assert alone == [*map(to_text, found(brief, BUD, BAR, cores=2))]


# --- spots -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("bud", "bar"), [("corners", "sides"), ("sides", "corners"), ("middle", "corners")])
def test_each_lies_at_the_spot_that_she_names(bud: str, bar: str) -> None:
    """A corner is nearer to a diagonal of the square than to an axis, the middle within a fifth of the way outwards."""
    brief = BRIEFS["square"].changed(count=2).showing([("bud", bud), ("bar", bar)])
    designs = found(brief, BUD, BAR)
    assert designs
    for design in designs:
        for spot, copies in zip((bud, bar), every_image(design), strict=True):
            for each in copies:
                x, y = np.abs(each.convex_hull.centroid.coords[0]) / design.half_size
                far = "middle" if max(x, y) <= 0.2 else "corners" if min(x, y) >= 0.5 * max(x, y) else "sides"
                assert far == spot


def test_one_stamp_may_have_its_spot_too() -> None:
    brief = BRIEFS["square"].changed(count=2).showing([("bud", "corners")])
    shop = workshop(brief, BUD)
    assert isinstance(shop, SeveralWorkshop)
    placements = [placement for number in range(len(shop.kinds[0])) for _, (placement,) in shop.groups(number, [1.0])]
    form = shop.kinds[0][0].form
    assert placements
    assert {spot_of(each, form) for each in placements} == {"corners"} < set(SPOTS)


def test_too_little_room_is_told_with_pairs_that_give_it() -> None:
    brief = Brief.of(pairs=9, symmetry="none", worked="round", match=0.5, stamp_size=(5.0, 5.0)).showing(ASKED)
    (step,) = search(brief, BUD, BAR, cores=1)
    assert step.design is None
    assert step.note.startswith("bud and bar find no place clear of each other")
    assert [each.rules.pairs for each in step.near] == [13]
    for pairs, room in ((12, False), (13, True)):
        assert workshop(brief.changed(pairs=pairs), BUD, BAR).has_place() is room


def test_prints_that_take_too_much_of_a_piece_are_told_with_their_share() -> None:
    brief = BRIEFS["square"].changed(solid=(0.0, 0.03), symmetry="none", count=1).showing(ASKED)
    (step,) = search(brief, BUD, BAR, cores=1)
    said = r"bud and bar together take ([\d.]+)% of the pinholes at the least, solid allows 3%"
    found = re.fullmatch(said, step.note)
    assert found is not None
    assert [near.rules.solid[1] >= float(found[1]) / 100 for near in step.near] == [True]
    assert next(search(step.near[0], BUD, BAR, cores=1)).design is not None


def test_groups_are_told_by_the_print_with_the_least_room_the_roomiest_first() -> None:
    """Room: the size as a multiple of the one from which a print is known."""
    piece = Square(20).piece("round", "none")

    def at(stamp: Stamp, size: float, x: float) -> Placement:
        return Placement(stamp.name, size, 0.0, outlines(stamp.placed(size, 0.0, (x, 0.0))))

    buds, bars = [at(BUD, 4.0, -10.0), at(BUD, 6.0, -10.0)], [at(BAR, 5.0, 10.0), at(BAR, 5.0, -9.0)]
    groups = together([buds, bars], [4.0, 4.0], piece)
    assert [(room, group[0].size, group[1].rings) for room, group in groups] == [(1.25, 6.0, bars[0].rings)]


# --- commands ----------------------------------------------------------------------------------------------

DIAMOND = '<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 -30 L30 0 L0 30 L-30 0 Z"/></svg>'
SMALL = ("--half-size", "14", "--pairs", "16", "--stamp-size", "4-5", "--count", "2", "--match", "0.5", "--cores", "1",
         "--symmetry", "none", "--worked", "round")  # fmt: skip


@pytest.fixture
def prints(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("old").mkdir()
    for name in ("bud.svg", "bar.svg", "old/bud.svg"):
        Path(name).write_text(DIAMOND)


@pytest.mark.usefixtures("prints")
def test_a_study_keeps_all_stamps_and_goes_on_with_them(ask: Ask) -> None:
    assert ask("explore", "bud.svg", "bar.svg", "old/bud.svg", *SMALL, "--place", "bud=middle")[0] == 0
    folder = Path("bud-bar-bud-2-study")
    assert {"stamp.svg", "stamp-2.svg", "stamp-3.svg", "stamp.json", "stamp-2.json", "stamp-3.json"} <= {
        path.name for path in folder.iterdir()
    }
    brief = tomllib.loads((folder / "brief.toml").read_text())
    assert (brief["stamp"], brief["place"]) == (["bud", "bar", "bud-2"], "bud=middle")
    study = open_study(folder)
    assert [each.name for each in study.stamps] == [each.name for each in study.brief.stamps]
    assert ask("explore", str(folder), "--more", "1", "--cores", "1")[0] == 0
    assert len(open_study(folder).designs) == 3
    # A study's brief with its own stamps begins another one.
    assert ask("explore", "--brief", str(folder / "brief.toml"), "--out", "again", "--count", "1")[0] == 0
    assert open_study(Path("again")).designs[0].blocks == study.designs[0].blocks


@pytest.mark.usefixtures("prints")
@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["bud.svg", "bar.svg", "--place", "buds=middle"], '--place is of "buds"; did you mean bud?'),
        (["bud.svg", "--place", "edge"], '--place is "edge"; allowed: corners, sides, middle or suits, for all stamps'),
        (["bud.svg", "bar.svg", "--turn", "10"], "--turn sets one print upright, not 2; turn their pictures"),
        (["bud.svg"] * 5, "at most 4 lie in one piece"),
        (["bud.svg", "bar.svg", "--form", "strip", "--place", "corners"], "--place is given, but a strip has none"),
    ],
)
def test_what_cannot_be_placed_is_refused_in_one_line(words: list[str], said: str, ask: Ask) -> None:
    status, _, errors = ask("explore", *words)
    assert (status, len(errors)) == (2, 1)
    assert said in errors[0]
