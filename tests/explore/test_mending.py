"""Mends are told as options, and each of them, added to the command that was refused, finds squares."""

from __future__ import annotations

import re
import shlex
from dataclasses import dataclass, field
from itertools import pairwise
from pathlib import Path

import pytest
from asked import Ask, mends

from constraints.brief import Brief
from explore import asking
from explore.exits import DONE, IMPOSSIBLE, NOTHING_FOUND
from explore.mending.briefs import BriefDoor
from explore.mending.changes import changes, given, offers
from explore.mending.measures import enough_pairs
from explore.mending.trying import MOST, MOST_TWOS, OF_A_KEY, tried

REFUSED = (
    "watering-can --half-size 8 --pairs 30",
    "tulip --pairs 12",
    "--no-stamp --passives 25 --pairs 20",
    "--no-stamp --width 143mm --pitch 50-60mm",
    "--no-stamp --width 80mm --pitch 30mm --pairs 2 --worked across",
    "tulip --half-size 8 --match 0.97 --symmetry upright-mirror",
    "--no-stamp --half-size 6 --stitches cloth --solid 90-100%",
    '--no-stamp --pairs 24 --edging "cloth fan 4" --half-size 18',
    "--no-stamp --form frame --half-size 24 --pairs 8",
    "--no-stamp --form strip --pairs 8",
    "--no-stamp --half-size 10 --solid 0.4-0.6 --corners clear",
)


@pytest.mark.usefixtures("garden")
@pytest.mark.parametrize("command", REFUSED)
def test_every_mend_told_finds_squares(ask: Ask, command: str) -> None:
    words = [*shlex.split(command), "--cores", "1"]
    status, _, errors = ask("explore", *words)
    assert status in (IMPOSSIBLE, NOTHING_FOUND)
    _all_mend(ask, words, mends(errors[-1]))


def _all_mend(ask: Ask, words: list[str], told: list[list[str]]) -> None:
    """One or two mends are told, none is what was asked for already, and each finds a square."""
    assert 1 <= len(told) <= 2
    for number, mend in enumerate(told):
        for flag, value in zip(mend[::2], mend[1::2], strict=True):
            assert (flag, value) not in pairwise(words)
        assert ask("explore", *words, *mend, "--count", "1", "--out", f"mended-{number}")[0] == DONE


@pytest.mark.usefixtures("garden")
def test_a_width_in_millimetres_that_may_be_centimetres_is_asked_about(ask: Ask) -> None:
    words = ["tulip", "--pairs", "14", "--width", "14", "--cores", "1"]
    _, _, errors = ask("explore", *words)
    assert "did you mean 14cm? what mends it: --pairs 30 --width 14cm" in errors[-1]
    _all_mend(ask, words, mends(errors[-1]))


@pytest.mark.usefixtures("garden")
def test_a_width_with_its_unit_is_taken_at_its_word(ask: Ask) -> None:
    _, _, errors = ask("explore", "--no-stamp", "--pairs", "6", "--width", "1.5in", "--cores", "1")
    assert "did you mean" not in errors[-1]
    assert mends(errors[-1])


@pytest.mark.usefixtures("garden")
def test_no_mend_takes_in_another_that_mends_by_itself(ask: Ask) -> None:
    _, _, errors = ask("count", "--width", "2in", "--pairs", "4")
    first, *others = (dict(pairwise(mend)) for mend in mends(errors[-1]))
    assert first
    assert all(not first.items() <= other.items() for other in others)


# --- the order, and the honesty of what is told ------------------------------------------------------------


@dataclass(frozen=True)
class Listed(BriefDoor):
    """A door that a few changes open, and fewer go through. run: the briefs that were run, in their order."""

    through: tuple[dict[str, str], ...] = ()
    run: list[Brief] = field(default_factory=list)

    def allows(self, brief: Brief) -> bool:
        return True

    def finds(self, brief: Brief) -> bool:
        self.run.append(brief)
        return any(brief == asking.read(None, {**self.flags, **each}).brief for each in self.through)


FLAGS = {"half_size": "14", "copies": "3", "symmetry": "half-turn", "stamp": "tulip"}


def what_holds(*through: dict[str, str]) -> tuple[Listed, str]:
    door = Listed(None, FLAGS, through)
    brief = asking.read(None, FLAGS).brief
    return door, tried(offers(brief, (), False), door, lambda done, most: None).sentence()


def test_fewer_copies_and_another_seed_are_among_what_is_tried() -> None:
    assert what_holds({"copies": "2"})[1] == "what mends it: --copies 2"
    assert what_holds({"seed": "3"})[1] == "what mends it: --seed 3"


def test_the_smaller_change_is_told_first_and_no_third_one() -> None:
    _, told = what_holds({"symmetry": "none"}, {"copies": "2"}, {"seed": "2"})
    assert told == "what mends it: --seed 2 or --copies 2"


