"""Fitting a piece to an object: which forms a strip, frame or square can take, and at which pitch they come nearest.

Lengths are measured between the outer pins, fans in their full width; an edging's between the pins of its inner edge.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from constraints.forms import AS_EDGING, AS_STRIP, MOST_REPEATS, Form, Strip
from constraints.mirrors import Corner, frame_of, to_turnover

Lengths = tuple[float, float]


@dataclass(frozen=True)
class SizedForm:
    """One way to make a piece fit. size: mm, across and down. error: mm, of the worse of both. corner, turnovers,
    repeats: of a frame made from a strip."""

    form: Form
    pitch_mm: float
    size: Lengths
    error: float
    corner: Corner | None = None
    turnovers: tuple[int, int] = (0, 0)
    repeats: tuple[int, int] = (0, 0)


def units(form: Form, purpose: str) -> Lengths:
    """What of a form must fit, in units of half a pitch: across and down."""
    if purpose == AS_EDGING:
        return 2.0 * form.opening[0], 2.0 * form.opening[1]
    left, top, right, bottom = form.bounds
    return right - left, bottom - top


def best_pitch(lengths: Lengths, target: Lengths, pitch_mm: Lengths) -> tuple[float, float]:
    """The pitch within a range at which two lengths come nearest to a target, and the error there, mm.

    The worse of two errors, each straight on either side of its zero, is least at one of the zeros, where both
    are equal, or at an end of the range.
    """
    width, height = (each / 2 for each in lengths)
    wanted = [target[0] / width, target[1] / height, sum(target) / (width + height), *pitch_mm]
    least, most = pitch_mm
    tried = sorted({min(max(round(each, 3), least), most) for each in wanted})

    def error(pitch: float) -> float:
        return max(abs(width * pitch - target[0]), abs(height * pitch - target[1]))

    best = min(tried, key=error)
    return best, error(best)


def fitted(form: Form, purpose: str, target: Lengths, pitch_mm: Lengths) -> SizedForm:
    """A form at its best pitch."""
    lengths = units(form, purpose)
    pitch, error = best_pitch(lengths, target, pitch_mm)
    return SizedForm(form, pitch, (lengths[0] / 2 * pitch, lengths[1] / 2 * pitch), error)


def strips(form: Strip, target: Lengths, pitch_mm: Lengths) -> Iterator[SizedForm]:
    """A strip with other numbers of repeats, along either length of the object."""
    for turned in (False, True):
        across, along = target[::-1] if turned else target
        for repeats in _counts(form.rows, 1, along, pitch_mm, 2):
            sized = fitted(replace(form, repeats=repeats), AS_STRIP, (across, along), pitch_mm)
            yield replace(sized, size=sized.size[::-1]) if turned else sized


def frames(
    form: Strip, corners: Sequence[Corner], turnovers: Sequence[int], purpose: str, target: Lengths, pitch_mm: Lengths
) -> Iterator[SizedForm]:
    """Frames of a strip with any of the corners, and across and down with any of the turnovers."""
    for corner in corners:
        for across in turnovers:
            for down in turnovers:
                yield from _repeated(form, corner, (across, down), purpose, target, pitch_mm)


def _repeated(
    form: Strip, corner: Corner, turnovers: tuple[int, int], purpose: str, target: Lengths, pitch_mm: Lengths
) -> Iterator[SizedForm]:
    inner = 2 * (form.columns - 1) if purpose == AS_EDGING else 0
    counts = [
        _counts(2 * form.rows, inner - 2 * to_turnover(form, corner, row), length, pitch_mm, 0)
        for row, length in zip(turnovers, target, strict=True)
    ]
    for width in counts[0]:
        for height in counts[1]:
            frame = frame_of(form, corner, turnovers, (width, height))
            if frame is not None and min(frame.opening) >= 1:
                sized = fitted(frame, purpose, target, pitch_mm)
                yield replace(sized, corner=corner, turnovers=turnovers, repeats=(width, height))


def _counts(units_each: int, less: int, length: float, pitch_mm: Lengths, fewest: int) -> range:
    """How many repeats may come near a length at any pitch of the range: one beyond either end, for fans and ease."""
    least = int((2 * length / pitch_mm[1] + less) // units_each) - 1
    most = int((2 * length / pitch_mm[0] + less) // units_each) + 2
    return range(max(fewest, least), min(MOST_REPEATS, max(most, fewest + 1)) + 1)
