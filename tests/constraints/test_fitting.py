"""Fitting: the lengths told are those of the piece, and no better fit exists in the same ranges."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from constraints.edgings import Fan, Scallop
from constraints.edgings.outer_side import curved, outer_pins
from constraints.fitting import best_pitch, fitted, frames, strips, units
from constraints.forms import AS_EDGING, AS_FRAME, AS_MAT, Frame, Square, Strip
from constraints.mirrors import corners, frame_of

LENGTHS = some.floats(20, 400)


@given(LENGTHS, LENGTHS, LENGTHS, LENGTHS, some.floats(3, 4), some.floats(4, 8))
def test_no_pitch_of_the_range_comes_nearer(a: float, b: float, w: float, h: float, low: float, high: float) -> None:
    pitch, error = best_pitch((a, b), (w, h), (low, high))
    assert low <= pitch <= high
    assert error == pytest.approx(max(abs(a / 2 * pitch - w), abs(b / 2 * pitch - h)))
    for step in range(201):
        other = low + (high - low) * step / 200
        # The pitch is told in thousandths of a millimetre.
        assert error <= max(abs(a / 2 * other - w), abs(b / 2 * other - h)) + 0.0006 * max(a, b) / 2


@pytest.mark.parametrize(
    "form",
    [
        Square(17), Square(17, Fan("cloth", 4, 2, 2)), Strip(9, 12, 3),
        Frame(20, 26, 12, Scallop("half", 3, 5, 2)), Strip(10, 12, 3, Fan("half", 3, 2, 2)),
    ],
)  # fmt: skip
def test_a_length_told_is_that_between_the_outermost_pins(form: Square | Frame | Strip) -> None:
    piece = form.piece(form.ways[0], "none")
    points = [*curved(piece, piece.pinholes.astype(float)).tolist(), *curved(piece, outer_pins(piece)).tolist()]
    across = max(x for x, _ in points) - min(x for x, _ in points)
    down = max(y for _, y in points) - min(y for _, y in points)
    told = units(form, AS_MAT)
    # To 0.1 mm at a pitch of 5 mm; the middle pin of a fan may stand a little beside its middle.
    assert told[0] == pytest.approx(across, abs=0.3)
    assert told[1] == pytest.approx(down, abs=0.3)
    sized = fitted(form, AS_MAT, (100.0, 100.0), (5.0, 5.0))
    assert sized.size == pytest.approx((told[0] * 2.5, told[1] * 2.5), abs=0.1)


@settings(max_examples=15, deadline=None)
@given(some.floats(60, 200), some.floats(60, 200), some.sampled_from([AS_FRAME, AS_EDGING]))
def test_no_frame_of_a_strip_fits_better_than_the_best_offered(width: float, height: float, purpose: str) -> None:
    """Brute force over all corners, turnovers and numbers of repeats at one pitch."""
    form = Strip(7, 8, 2)
    rows = [0, 3, 5]
    own = corners(form)[:4]
    offered = min(sized.error for sized in frames(form, own, rows, purpose, (width, height), (5.0, 5.0)))
    for corner in own:
        for across in rows:
            for down in rows:
                for n in range(12):
                    for m in range(12):
                        frame = frame_of(form, corner, (across, down), (n, m))
                        if frame is not None and min(frame.opening) >= 1:
                            lengths = units(frame, purpose)
                            error = max(abs(lengths[0] * 2.5 - width), abs(lengths[1] * 2.5 - height))
                            assert offered <= error + 1e-9


@given(some.floats(50, 500))
def test_no_number_of_repeats_of_a_strip_fits_better(length: float) -> None:
    form = Strip(9, 12, 2)
    offered = min(sized.error for sized in strips(form, (20.0, length), (4.0, 4.0)))
    for repeats in range(2, 60):
        assert offered <= max(0.0, abs((12 * repeats - 1) * 2.0 - length)) + abs(8 * 2.0 - 20.0) + 1e-9
