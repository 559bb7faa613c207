"""Cleaning a traced print: what the scanner saw but the stamp did not print, and ink that failed."""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry import MultiPolygon, Polygon

from explore.reading.mending import GAP, closed, mended
from explore.reading.outline import StampError, large_parts, longer_side, without_small_holes

# Anything smaller than the size of the print over this, squared, is a speck or a pinprick. A stamp is seldom
# longer than sixteen pitches; at that size this is half the cell of a pinhole, too little for lace to show.
SPECK = 32
# With fewer blemishes than this the print is clean and its narrow gaps are meant.
FEW = 4
# Parts up to this many specks large count as specks if they stand this share of the size off all else.
STRAY_SPECKS, STRAY_SHARE = 3, 1 / 8


def cleaned(raw: MultiPolygon, width: float, height: float) -> tuple[MultiPolygon, list[str]]:
    """The print without blemishes and notes of what was cleaned away; `width` and `height` of the page.

    Raises StampError if only specks are left.
    """
    size = longer_side(MultiPolygon(large_parts(raw.geoms)))
    least = (size / SPECK) ** 2
    parts, notes = _without_page_edges(list(raw.geoms), width, height, least)
    pinpricks = sum(without_small_holes(part, least)[1] for part in parts)
    specks = sum(part.area < least for part in parts)
    printed = [part for part in parts if part.area >= least]
    if pinpricks + specks >= FEW:
        kept, specks = _without_pepper(parts, least, size)
        printed = [part for part in mended(MultiPolygon(kept), size).geoms if part.area >= least]
    if not printed or max(width, height) > 100 * size:
        raise StampError("shows no print: only specks stand out from the paper")
    shape = MultiPolygon([without_small_holes(part, least)[0] for part in printed])
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


def _without_page_edges(
    parts: list[Polygon], width: float, height: float, least: float
) -> tuple[list[Polygon], list[str]]:
    """Without what lies dark along the edge of a scan, unless that is all there is; specks stay."""
    total = sum(part.area for part in parts)
    kept = [p for p in parts if p.area < least or not _is_page_edge(p, width, height, total)]
    if len(kept) < len(parts) and any(part.area >= least for part in kept):
        return kept, ["a dark edge of the scan was left out"]
    return parts, []


def _is_page_edge(part: Polygon, width: float, height: float, total: float) -> bool:
    """Whether a part touches the edge of the page and is a long thin strip there, or little beside the print."""
    left, top, right, bottom = part.bounds
    at_side, at_end = left < 1 or right > width - 1, top < 1 or bottom > height - 1
    strip = (at_side and bottom - top > 0.6 * height) or (at_end and right - left > 0.6 * width)
    thin = min(right - left, bottom - top) < 0.1 * min(width, height)
    # In a corner of the page shadows are larger, and prints are seldom cut off there.
    little = part.area < (0.05 if at_side and at_end else 0.01) * total
    return bool((strip and thin) or ((at_side or at_end) and little))


def _without_pepper(parts: list[Polygon], least: float, size: float) -> tuple[list[Polygon], int]:
    """Without specks on open paper, and their number. Islands in broken ink stay: they help to join it."""
    each, areas = np.array(parts), shapely.area(parts)
    large = MultiPolygon([part for part in parts if part.area >= STRAY_SPECKS * least])
    off = shapely.distance(each, large) > STRAY_SHARE * size if not large.is_empty else np.zeros(len(parts))
    around = shapely.buffer(each, 2 * size / GAP, quad_segs=3)
    ink = closed(MultiPolygon(parts), size / GAP)
    shapely.prepare(ink)
    on_paper = shapely.area(shapely.intersection(around, ink)) < 0.6 * shapely.area(around)
    pepper = ((areas < least) & on_paper) | ((areas < STRAY_SPECKS * least) & (off > 0))
    return [part for part, drop in zip(parts, pepper, strict=True) if not drop], int(pepper.sum())
