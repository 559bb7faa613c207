"""The registry of fillings: whatever is in it is whole, and has its place in the second check."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from constraints import check
from constraints.check import fillings as checked
from constraints.edgings import EDGINGS
from constraints.fillings import FILLINGS, GROUNDS, UNITS, complete
from constraints.fillings.double_ground import DOUBLE_GROUND
from constraints.fillings.filling import Filling, GroundFilling
from constraints.fillings.rose import ROSE
from constraints.fillings.spider import SPIDER
from constraints.moves import change_places, spelled, times
from constraints.working.habits import Habits

ROOT = Path(__file__).parents[2]
PACKAGES = ("constraints", "gallery", "explore")
ROOMS = ("constraints/fillings", "constraints/check/fillings")


def test_every_filling_has_a_rule_of_its_own_in_the_second_check() -> None:
    assert {*checked.IN_LINE, *checked.FIGURES, *checked.GROUNDS} == set(FILLINGS)
    for name, filling in FILLINGS.items():
        assert (filling.one in check.WHOLE) == (name in checked.IN_LINE)
        assert (filling.one in check.RULES) == (name not in checked.IN_LINE)


# An edging that has figures in its scallops; the help of two commands; and what one likes of those that are usual.
MAY_NAME = {f"{each.__module__.replace('.', '/')}.py" for each in EDGINGS.values()}
MAY_NAME |= {"explore/commands/work.py", "explore/commands/pricking.py"}
MAY_NAME |= {"gallery/seeing/traits.py", "explore/asking/tastes.py"}


@pytest.mark.parametrize("name", FILLINGS)
def test_a_filling_is_named_in_the_registry_in_its_own_file_and_in_its_check_and_nowhere_else(name: str) -> None:
    filling = FILLINGS[name]
    words = re.compile(rf"\b({filling.one}|{filling.several}|{name})\b".replace(" ", "[ _-]?"), re.IGNORECASE)
    own = {f"{room}/{each}.py" for room in ROOMS for each in ("__init__", *(f.replace("-", "_") for f in FILLINGS))}
    files = {str(path.relative_to(ROOT)) for top in PACKAGES for path in (ROOT / top).rglob("*.py")}
    naming = {file for file in files - own if words.search((ROOT / file).read_text(encoding="utf-8"))}
    assert naming <= MAY_NAME


@pytest.mark.parametrize("part", ["words", "places", "one", "several", "field", "label", "colour", "legend", "told"])
@pytest.mark.parametrize("filling", [ROSE, DOUBLE_GROUND], ids=["rose", "double ground"])
def test_a_filling_that_lacks_a_part_is_told_when_it_is_registered(filling: Filling, part: str) -> None:
    torn = replace(filling, **{part: None if part in ("colour", "told") else ""})
    with pytest.raises(ValueError, match=f"lacks {part}"):
        complete((torn,), ())


@pytest.mark.parametrize(
    ("torn", "told"),
    [
        (replace(ROSE, units=()), "lacks figures"),
        (replace(DOUBLE_GROUND, mark=()), "lacks mark"),
        (replace(DOUBLE_GROUND, bends=()), "lacks bends"),
        (replace(DOUBLE_GROUND, moves="CTCT"), "has not C and T, one pin and C and T in CTCT"),
        (replace(DOUBLE_GROUND, moves="CTCT."), "one pin and C and T in CTCT"),
        (replace(DOUBLE_GROUND, moves="XY.Z"), "one pin and C and T in XY"),
        (replace(ROSE, units=SPIDER.units), "of another filling"),
        (replace(SPIDER, units=SPIDER.units[:1] * 2), "as many legs"),
    ],
)
def test_so_is_one_whose_parts_do_not_go_together(torn: Filling, told: str) -> None:
    with pytest.raises(ValueError, match=told):
        complete((torn,), ())


def test_no_two_fillings_share_a_name() -> None:
    with pytest.raises(ValueError, match="two fillings are called 'rose'"):
        complete((ROSE, replace(ROSE, words="another ground")), ())
    with pytest.raises(ValueError, match="two fillings are called 'rose ground'"):
        complete((ROSE, replace(DOUBLE_GROUND, words="rose ground")), ())
    with pytest.raises(ValueError, match="two fillings are called 'rose'"):
        complete((ROSE,), ("rose",))


def test_no_two_grounds_are_worked_alike() -> None:
    """They could be told apart by nothing but their names."""
    other = replace(DOUBLE_GROUND, name="whole-stitch-ground", words="whole stitch ground")
    # Between two pins it makes no difference with which of them a twist is told.
    for moves in ("CTCT.CTCT", "TCTC.TCTC"):
        with pytest.raises(ValueError, match=r"'double-ground' and 'whole-stitch-ground' are one ground"):
            complete((DOUBLE_GROUND, replace(other, moves=moves)), ())
    for moves in ("CT.CT", "TC.TC"):
        with pytest.raises(ValueError, match=r"'plain ground' and 'whole-stitch-ground' are one ground"):
            complete((replace(other, moves=moves),), ())


@pytest.mark.parametrize("part", ["one", "label", "legend"])
def test_no_two_fillings_are_told_alike(part: str) -> None:
    other = replace(DOUBLE_GROUND, name="other", words="other", one="o", label="l", legend="g", moves="CTC.CTCT")
    with pytest.raises(ValueError, match="two fillings are called"):
        complete((DOUBLE_GROUND, replace(other, **{part: getattr(DOUBLE_GROUND, part)})), ())


def test_pairs_and_pins_of_figures_are_those_of_the_teaching_pages() -> None:
    # The teaching pages of Jo Edkins: a rose has 4 pins and 4 pairs; spiders of 8, 12 and 16 legs take 4, 6 and 8.
    pairs = {name: unit.pairs for name, unit in UNITS.items() if name in ("rose", "spider-8", "spider-12", "spider-16")}
    assert pairs == {"rose": 4, "spider-8": 4, "spider-12": 6, "spider-16": 8}
    assert [len(SPIDER.units[number].pins) for number in range(3)] == [1, 1, 1]


@pytest.mark.parametrize(
    ("moves", "change"),
    # Whole stitch takes each pair through the other; cloth stitch too, untwisted; half stitch parts them.
    [("CTCT", True), ("CTC", True), ("CT", False), ("C", False), ("CTCT.CTCT", False), ("CT.CT", True), ("", False)],
)
def test_moves_take_pairs_through_each_other_or_not(moves: str, change: bool) -> None:
    assert change_places(moves) == change


def test_moves_are_written_out_as_she_says_them() -> None:
    assert spelled("CT.CT") == "cross, twist, pin, cross, twist"
    assert [times(count) for count in (1, 2, 3, 4)] == ["once", "twice", "three times", "4 times"]


def test_every_ground_has_one_pin_at_its_pinholes() -> None:
    assert all(ground.moves_at((0, 1)).count(".") == 1 for ground in GROUNDS.values())


@pytest.mark.parametrize("ground", GROUNDS.values(), ids=GROUNDS)
def test_what_is_said_of_a_ground_is_what_its_pairs_do(ground: GroundFilling) -> None:
    assert ground.moves.replace(".", ", pin, ") in ground.legend
    assert ground.told(Habits()).endswith(f": {spelled(ground.moves)}.")
