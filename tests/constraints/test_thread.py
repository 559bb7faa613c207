"""The thread that a pitch asks for."""

import pytest

from constraints.thread import wraps_per_cm


@pytest.mark.parametrize(("wraps", "pitch_mm"), [(27, 4.4), (29, 4.1)])
def test_a_cotton_30_suits_pitches_of_a_little_over_4_mm(wraps: int, pitch_mm: float) -> None:
    """Cotton 30 has 27 to 29 wraps a cm (Paternoster, Threads for Lace); its pitches are common practice, no source."""
    assert wraps_per_cm(pitch_mm) == pytest.approx(wraps, abs=0.5)


@pytest.mark.parametrize("pitch_mm", [3.0, 5.0, 6.0])
def test_twelve_wraps_fill_the_gap_between_two_footside_pins(pitch_mm: float) -> None:
    """Common practice, no source: a first guess."""
    assert 12 * 10 / wraps_per_cm(pitch_mm) == pytest.approx(pitch_mm)
