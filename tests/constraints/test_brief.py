"""What a brief must say."""

from __future__ import annotations

from typing import get_type_hints

import pytest

from constraints.brief import AskedPiece, AskedStamp, Brief, BriefValues, Run, usual_match
from constraints.piece import ACROSS, ROUND
from constraints.ruleset import Rules


@pytest.mark.parametrize("stitches", [(), ("rose",), ("spider", "double-ground")])
def test_a_brief_without_a_stitch_for_blocks_is_refused_in_one_line_that_names_them(stitches: tuple[str, ...]) -> None:
    with pytest.raises(ValueError, match="cloth, half, whole") as refused:
        Brief.of(stitches=stitches)
    allowed = ", ".join(stitches) or "nothing"
    assert str(refused.value) == f"blocks need at least one of cloth, half, whole; the brief allows {allowed}"


def test_the_values_of_a_brief_are_those_of_its_parts_by_name_and_type() -> None:
    stamp = get_type_hints(AskedStamp)
    parts = {**get_type_hints(AskedPiece), **get_type_hints(Rules), **get_type_hints(Run), **stamp}
    own = {name: parts[name] for name in parts if name not in ("name", "size")}
    assert get_type_hints(BriefValues) == {**own, "stamp": stamp["name"], "stamp_size": stamp["size"]}
    plain = Brief.of()
    for name in get_type_hints(BriefValues):
        assert plain.changed(**{name: plain.value(name)}) == plain


def test_a_value_that_no_brief_has_is_refused_by_its_name_and_no_other() -> None:
    with pytest.raises(TypeError, match=r"^a brief has no colour, pair$"):
        Brief.of(pairs=20, pair=20, stamp="leaf", colour="red")


@pytest.mark.parametrize("worked", [ROUND, ACROSS])
def test_a_least_match_that_is_not_given_is_the_usual_one_of_its_way_of_working(worked: str) -> None:
    assert Brief.of(worked=worked).rules.match == usual_match(worked)
    assert Brief.of(worked=worked, match=0.8).rules.match == 0.8
    assert Brief.of(match=0.8).changed(worked=worked).rules.match == 0.8
