"""How a stamp falls on the grid: every blocking can be worked, and the suggestion follows from the table."""

from pathlib import Path

import pytest
from asked import Ask, followed, mends

from constraints.brief import AT_ONCE, HARDLY, KNOWN, UNKNOWN, Brief
from constraints.check import check
from explore.reading import built_in, read
from explore.search.laying.falls import Fall, falls, suggested


@pytest.fixture(scope="module")
def tulip() -> list[Fall]:
    return list(falls(read(built_in("tulip")), Brief.of(stamp_size=(8.0, 12.0), effort=0.5), cores=1))


def test_every_blocking_passes_the_check_with_the_match_it_tells(tulip: list[Fall]) -> None:
    assert tulip
    for fall in tulip:
        assert check(fall.design) == []


def test_a_square_of_that_many_pairs_holds_the_blocks(tulip: list[Fall]) -> None:
    """Worked round, half-size N takes N + 1 pairs and the passives; blocks keep the margin."""
    for fall in tulip:
        reach = max(max(abs(x), abs(y)) for block in fall.design.blocks for x, y in block.pinholes)
        assert fall.pairs == reach + Brief().rules.margin + 1 + fall.design.passives


def test_the_suggestion_is_the_smallest_size_at_which_it_is_known(tulip: list[Fall]) -> None:
    choice = suggested(tulip)
    assert choice is not None
    assert choice.seen.known in (KNOWN, AT_ONCE)
    for fall in tulip:
        if fall.size < choice.size:
            assert fall.seen.known in (UNKNOWN, HARDLY)


def test_splits_are_shown_beside_the_print_without_them() -> None:
    brief = Brief.of(stamp_size=(16.0, 16.0), own_splits=6)
    plain, split = falls(read(built_in("bee")), brief, 1)
    assert (plain.design.splits, plain.size) == (0, split.size)
    assert 0 < split.design.splits <= 6
    assert split.seen.score > plain.seen.score


def test_the_same_on_one_core_and_on_two() -> None:
    brief = Brief.of(stamp_size=(8.0, 9.0), effort=0.3)
    stamp = read(built_in("leaf"))
    assert [f.design for f in falls(stamp, brief, 1)] == [f.design for f in falls(stamp, brief, 2)]


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
