"""The registry of headsides: whatever is in it is whole, and nobody outside its room asks of which kind one is."""

import ast
import re
from dataclasses import dataclass
from pathlib import Path

import pytest
from designs import blocks, diamond, diamond_print, made

from constraints.catalogue import CATALOGUE, offers
from constraints.check import check
from constraints.edgings import ALLOWED, EDGINGS, FOOTSIDE, Fan, Headside, Scallop, named
from constraints.whole import whole
from explore.asking.keys import NAMED

ROOT = Path(__file__).parents[2]
# The room itself, and the second check, which looks at an edge in its own way.
ROOMS = ("constraints/edgings/", "constraints/check/")
FILES = {
    name: path
    for top in ("constraints", "gallery", "explore")
    for path in sorted((ROOT / top).rglob("*.py"))
    if not (name := str(path.relative_to(ROOT))).startswith(ROOMS)
}
EVERY = [
    kind(stitch, depth, pairs)
    for kind in EDGINGS.values()
    for stitch in kind.stitches
    for depth in kind.depths
    for pairs in kind.at_valley
]


def asked_which_kind(text: str) -> list[str]:
    """Where a module names a kind of headside, by its class or by its word."""
    tree, classes = ast.parse(text), {each.__name__ for each in EDGINGS.values()}
    found = []
    for node in ast.walk(tree):
        match node:
            case ast.ImportFrom(names=names) if "edgings" in (node.module or ""):
                found += [each.name for each in names if each.name in classes]
            case ast.Constant(value=str(word)) if re.fullmatch(rf"(corner )?({'|'.join(EDGINGS)})", word):
                found.append(word)
            case ast.Attribute(attr=name) if name in classes:
                found.append(name)
    return found


def test_the_finder_of_such_questions_sees_every_one() -> None:
    text = "from constraints.edgings import EDGINGS, Fan\na = edgings.Scallop\nb = headside.kind == 'ground scallop'\n"
    assert sorted(asked_which_kind(text + "c = 'corner fan'\nd = 'a fan or two'\n")) == [
        "Fan", "Scallop", "corner fan", "ground scallop",
    ]  # fmt: skip


@pytest.mark.parametrize("name", FILES)
def test_nobody_outside_the_room_asks_of_which_kind_a_headside_is(name: str) -> None:
    assert asked_which_kind(FILES[name].read_text(encoding="utf-8")) == []


PARTS = [name for name in Headside.__annotations__ if name not in ("stitch", "depth", "pairs", "first")]
ABSTRACT = ["offered", "words", "told"]


@pytest.mark.parametrize("part", [*PARTS, *ABSTRACT])
def test_a_headside_that_lacks_a_part_is_told_when_it_is_registered(part: str) -> None:
    own = {name: value for name, value in vars(Scallop).items() if name in {*PARTS, *ABSTRACT} - {part}}
    torn = dataclass(frozen=True)(type("Torn", (Headside,), own))
    with pytest.raises(TypeError, match=f"^the edging Torn lacks {part}$"):
        whole(torn, Headside, "edging")


@pytest.mark.parametrize("headside", EVERY, ids=lambda each: each.name)
def test_what_is_said_of_an_edging_is_read_back_as_it_is(headside: Headside) -> None:
    key = NAMED["edging"].kind
    assert named(headside.name) == headside
    assert key.from_text(key.to_toml(headside)) == headside


def test_a_footside_is_no_headside() -> None:
    key = NAMED["edging"].kind
    assert named(FOOTSIDE) is None
    assert key.to_toml(None) == FOOTSIDE
    assert FOOTSIDE not in EDGINGS


@pytest.mark.parametrize(
    "text", ["", "fan", "fan 3", "cloth fan", "cloth fan 1", "cloth fan 7", "whole fan 3", "cloth fan 3 with 3 pairs",
             "half scallop 3", "half scallop 3 with 2 pairs", "half scallop 3 with 13 pairs", " cloth fan 3"],
)  # fmt: skip
def test_other_texts_are_no_edging(text: str) -> None:
    with pytest.raises(ValueError, match="is no edging"):
        named(text)


def test_every_example_that_she_is_told_is_one() -> None:
    example = rf"(?:such as|or) ((?:[a-z]+ )?(?:{'|'.join(EDGINGS)}) [0-9](?: with [0-9]+ pairs)?)"
    assert [named(each) for each in re.findall(example, ALLOWED)] == [
        Fan("cloth", 3, 2), Scallop("half", 3, 6), EDGINGS["ground scallop"]("", 4, 3),
    ]  # fmt: skip


def test_the_catalogue_offers_some_of_every_kind() -> None:
    offered = [each.headside for each in CATALOGUE if each.headside is not None]
    assert {each.kind for each in offered} == set(EDGINGS)
    assert set(offered) <= set(EVERY)


def test_pairs_at_a_valley_are_those_of_the_handbook() -> None:
    # Dillmont 1886, Encyclopedia of Needlework, fig. 799: six pairs at its narrowest, an edge pair beside the passives.
    assert 6 in Scallop.at_valley
    assert Scallop("half", 3, 6).passives == 4
    # At the valley of a pointed fan stand the two pairs of its pin.
    assert list(Fan.at_valley) == [2]


@pytest.mark.parametrize("kind", EDGINGS.values(), ids=list(EDGINGS))
def test_an_edge_without_blocks_is_worked_as_a_footside_and_has_a_name_as_one(kind: type[Headside]) -> None:
    assert (kind.stitches == ("",)) == bool(kind.as_footside)
    assert kind.usual_stitch in kind.stitches
    every = [each for each in EVERY if isinstance(each, kind)]
    assert all(each.solid == (each.figure is None) for each in every)


@pytest.mark.parametrize("called", ["footside with 2 passives", "cloth fan 4", "half scallop 3 with 6 pairs"])
def test_a_square_keeps_its_print_with_another_edging(called: str) -> None:
    """It matches as before, for the second check too."""
    square = made(16, *blocks("cloth", diamond((-9, -4), 5)), stamp=diamond_print((-9.0, 0.0), 5.0))
    assert check(square) == []
    wanted = next(each for each in CATALOGUE if each.called == called)
    edged = next(offer for offer in offers(square, wanted) if not check(offer.piece))
    assert edged.piece.prints == square.prints
    assert edged.piece.form != square.form or edged.piece.passives != square.passives
