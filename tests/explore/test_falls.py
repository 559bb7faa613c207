"""How a stamp falls on the grid: every blocking can be worked, and the suggestion follows from the table."""

from pathlib import Path

import pytest
from asked import Ask, followed, mends
from shapely.geometry import MultiPolygon, Point, box

from constraints.brief import AT_ONCE, HARDLY, KNOWN, UNKNOWN, Brief
from constraints.check import check
from constraints.stamp import Stamp
from explore import cli
from explore.papers.falls import losses
from explore.reading import built_in, read
from explore.search import memory
from explore.search.laying.bolder import bolder
from explore.search.laying.falls import Fall, fall, falls, suggested


@pytest.fixture(scope="module")
def tulip() -> list[Fall]:
    return list(falls(read(built_in("tulip")), Brief.of(stamp_size=(8.0, 12.0), effort=0.5), cores=1))


def test_every_blocking_passes_the_check_with_the_match_it_tells(tulip: list[Fall]) -> None:
    assert tulip
    for each in tulip:
        assert check(each.design) == []


def test_a_square_of_that_many_pairs_holds_the_blocks(tulip: list[Fall]) -> None:
    """Worked round, half-size N takes N + 1 pairs and the passives; blocks keep the margin."""
    for each in tulip:
        reach = max(max(abs(x), abs(y)) for block in each.design.blocks for x, y in block.pinholes)
        assert each.pairs == reach + Brief().rules.margin + 1 + each.design.passives


def test_the_suggestion_is_the_smallest_size_at_which_it_is_known(tulip: list[Fall]) -> None:
    choice = suggested(tulip)
    assert choice is not None
    assert choice.seen.known in (KNOWN, AT_ONCE)
    for each in tulip:
        if each.size < choice.size:
            assert each.seen.known in (UNKNOWN, HARDLY)


def test_splits_are_shown_beside_the_print_without_them() -> None:
    brief = Brief.of(stamp_size=(16.0, 16.0), own_splits=6)
    plain, split = falls(read(built_in("bee")), brief, 1)
    assert (plain.design.splits, plain.size) == (0, split.size)
    assert 0 < split.design.splits <= 6
    assert split.seen.score > plain.seen.score


def test_a_part_that_is_carved_as_much_bolder_as_is_told_is_shown() -> None:
    """A disc with a thin rod: at 8 pitches no block shows the rod; carved bolder by hand it does."""
    disc, rod = Point(0, 0).buffer(20), box(-1.0, -60, 1.0, 0)
    thin = Stamp("rattle", MultiPolygon([disc.union(rod)]))
    brief = Brief.of(effort=0.5)
    at = fall(thin, brief, 8.0, 0.0)
    assert at is not None
    assert at.lost_at == ["at the top"]
    ((place, share),) = bolder(thin, brief, at)
    assert place == "at the top"
    lost, helped = losses(thin, brief, [at], at)
    assert lost == "at every size a part at the top is lost: no block shows it"
    assert helped.startswith("the part at the top is shown at 8 pitches if you carve it ")
    carved = Stamp("rattle", MultiPolygon([disc.union(rod.buffer(share * 80))]))
    shown = fall(carved, brief, 8.0, 0.0)
    assert shown is not None
    assert shown.lost_at == []


@pytest.mark.parametrize(("size", "known"), [("8", " --known hardly"), ("6", None)])
def test_a_print_that_is_hardly_known_goes_on_to_squares_in_which_it_is_so(
    garden: Path, capsys: pytest.CaptureFixture[str], size: str, known: str | None
) -> None:
    assert cli.run(["stamp", "tulip", "--stamp-size", size, "--effort", "0.2", "--cores", "1"]) == 0
    told = [line for line in capsys.readouterr().err.splitlines() if line.startswith("next: ")]
    assert told == ([] if known is None else [f"next: stampwork explore tulip --effort 0.2{known}"])


def test_the_same_on_one_core_and_on_two() -> None:
    brief = Brief.of(stamp_size=(8.0, 9.0), effort=0.3)
    stamp = read(built_in("leaf"))
    alone = [f.design for f in falls(stamp, brief, 1)]
    memory.forget()
    assert alone == [f.design for f in falls(stamp, brief, 2)]


@pytest.mark.parametrize("asked", [("--stamp-size", "1"), ("--stamp-size", "8", "--narrowest", "14")])
def test_a_stamp_of_which_nothing_is_shown_is_told_with_what_mends_it(
    ask: Ask, garden: Path, asked: tuple[str, ...]
) -> None:
    command = ["stamp", "tulip", *asked, "--effort", "0.2", "--cores", "1"]
    status, _, errors = ask(*command)
    assert status == 4
    told = mends(errors[-1])
    assert told, errors
    for number, mend in enumerate(told):
        assert ask(*followed(command, mend), "--out", f"mended-{number}")[0] == 0


def test_another_form_than_a_square_is_not_passed_over_in_silence(ask: Ask, garden: Path) -> None:
    command = ["stamp", "kite.svg", "--stamp-size", "8", "--effort", "0.1", "--cores", "1", "--force"]
    assert ask(*command)[2] == []
    words = "it is looked at on squares: pairs are those of the smallest that holds it, a strip takes others"
    assert ask(*command, "--form", "strip")[2] == [f"note: {words}"]


def test_whoever_waits_is_told_how_many_looks_are_done_and_of_how_many() -> None:
    told: list[tuple[int, int]] = []
    brief = Brief.of(stamp_size=(6.0, 8.0), own_splits=2)
    assert list(falls(read(built_in("tulip")), brief, 1, lambda done, of: told.append((done, of))))
    assert told == [(number, 6) for number in range(1, 7)]
