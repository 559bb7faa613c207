"""What a designer would like of a composition, in points: of its figures, of pairs of them, of the whole."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from constraints.formula import gathered
from constraints.lattice import BoolArray, FloatArray, IntArray
from constraints.piece import Piece
from constraints.rules.corners import over_lines
from explore.search.compose.parts import Random
from explore.search.composing.candidates import Candidate, pieces
from explore.search.composing.desk import Desk
from explore.search.composing.families import FAMILIES
from explore.search.composing.manners import Manner

# Ground so many neighbour steps from all blocks is empty.
EMPTY = 5
# Points.
_EACH, _CLOSED, _LEADS, _LIKED, _OTHER = -25, 60, 40, 28, -24
# Beside a print: what closes round it, and what stands by itself there.
_ROUND_PRINT, _LOOSE, _ENDS = 120, -110, -70
# Pieces of fewer places, not in rows, are specks there.
_SPECK, _SPECKS = 20, -120
# Beside a print the rest may stay bare: by so much less is the rest to be answered, and empty ground minded.
_RESTING = 0.4
_A_PLACE, _MOST_PLACES = 0.25, 350
_CRUMB, _SMALL_SHARE = -90, 0.015
# For each halving of its images, beyond the first.
_LESS_ORDER = -80
# For each piece of a figure, more where these have so few places.
_A_PIECE, _SMALL_PIECE, _SMALLER = -9, 18, 1.6
_BESIDE_PRINT, _MOST_BESIDE = 2, 40
_TOUCH, _MOST_TOUCH = 6, 16
_PARALLEL, _MOST_PARALLEL = 1, 90
_VOID = -3
# For a step over a corner line within a figure, which is worked in halves there.
_SEAM = -4
# So many pairs of figures count, and so much of the ground is looked at, but for its edge.
_PAIRS, _EVERY, _EDGE = 500, 7, 3
# By how much the likings of one composition differ from another's, and what chance adds to a figure.
_MOOD, _CHANCE = 0.35, 30


@dataclass(frozen=True, eq=False)
class Taste:
    """What is liked of figures on a desk by a manner."""

    desk: Desk
    manner: Manner
    figures: Sequence[Candidate]

    @property
    def piece(self) -> Piece:
        return self.desk.piece

    @cached_property
    def blocks(self) -> BoolArray:
        """(figures, n) the places of each figure."""
        found = np.zeros((len(self.figures), len(self.piece)), dtype=np.bool_)
        for number, figure in enumerate(self.figures):
            found[number, figure.places] = True
        return found

    @cached_property
    def pieces(self) -> IntArray:
        """(figures,) of how many pieces each figure is, see `candidates.pieces`."""
        return pieces(self.piece, self.blocks)

    @cached_property
    def _within(self) -> list[BoolArray]:
        """(figures, n) what lies within 0, 1, ... EMPTY neighbour steps of each figure."""
        found = [self.blocks]
        beside, there = self.piece.neighbours, self.piece.neighbours >= 0
        for _ in range(EMPTY):
            wider = found[-1].copy()
            for step in range(beside.shape[1]):
                wider |= found[-1][:, beside[:, step]] & there[:, step]
            found.append(wider)
        return found

    def of_figures(self, rng: Random) -> FloatArray:
        """(figures,) the points of each figure by itself."""
        sizes = self.blocks.sum(axis=1)
        points = _EACH + _A_PLACE * np.minimum(sizes, _MOST_PLACES)
        liking = np.array([self.manner.liking(each.family) for each in self.figures])
        points += np.choose(liking, (_OTHER, _LIKED, _LEADS))
        running = np.array([each.running for each in self.figures])
        points += np.where(running, _CLOSED, 0)
        if self.desk.print.any():
            points += np.where(running, _ROUND_PRINT, _LOOSE)
            points += [_ENDS * FAMILIES[each.family].ends for each in self.figures]
            in_rows = np.array([FAMILIES[each.family].row for each in self.figures])
            points += np.where(~running & ~in_rows & (sizes < _SPECK * self.pieces), _SPECKS, 0)
        points += np.where(sizes < _SMALL_SHARE * len(self.piece), _CRUMB, 0)
        fullest = max(self._order(each) for each in self.figures)
        halved = np.log2([fullest / self._order(each) for each in self.figures])
        points += _LESS_ORDER * np.maximum(0.4 * halved, halved - 1)
        small = np.where(sizes < _SMALL_PIECE * self.pieces, _SMALLER, 1.0)
        points += _A_PIECE * self.pieces * small
        if self.desk.seams:
            over = over_lines(self.piece)
            points += _SEAM * self.blocks[:, over].all(axis=2).sum(axis=1)
        if self.desk.print.any():
            even = self.piece.widened(self.desk.print, 4) & ~self.piece.widened(self.desk.print, 3)
            points += np.minimum(_BESIDE_PRINT * (self.blocks & even).sum(axis=1), _MOST_BESIDE)
        mood = np.exp(rng.normal(0, _MOOD, len(points)))
        chance: FloatArray = points * np.where(points > 0, mood, 1) + _CHANCE * rng.gumbel(size=len(points))
        return chance

    def _order(self, figure: Candidate) -> int:
        return len(self.piece.images_under(figure.symmetry))

    def of_pairs(self, rng: Random) -> tuple[IntArray, IntArray, FloatArray]:
        """Pairs of figures, by their numbers, and the points of the two together, those with the most: for tips that
        touch and for lines at an even gap."""
        # Of all images of a hole or a pinhole one is looked at, and counts for all. Sums of whole numbers are exact.
        piece, weight = self.piece, self.blocks.astype(np.float32)
        first_image = piece.hole_images.min(axis=0)
        once = np.flatnonzero(first_image == np.arange(len(first_image)))
        holes, copies = piece.holes[once], np.bincount(first_image)[once].astype(np.float32)
        over = weight[:, holes[:, [0, 1]].ravel()] * np.repeat(copies, 2)
        across = over @ weight[:, holes[:, [2, 3]].ravel()].T
        touch = np.minimum(across + across.T, _MOST_TOUCH) * _TOUCH
        gap = int(rng.choice(self.manner.gaps))
        alike = piece.representatives
        there = (self._within[gap] & ~self._within[gap - 1])[:, alike] * np.bincount(piece.orbit).astype(np.float32)
        beside = there @ weight[:, alike].T
        parallel = np.minimum(np.minimum(beside, beside.T), _MOST_PARALLEL) * _PARALLEL
        points = np.triu((touch + parallel).astype(np.float64), 1)
        best = np.argsort(-points, axis=None, kind="stable")[:_PAIRS]
        first, second = np.unravel_index(best[points.ravel()[best] > 0], points.shape)
        return first, second, points[first, second]

    @cached_property
    def answered(self) -> dict[str, tuple[int, BoolArray]]:
        """What of a square is to be answered by a figure: its points, and which figures do, (figures,). What the print
        answers is left out."""
        away, along, reach = self.desk.away, self.desk.along, self.desk.reach
        parts = {
            "centre": (160, away <= max(3, reach // 5)),
            "corners": (120, (along >= 0.7 * away) & (away >= 0.72 * reach)),
            "edge": (80, (away >= reach - 3) & (along <= reach // 2)),
        }
        resting = _RESTING if self.desk.print.any() else 1.0
        return {
            name: (round(resting * points), np.any(self.blocks & where, axis=1))
            for name, (points, where) in parts.items()
            if not (self.desk.print & where).any()
        }

    def empty(self, own: IntArray) -> tuple[IntArray, FloatArray]:
        """Of pinholes here and there the literals of the figures that keep them from lying in empty ground, padded with
        FALSE, and the points that it costs where none of them is chosen. own: (figures,) their literals."""
        piece, desk = self.piece, self.desk
        inside = (piece.depth >= _EDGE) & ~piece.widened(desk.print | piece.fan, EMPTY)
        looked_at = np.array([place for place in piece.representatives[::_EVERY] if inside[place]], dtype=np.int64)
        place, which = np.nonzero(self._within[EMPTY][:, looked_at].T)
        copies = np.bincount(piece.orbit)[piece.orbit[looked_at]]
        resting = _RESTING if desk.print.any() else 1.0
        return gathered(place, own[which], len(looked_at)), (resting * _VOID * _EVERY * copies).astype(np.float64)
