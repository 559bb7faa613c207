"""The thread that a pitch asks for, as a count that any shop or yarn gauge understands."""

from __future__ import annotations

# Wraps side by side that should about fill the gap between two footside pins, and so one pitch: a first guess,
# common practice, no source.
_WRAPS_A_PITCH = 12
_MM_PER_CM = 10


def wraps_per_cm(pitch_mm: float) -> float:
    """How often a thread that suits the pitch goes round a centimetre of a ruler, wound side by side."""
    return _WRAPS_A_PITCH * _MM_PER_CM / pitch_mm
