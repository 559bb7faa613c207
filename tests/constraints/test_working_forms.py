"""Strips, frames and headsides worked pair by pair: what holds for squares holds for them."""

from __future__ import annotations

from designs import diamond, spiders
from hypothesis import given, settings
from hypothesis import strategies as some
from strips import SCALLOP_OF_1886, strip, worked_across, worked_round

from constraints import forms
from constraints.check import check
from constraints.design import Design
from constraints.edgings import EDGINGS, Fan, Scallop
from constraints.edgings.headside import offsets
from constraints.edgings.own_figures import with_own
from constraints.forms import Frame, Strip
from constraints.layout import lay
from constraints.pins import pin_places
from constraints.working import check as working
from constraints.working.ends import ends_of
from constraints.working.ends import faults as faults_of_ends
from constraints.working.steps import BlockPart, steps_of
from constraints.working.threads import play
from constraints.working.work import work

DEPTHS, SIDES = some.integers(2, 6), some.integers(5, 14)


def sound(design: Design) -> None:
    """The second check accepts it, the work has no fault, and its pins are those of the pricking."""
    assert [str(each) for each in check(design)] == []
    worked = work(design)
    assert working.faults(worked) == []
    assert faults_of_ends(worked, ends_of(worked)) == []
    assert sorted(pin.place for pin in worked.pins) == sorted(map(tuple, pin_places(lay(design)).tolist()))
    assert play(worked).count == 2 * design.pairs
    assert {number for step in steps_of(worked) for number in step.pins} == set(range(1, len(worked.pins) + 1))


def test_the_edging_of_1886_has_the_printed_pins() -> None:
    """Dillmont 1886, fig. 799: one repeat of six rows on the grid, and six pins of the scallop outside it."""
    edging = strip(Strip(5, 6, 4, SCALLOP_OF_1886))
    sound(edging)
    grid = {(1, 0), (2, 1), (0, 1), (1, 2), (3, 2), (0, 3), (2, 3), (4, 3), (1, 4), (3, 4), (0, 5), (2, 5)}
    pins = [(x, y - 6) for x, y in pin_places(lay(edging)).tolist() if 6 <= y < 12]
    assert {p for p in pins if p[0] <= 4} == grid
    assert sorted(y for x, y in pins if x > 4) == [0, 1, 2, 3, 4, 5]


def test_fans_take_as_many_pairs_in_as_they_give_back() -> None:
    """A fan of depth h takes h pairs from the ground and gives h back; two more come from the valley pin."""
    design = strip(Strip(11, 8, 3, Fan("cloth", 4, 2, 3)))
    whole = [step for step in steps_of(work(design)) if isinstance(step, BlockPart) and len(step.pins) == 14]
    assert len(whole) == 2  # the first and the last fan are cut by the ends
    for fan in whole:
        # Inner pins: 4 on the way in, 4 on the way out, of which the innermost is both; outer ones: one a row.
        assert len(fan.pins) == (2 * 4 - 1) + (2 * 4 - 1)


@settings(max_examples=25, deadline=None)
@given(
    columns=some.integers(9, 16), depth=DEPTHS, first=some.integers(0, 11), stitch=some.sampled_from(["cloth", "half"]),
    kind=some.sampled_from(["fan", "scallop"]), more=some.integers(1, 4), both=some.booleans(),
    passives=some.integers(0, 3),
)  # fmt: skip
def test_strips_with_every_headside_can_be_worked(
    columns: int, depth: int, first: int, stitch: str, kind: str, more: int, both: bool, passives: int
) -> None:
    first = first % depth * 2 + columns % 2
    headside = EDGINGS[kind](stitch, depth, 2 if kind == "fan" else 2 + more, first)
    room = columns > 2 * depth + 3
    sound(strip(Strip(columns, 2 * depth, 3, headside, both and room), passives=passives))


@settings(max_examples=15, deadline=None)
@given(
    width=SIDES, height=SIDES, band=some.integers(3, 12), depth=DEPTHS, kind=some.sampled_from(["fan", "scallop", ""]),
    passives=some.integers(0, 2),
)  # fmt: skip
def test_frames_with_and_without_headside_can_be_worked(
    width: int, height: int, band: int, depth: int, kind: str, passives: int
) -> None:
    band = min(band, min(width, height) - 1)
    both = sorted({*offsets(width, depth)} & {*offsets(height, depth)})
    # The fans stay off the inner edge.
    fitting = [t for t in both if depth + 1 < band and 2 * t + 1 < band]
    headside = EDGINGS[kind]("half", depth, 2 if kind == "fan" else 4, fitting[-1]) if kind and fitting else None
    sound(worked_round(Frame(width, height, band, headside), passives=passives))


@settings(max_examples=25, deadline=None)
@given(
    wide=some.integers(8, 14), depth=DEPTHS, fans=some.integers(1, 4), stitch=some.sampled_from(["cloth", "half"]),
    kind=some.sampled_from(list(EDGINGS)), more=some.integers(1, 2), passives=some.integers(0, 3),
)  # fmt: skip
def test_rectangles_with_every_headside_along_their_sides_can_be_worked(
    wide: int, depth: int, fans: int, stitch: str, kind: str, more: int, passives: int
) -> None:
    own = EDGINGS[kind]
    depth = max(depth, own.depths[0])
    headside = own(stitch if own.stitches[0] else "", depth, 2 if kind == "fan" else 2 + more)
    form = forms.Rectangle.sized(wide, 1 + fans * depth, None, headside)
    assert form is not None
    sound(worked_across(form, *with_own((), form.piece("across")), passives=passives))


def test_blocks_and_figures_of_strips_and_frames_are_worked() -> None:
    seam = {(x, y % 12) for x, y in diamond((6, 1), 3)}
    sound(strip(Strip(13, 12, 3), ("cloth", seam), spiders({(6, 8)}, 8), passives=2))
    corner = Frame(20, 26, 12, Fan("cloth", 3, 2, 2))
    sound(worked_round(corner, ("half", diamond((-12, 3), 3)), passives=1))


def test_a_square_with_a_scallop_is_worked_round() -> None:
    sound(worked_round(forms.Square(17, Scallop("half", 4, 5, 2))))
    sound(worked_round(forms.Square(17, Fan("cloth", 4, 2, 4))))
