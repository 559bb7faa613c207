"""Cleaning a traced print: specks off the paper, pinpricks and broken patches out of the ink."""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry import MultiPolygon, Polygon

from explore.reading.outline import StampError, polygons, print_size, without_small_holes

# Lengths are the size of the print over these.
SPECK = 45  # anything with less than this length squared is a speck or a pinprick
GAP = 80  # ink that broke is joined across twice this
CUT = 40  # gaps up to twice this wide are looked at before joining: they may be cuts she carved
CUT_LENGTH = 7  # a carved cut is at least this long
CUT_SLENDER = 5  # and this many times as long as wide
RAGGED = 0.3  # the outline of a worn patch bends more than this, in radians for each width along it
BUMP = 140  # specks that touch the print stand out this far
# With fewer blemishes than this the print is clean and its narrow gaps are meant.
FEW = 4


def cleaned(raw: MultiPolygon, width: float, height: float) -> tuple[MultiPolygon, list[str]]:
    """The print without blemishes and notes of what was cleaned away; `width` and `height` of the page.

    Raises StampError if only specks are left.
    """
    parts, notes = _without_page_edges(list(raw.geoms), width, height)
    size = print_size(parts)
    least = (size / SPECK) ** 2
    pinpricks = sum(without_small_holes(part, least)[1] for part in parts)
    specks = sum(part.area < least for part in parts)
    broken = pinpricks + specks >= FEW
    if broken:
        parts, specks = _without_pepper(parts, least, size)
    joined = polygons(_joined(MultiPolygon(parts), size)) if broken else parts
    large = [part for part in joined if part.area >= least]
    if not large or max(width, height) > 100 * size:
        raise StampError("shows no print: only specks stand out from the paper")
    shape = MultiPolygon([without_small_holes(part, least)[0] for part in large])
    return shape, notes + _words(specks, pinpricks, shape.area / sum(part.area for part in parts) - 1)


def _words(specks: int, pinpricks: int, joined: float) -> list[str]:
    notes = []
    counts = [_count(specks, "speck"), _count(pinpricks, "pinprick") + " in the ink"]
    found = [words for words, number in zip(counts, (specks, pinpricks), strict=True) if number]
    if found:
        verb = "was" if specks + pinpricks == 1 else "were"
        notes.append(f"{' and '.join(found)} {verb} cleaned away")
    if joined > 0.005:
        notes.append(f"broken ink was joined: it covers {joined:.0%} more than it printed")
    return notes


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def _without_page_edges(parts: list[Polygon], width: float, height: float) -> tuple[list[Polygon], list[str]]:
    """Without dark strips along the edges of a scan: long there, thin, and not the print itself."""
    kept = [part for part in parts if not _is_page_edge(part, width, height)]
    if kept and len(kept) < len(parts):
        return kept, ["a dark edge of the scan was left out"]
    return parts, []


def _is_page_edge(part: Polygon, width: float, height: float) -> bool:
    left, top, right, bottom = part.bounds
    along_side = (left < 1 or right > width - 1) and bottom - top > 0.6 * height
    along_end = (top < 1 or bottom > height - 1) and right - left > 0.6 * width
    thin = min(right - left, bottom - top) < 0.1 * min(width, height)
    return bool((along_side or along_end) and thin)


def _without_pepper(parts: list[Polygon], least: float, size: float) -> tuple[list[Polygon], int]:
    """Without specks on open paper, and their number. Islands in broken ink stay: they help to join it."""
    small = np.array([part.area < least for part in parts])
    around = shapely.buffer(np.array(parts), 2 * size / GAP, quad_segs=3)
    ink = _closed(MultiPolygon(parts), size / GAP)
    shapely.prepare(ink)
    in_ink = shapely.area(shapely.intersection(around, ink)) > 0.6 * shapely.area(around)
    pepper = small & ~in_ink
    return [part for part, drop in zip(parts, pepper, strict=True) if not drop], int(pepper.sum())


def _joined(shape: MultiPolygon, size: float) -> shapely.Geometry:
    """Broken ink joined across narrow gaps, carved cuts left open, small bumps taken off."""
    closed = _closed(shape, size / GAP)
    for cut in _cuts(shape, size):
        closed = closed.difference(cut)
    return _opened(closed, size / BUMP)


def _cuts(shape: MultiPolygon, size: float) -> list[Polygon]:
    """Narrow gaps that look carved: long, slender, even in width and smooth. Worn patches are ragged."""
    cuts = []
    for gap in polygons(_closed(shape, size / CUT).difference(shape)):
        length = gap.length / 2
        across = gap.area / length
        if length < size / CUT_LENGTH or across * CUT_SLENDER > length or gap.interiors:
            continue
        even = max(polygons(_opened(gap, 0.35 * across)), key=lambda part: part.area, default=Polygon())
        if even.area > 0.8 * gap.area and _raggedness(even, across) < RAGGED:
            cuts.append(even)
    return cuts


def _raggedness(gap: Polygon, across: float) -> float:
    """How sharply the outline of a gap bends beyond one full turn, in radians for each width along it."""
    ring = shapely.get_coordinates(shapely.simplify(gap, across / 2).exterior)
    steps = np.diff(ring, axis=0)
    headings = np.arctan2(steps[:, 1], steps[:, 0])
    bends = np.abs(np.angle(np.exp(1j * np.diff(headings, append=headings[0]))))
    return float((bends.sum() - 2 * np.pi) * across / gap.length)


def _closed(shape: shapely.Geometry, distance: float) -> shapely.Geometry:
    """The shape with all gaps narrower than twice the distance filled."""
    return shapely.buffer(shapely.buffer(shape, distance, quad_segs=3), -distance, quad_segs=3)


def _opened(shape: shapely.Geometry, distance: float) -> shapely.Geometry:
    """The shape without what is narrower than twice the distance; mitred, so that points stay pointed."""
    core = shapely.buffer(shape, -distance, join_style="mitre", mitre_limit=3)
    return shapely.buffer(core, distance, join_style="mitre", mitre_limit=3)
