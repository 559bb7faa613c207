"""The lace look thread by thread: every thread on its own course, over and under the others as it is played.

So single threads may be coloured, to see where they wander.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from matplotlib.path import Path

from constraints.lattice import FloatArray
from constraints.working.work import Work
from gallery.looks.bent import half_sides, middle
from gallery.looks.lace import LIT, SHADE
from gallery.looks.palette import THREAD, VELVET
from gallery.looks.passings import Passings
from gallery.paper import paths
from gallery.paper.paths import Pen

# How thick a thread is, and how much of a thread below is hidden beside one on top, lattice units.
_THICK, _GAP = 0.145, 0.07
# Half the length of a piece on top.
_TOP = 0.11
# Courses with points nearer to each other than this bend wildly.
_NEAR = 0.02


def ink(pencil: Pen, work: Work, colours: Mapping[int, str] | None = None) -> None:
    """Draw all threads of a work with any pen. colours: of single threads, by their numbers in `threads.play`."""
    design = work.design
    width, height = half_sides(design)
    corners = np.array([(-width, -height), (width, -height), (width, height), (-width, height)])
    pencil.fill(paths.rings([corners]), VELVET)
    origin = middle(design)
    by_colour: dict[str, list[tuple[Path, FloatArray]]] = {}
    for number, course in enumerate(Passings(work).courses()):
        drawn = _drawn(course.points - origin, course.over)
        by_colour.setdefault((colours or {}).get(number, THREAD), []).append(drawn)
    every = paths.joined(*(course for found in by_colour.values() for course, _ in found))
    pencil.stroke(every, _THICK, SHADE)
    tops = {}
    for colour, found in by_colour.items():
        pencil.stroke(paths.joined(*(course for course, _ in found)), _THICK * LIT, colour)
        tops[colour] = paths.lines(np.concatenate([top for _, top in found]))
    for top in tops.values():
        pencil.stroke(top, _THICK + _GAP, VELVET, capstyle="butt")
    for colour, top in tops.items():
        pencil.stroke(top, _THICK, SHADE, capstyle="butt")
        pencil.stroke(top, _THICK * LIT, colour)


def _drawn(points: FloatArray, over: FloatArray) -> tuple[Path, FloatArray]:
    """A smooth curve through the points of a course, and the pieces (k, 2, 2) of it that lie on top."""
    apart = np.hypot(*np.diff(points, axis=0).T) > _NEAR
    kept = np.concatenate([[True], apart])
    kept |= over
    points, over = points[kept], over[kept]
    before, after = np.concatenate([points[:1], points[:-1]]), np.concatenate([points[1:], points[-1:]])
    # A course leaves each point in the direction from the one before to the one after (Catmull and Rom 1974).
    direction = after - before
    direction /= np.maximum(np.hypot(*direction.T), 1e-9)[:, None]
    third = np.hypot(*np.diff(points, axis=0).T)[:, None] / 3
    inner = np.stack([points[:-1] + third * direction[:-1], points[1:] - third * direction[1:], points[1:]], axis=1)
    vertices = np.concatenate([points[:1], inner.reshape(-1, 2)])
    codes = np.full(len(vertices), Path.CURVE4, dtype=np.uint8)
    codes[0] = Path.MOVETO
    reach = _TOP * direction[over]
    return Path(vertices, codes), np.stack([points[over] - reach, points[over] + reach], axis=1)