@pytest.mark.parametrize(("corners", "others"), [("clear", ["swung", "halves"]), ("swung", ["halves"]), ("halves", [])])
def test_looser_ways_over_corner_lines_are_tried_while_there_is_time(corners: str, others: list[str]) -> None:
    for form, tried_ones in (("square", others), ("frame", others), ("strip", [])):
        brief = asking.read(None, {"stamp": "", "form": form, "corners": corners}).brief
        some = [given(brief, each) for each in changes(brief, (), True)[:6]]
        assert [each["corners"] for each in some if "corners" in each] == tried_ones


def test_what_was_tried_in_vain_is_named() -> None:
    door, told = what_holds()
    assert MOST < len(door.run) <= MOST + MOST_TWOS
    assert re.fullmatch(r"tried in vain: (--[a-z-]+ \S+, ){5}--[a-z-]+ \S+ and \d+ more", told)
    assert all(key in told for key in ("--seed 2", "--seed 3"))
    assert max(sum(brief.run.seed != 1 for brief in door.run), 1) <= OF_A_KEY


def test_where_no_change_helps_alone_two_at_once_are_told() -> None:
    door, told = what_holds({"copies": "2", "symmetry": "none"})
    assert told == "what mends it: --copies 2 --symmetry none"
    assert len(door.run) <= MOST + MOST_TWOS


def test_one_change_that_helps_is_told_and_no_two_are_run() -> None:
    door, told = what_holds({"copies": "1"}, {"narrowest": "1", "margin": "1"})
    assert told == "what mends it: --copies 1"
    assert len(door.run) <= MOST


def test_whoever_does_not_wait_is_told_what_was_found_so_far() -> None:
    brief = asking.read(None, FLAGS).brief

    def stop(done: int, most: int) -> None:
        if done == 5:
            raise KeyboardInterrupt

    found, none = (
        tried(offers(brief, (), False), Listed(None, FLAGS, through), stop).sentence()
        for through in (({"seed": "2"},), ())
    )
    assert found == "what mends it: --seed 2"
    assert re.fullmatch(r"stopped; tried in vain: --seed 2(, --[a-z-]+ \S+){4}", none)


@pytest.mark.parametrize("flags", [FLAGS, {"form": "frame", "pairs": "30"}, {"form": "strip"}, {"width": "14"}])
def test_no_change_is_her_own_value_and_all_are_read_back(flags: dict[str, str]) -> None:
    brief = asking.read(None, flags).brief
    every = changes(brief, (), False)
    assert [each.size for each in every] == sorted(each.size for each in every)
    read = 0
    for each in every:
        options = given(brief, each)
        assert options
        try:
            again = asking.read(None, {**flags, **options}).brief
        except asking.BriefError:
            continue  # the door refuses it before anything is run
        read += 1
        assert all(
            again.value(asking.NAMED[name].place) != brief.value(asking.NAMED[name].place)
            for name in options
            if name not in ("stitches", "match")
        )
    assert read >= len(every) / 2


def test_a_mend_of_a_brief_in_a_file_is_an_option_beside_it(ask: Ask, garden: Path) -> None:
    (garden / "wide.toml").write_text('stamp = ""\nwidth = "140mm"\npairs = 28\n')
    _, _, errors = ask("explore", "--brief", "wide.toml", "--cores", "1")
    told = mends(errors[-1])
    assert told[0] == ["--pairs", "30"]
    assert ask("explore", "--brief", "wide.toml", *told[0], "--count", "1", "--cores", "1")[0] == DONE


def test_of_several_symmetries_all_that_repeat_less_than_one_of_them_are_tried() -> None:
    """Subgroups of the group of quarter turns and of that of two mirrors (any table of the dihedral groups)."""
    brief = Brief.of(symmetry="quarter-turn,upright-mirrors")
    tried_out = {each.brief.piece.symmetry for each in changes(brief, (), False)} - {brief.piece.symmetry}
    assert tried_out == {"half-turn", "upright-mirror", "none"}


@pytest.mark.parametrize("passives", [1, 2])
def test_pairs_enough_for_a_frame_are_those_of_the_narrowest_band_she_leaves_open(passives: int) -> None:
    """Of p passives at each edge a band of b half pitches takes b + 2(1 + p) pairs (common practice, no source);
    between plain edges it is 6 at least."""
    brief = Brief.of(form="frame", half_size=(24, 24), pairs=5, passives=passives)
    assert enough_pairs(brief).rules.pairs == 6 + 2 * (1 + passives)
    assert enough_pairs(brief.changed(band=12)).rules.pairs == 12 + 2 * (1 + passives)
    assert enough_pairs(brief.changed(pairs=30)).rules.pairs == 30
    # More pairs make the band wider.
    more = {each.brief.rules.pairs for each in changes(brief.changed(pairs=12), (), False)}
    assert {13, 14, 16} <= more
