"""`frame --fill centre`: a mat has the strip all round, a middle from the search, and can be worked."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import networkx as nx
import pytest
from asked import STRIPS, Ask, Keep

from constraints.check import check
from constraints.design import Design
from constraints.design_file import from_text
from constraints.forms import Frame
from constraints.forms import Square as SquareForm
from constraints.working import check as working
from constraints.working.work import work
from explore.editing.mirroring.filling import fill
from explore.editing.mirroring.making import Framed, Frames, Parts
from explore.reading import built_in, read
from explore.search import memory
from explore.search.search import search
from explore.storage.study import Study, create


@pytest.fixture
def study(keep: Keep, mirrored: list[Design]) -> Study:
    return keep(STRIPS, mirrored)


def _frame(study: Study, number: int, repeats: int = 3) -> Framed:
    return Frames(study.folder, number, None).framed(Parts(1, (1, 1), (repeats, repeats)))


def _mats(made: Framed, count: int, symmetry: str = "full", cores: int = 1) -> list[Design]:
    return [each.mat for each in fill(made, count, symmetry, cores, lambda done, total: None)]


@pytest.mark.parametrize("number", [1, 2, 3])
def test_a_mat_has_the_strip_all_round_and_can_be_worked(study: Study, number: int) -> None:
    made = _frame(study, number)
    frame = made.made.frame
    for mat in _mats(made, 1):
        assert check(mat) == []
        assert working.faults(work(mat)) == []
        assert _stitches(frame) == {
            point: stitch for point, stitch in _stitches(mat).items() if point in frame.piece().index
        }
        ring = set(_figures(frame))
        kept, left_out = ring & set(_figures(mat)), ring - set(_figures(mat))
        # One field has one filling: the strip's figures give way only to others of the strip.
        assert {_field(mat, each) for each in left_out} <= {_field(mat, each) for each in kept}
        # Something stands in the middle, and nothing of it where the band was.
        assert any(point not in frame.piece().index for point in _stitches(mat))


def test_a_mat_takes_the_pairs_of_a_square_worked_round(study: Study) -> None:
    """N lines, one edge pair and its passives (the count of a mat worked as four quarters: teaching pages of Jo
    Edkins); fans take one line less and two pairs at the valley."""
    for number in (1, 3):
        made = _frame(study, number)
        frame = made.made.frame
        assert isinstance(frame.form, Frame)
        (mat,) = _mats(made, 1)
        assert mat.form == SquareForm(frame.form.half_width, frame.form.headside)
        fans = frame.form.headside is not None
        assert mat.pairs == frame.form.half_width + 1 + (0 if fans else frame.passives)


def test_the_middle_may_have_a_symmetry_of_its_own(study: Study) -> None:
    (mat,) = _mats(_frame(study, 1), 1, symmetry="quarter-turn")
    assert mat.symmetry == "quarter-turn"
    assert check(mat) == []


def test_the_same_mats_come_on_one_core_and_on_two(tmp_path: Path, study: Study, mirrored: list[Design]) -> None:
    again = create(tmp_path / "again", STRIPS, (), ())
    for each in mirrored:
        again = again.keep(each, 0)
    alone = _mats(_frame(study, 1), 2, cores=1)
    memory.forget()
    assert alone == _mats(_frame(again, 1), 2, cores=2)


def test_mats_are_told_kept_and_shown_on_a_sheet(ask: Ask, study: Study) -> None:
    status, lines, _ = ask("frame", "edgings", "2", "--repeats", "3", "--fill", "centre", "--count", "2")
    assert status == 0
    assert [line[:24] for line in lines[:2]] == ["04: mat round strip 02, ", "05: mat round strip 02, "]
    assert lines[2] == "sheet: edgings/mats-04.png (also .pdf)"
    assert (study.folder / "mats-04.png").exists()
    kept = [from_text((study.folder / "squares" / f"{number:02d}.json").read_text()) for number in (4, 5)]
    assert all(check(each) == [] for each in kept)


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        (("--fill", "middle"), '--fill is "middle"; allowed: centre'),
        (("--fill", "centre", "--repeats", "2x3"), "half-sides 34 and 46; what mends it: --repeats 2"),
        (("--fill", "centre", "--count", "25"), "--count is"),
        (("--fill", "centre", "--symmetry", "fuller"), "did you mean full?"),
        (("--count", "2"), "--count says how the middle is filled; it goes with --fill centre"),
        (("--symmetry", "full"), "--symmetry says how the middle is filled"),
    ],
)
def test_what_cannot_be_filled_is_one_line(ask: Ask, study: Study, asked: tuple[str, ...], told: str) -> None:
    status, _, errors = ask("frame", "edgings", "1", *asked)
    assert status == 2
    assert told in errors[-1]
    assert len(list((study.folder / "squares").iterdir())) == 3


def test_an_opening_too_small_to_fill_is_refused_with_what_mends_it(ask: Ask, study: Study) -> None:
    status, _, errors = ask("frame", "edgings", "2", "--fill", "centre", "--repeats", "1")
    assert status == 2
    assert "too small to fill; 8 at least is needed; what mends it: --repeats" in errors[-1]
    for mend in errors[-1].partition("what mends it: ")[2].split(" or "):
        assert ask("frame", "edgings", "2", "--fill", "centre", "--count", "1", *mend.split())[0] == 0


def test_without_repeats_the_middle_has_room(ask: Ask, study: Study) -> None:
    assert ask("frame", "edgings", "2", "--fill", "centre", "--count", "1")[0] == 0
    assert check(from_text((study.folder / "squares" / "04.json").read_text())) == []


def _field(model: Design, figure: tuple[str, tuple[int, int]]) -> frozenset[tuple[int, int]]:
    """The centres of all open holes that are joined to the one at a figure, or beside it."""
    solid, pinholes = set(_stitches(model)), set(model.piece().index)
    half = model.half_size
    holes = [
        (x, y)
        for x in range(2 - half, half - 1)
        for y in range(2 - half, half - 1)
        if all(p in pinholes and p not in solid for p in ((x + 1, y), (x - 1, y), (x, y + 1), (x, y - 1)))
    ]
    graph = nx.Graph([(hole, hole) for hole in holes])
    graph.add_edges_from(
        ((x, y), beside) for x, y in holes for beside in ((x + 1, y + 1), (x - 1, y + 1)) if beside in graph
    )
    x, y = figure[1]
    own = next(each for each in ((x, y), (x + 1, y), (x, y + 1), (x - 1, y), (x, y - 1)) if each in graph)
    return frozenset(nx.node_connected_component(graph, own))


def _stitches(model: Design) -> dict[tuple[int, int], str]:
    return {point: block.stitch for block in model.blocks for point in block.pinholes}


def _figures(model: Design) -> list[tuple[str, tuple[int, int]]]:
    return [(each.kind, place) for each in model.fillings for place in each.places]


def test_double_ground_stays_double_in_a_frame(tmp_path: Path) -> None:
    """What is no unit is laid round too: a strip all in double ground gives a frame all in double ground."""
    asked = STRIPS.changed(stitches=("cloth", "double-ground"), least={"double-ground": 40}, count=1)
    (strip,) = (step.design for step in search(asked, cores=1) if step.design is not None)
    study = create(tmp_path / "edgings", asked, (), ()).keep(strip, 0)
    frame = Frames(study.folder, 1, None).framed(Parts(1, (1, 1), (2, 2))).made.frame
    assert check(frame) == []
    assert _share_in_double(frame) >= 0.9 * _share_in_double(strip)


def _share_in_double(model: Design) -> float:
    """Of the pinholes outside blocks, those that are listed in double ground."""
    listed = sum(len(each.places) for each in model.fillings if each.kind == "double-ground")
    return listed / (len(model.piece()) - len(_stitches(model)))


def test_the_stamp_of_the_strip_stands_in_the_middle_too(keep: Keep) -> None:
    stamp = read(built_in("tulip"))
    asked = STRIPS.changed(stamp="tulip", pairs=20, rows=(12, 24), count=1)
    (strip,) = (step.design for step in search(asked, stamp, cores=1) if step.design is not None)
    study = replace(keep(asked, [strip]), stamps=(stamp,))
    made = replace(_frame(study, 1, 2), study=study)
    mats = _mats(made, 1)
    assert len(mats) == 1
    for mat in mats:
        assert mat.prints
        assert mat.prints[0].match >= 0.65
        assert check(mat) == []
