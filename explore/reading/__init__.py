"""Reading a stamp from a scan of its print (of the KINDS of `explore.pictures`) or from a drawing (SVG).

A scan: `picture` opens it, `scan` traces what is not paper, `cleaning` and `mending` take away what the scanner saw and
join ink that failed. A drawing: `markup` is its tree, `page` where things stand, `painting` what a shape paints,
`drawing` all of it. `outline` is what both come to, `upright` its tilt, `halves` makes those of a scan alike.
"""

from __future__ import annotations

import difflib
import math
from importlib import resources
from pathlib import Path

import numpy as np
import shapely.affinity

from constraints.stamp import Stamp
from explore.files import content
from explore.pictures import KINDS, kind_of
from explore.reading.drawing import read_drawing
from explore.reading.halves import evened
from explore.reading.outline import StampError, rounded, simplified
from explore.reading.scan import read_scan
from explore.reading.upright import lean

__all__ = ["StampError", "built_in", "built_in_names", "read"]

LARGEST_SCAN, LARGEST_DRAWING = 64 * 10**6, 8 * 10**6  # bytes
_STAMPS = "explore.stamps"


def read(path: Path, turn: float | None = None) -> Stamp:
    """The stamp in a picture or an SVG file, told apart by their content, not by their names.

    turn: degrees clockwise on the page to turn the print by, in place of the tilt found in a scan; 0 leaves
    it as it is. Drawings are only turned if asked. Raises StampError, one line that names the file.
    """
    if turn is not None and not (math.isfinite(turn) and abs(turn) <= 360):
        raise StampError(f"turn {turn} of {path}: degrees from -360 to 360 are allowed")
    try:
        data = _content(path)
        # Overflowing numbers are refused where they turn up; GEOS meets 0 / 0 on the way to sound results.
        with np.errstate(all="ignore"):
            return _read(path.stem, data, turn)
    except StampError as error:
        raise StampError(f"{path} {error}") from None
    except MemoryError:
        raise StampError(f"{path} needs more memory than there is") from None


def _content(path: Path) -> bytes:
    try:
        if not path.exists():
            raise StampError("does not exist")
        if not path.is_file():
            raise StampError(f"is not a file; a stamp is a picture ({KINDS}, SVG)")
        data = content(path, LARGEST_SCAN)
    except (OSError, ValueError) as error:
        if isinstance(error, StampError):
            raise
        raise StampError(f"cannot be opened: {getattr(error, 'strerror', None) or error}") from None
    if not data:
        raise StampError("is empty")
    return data


def _read(name: str, data: bytes, turn: float | None) -> Stamp:
    scanned = bool(kind_of(data))
    if scanned:
        shape, notes = read_scan(data)
    else:
        shape, notes = _read_as_drawing(data)
    shape, left_out = simplified(shape)
    notes += left_out
    tilt = -turn if turn is not None else lean(shape) if scanned else 0.0
    if turn is None and tilt:
        side = "right" if tilt > 0 else "left"
        notes.append(f"the print leant {abs(tilt):g} degrees to the {side} and was set upright")
    elif turn:
        notes.append(f"the print was turned {turn:g} degrees clockwise, as asked")
    # With y down, a positive angle in shapely's y-up convention turns clockwise on the page.
    upright = shapely.affinity.rotate(shape, -tilt, origin="center") if tilt else shape
    if scanned:
        upright, alike = evened(upright)
        notes += ["its two halves, which only the ink made differ, were made alike"] if alike else []
    return Stamp(name, rounded(upright), tuple(notes), tilt + 0.0)


def _read_as_drawing(data: bytes) -> tuple[shapely.MultiPolygon, list[str]]:
    if data.startswith(b"\x1f\x8b"):
        raise StampError("is compressed; unpack it to a plain SVG file first")
    if not data.lstrip(b"\xef\xbb\xbf\xfe\xff \t\r\n\0").startswith(b"<"):
        raise StampError(f"is no picture that is read ({KINDS}, SVG)")
    if len(data) > LARGEST_DRAWING:
        raise StampError(f"is larger than {LARGEST_DRAWING // 10**6} MB, the most that is read of a drawing")
    return read_drawing(data)


def built_in_names() -> tuple[str, ...]:
    """The names of the stamps that come with the program, sorted."""
    files = (Path(entry.name) for entry in resources.files(_STAMPS).iterdir())
    return tuple(sorted(file.stem for file in files if file.suffix == ".svg"))


def built_in(name: str) -> Path:
    """The file of the built-in stamp `name`. Raises StampError naming the nearest known name."""
    known = built_in_names()
    if name not in known:
        near = difflib.get_close_matches(name, known, n=1, cutoff=0.0)
        hint = f"; did you mean {near[0]}?" if near else ""
        raise StampError(f"no built-in stamp {name!r}: there are {', '.join(known)}{hint}")
    return Path(str(resources.files(_STAMPS) / f"{name}.svg"))
