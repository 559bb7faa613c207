"""Impossible is proven, and told with what can be reached."""

import re

import pytest

from constraints.brief import Brief
from constraints.conflict import conflict
from constraints.square_sizes import Size

SIZE = Size(8, 5.0, 10)
OPEN = Brief.of(half_size=(8, 8), solid=(0.0, 1.0), margin=1)


def test_a_brief_that_can_be_kept_has_no_conflict() -> None:
    assert conflict(OPEN, SIZE) is None


def test_too_many_spiders_are_told_with_the_number_that_fits() -> None:
    brief = OPEN.changed(stitches=("cloth", "spider"), least={"spider": 400})
    found = conflict(brief, SIZE)
    assert found is not None
    told = found.words
    most = re.search(r"at most (\d+) of spider fit, 400 are asked for", told)
    assert most, told
    # What is not in the way is not told: blocks may take any share here.
    assert "solid" not in told
    assert [each.rules.solid for each in found.near] == [brief.rules.solid]
    assert conflict(brief.changed(least={"spider": int(most[1])}), SIZE) is None
    assert conflict(brief.changed(least={"spider": int(most[1]) + 1}), SIZE) is not None


def test_too_much_solid_is_told_with_the_share_that_is_reached() -> None:
    brief = OPEN.changed(solid=(0.95, 1.0), margin=2)
    found = conflict(brief, SIZE)
    assert found is not None
    most = re.search(r"blocks can take at most ([\d.]+)% of the pinholes, solid asks for 95%", found.words)
    assert most, found.words
    (near,) = found.near
    assert 0 < near.rules.solid[0] <= float(most[1]) / 100 < 0.95
    assert conflict(near, SIZE) is None
    assert conflict(brief.changed(solid=(float(most[1]) / 100 + 0.01, 1.0)), SIZE) is not None


@pytest.mark.parametrize("effort", [1e-9])
def test_without_effort_nothing_is_called_impossible(effort: float) -> None:
    """Not found is not a proof: a brief that can be kept stays without a conflict."""
    assert conflict(OPEN, SIZE, effort) is None


@pytest.mark.parametrize(("corners", "told"), [("clear", "corner lines;"), ("swung", "corner lines in halves;")])
def test_blocks_that_must_cross_corner_lines_are_told_and_how_they_can(corners: str, told: str) -> None:
    brief = Brief.of(corners=corners, solid=(0.4, 0.6))
    found = conflict(brief, Size(10, 5.0, 12))
    assert found is not None
    assert f"blocks would have to cross {told}" in found.words
    assert found.near[0] == brief.changed(corners="halves")
    assert conflict(found.near[0], Size(10, 5.0, 12)) is None
    assert conflict(brief.changed(corners="swung"), Size(10, 5.0, 12)) is not None


def test_where_worked_across_corner_lines_are_not_to_blame() -> None:
    brief = Brief.of(corners="clear", worked="across", solid=(0.95, 1.0))
    found = conflict(brief, SIZE)
    assert found is not None
    assert "corner" not in found.words
    assert all(near.rules.corners == "clear" for near in found.near)
