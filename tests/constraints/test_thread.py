"""The thread that a pitch asks for, against published figures."""

import pytest

from constraints.thread import wraps_per_cm


@pytest.mark.parametrize(("wraps", "pitch_mm"), [(27, 4.4), (29, 4.1)])
def test_a_published_thread_table_says_the_same(wraps: int, pitch_mm: float) -> None:
    """A published table of cottons quotes 27 to 29 wraps per cm for pitches of 4.4 to 4.1 mm (rounded there)."""
    assert wraps_per_cm(pitch_mm) == pytest.approx(wraps, abs=0.5)


@pytest.mark.parametrize("pitch_mm", [3.0, 5.0, 6.0])
def test_twelve_wraps_fill_the_gap_between_two_footside_pins(pitch_mm: float) -> None:
    """A published rule of thumb (notes of a Spanish lace shop), there called "only orientative"."""
    assert 12 * 10 / wraps_per_cm(pitch_mm) == pytest.approx(pitch_mm)
