"""The part that squares of a family share: some pinholes, and how each of them is worked."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from constraints.fillings import OF_KIND
from constraints.lattice import BoolArray, IntArray
from constraints.layout import Layout, locate
from constraints.piece import Piece
from constraints.places import KINDS, PLAIN, differ, lie_in_blocks, lie_in_fillings, map_places
from constraints.symmetry import matrices
from explore.editing.varying.kept import Kept

# In place of the number of what a pinhole is worked in: in anything but a block.
NO_BLOCK = PLAIN - 1


@dataclass(frozen=True, eq=False)
class Part:
    """pinholes: (k, 2) their places. worked: (k, 3) how they are worked, as `constraints.places`, or NO_BLOCK."""

    pinholes: IntArray
    worked: IntArray

    @classmethod
    def of(cls, layout: Layout, where: BoolArray) -> Part:
        """What a design has at some of its pinholes, (n,), a headside aside. layout: of what is composed of it."""
        where = where & ~layout.piece.held
        return cls(layout.piece.pinholes[where], map_places(layout)[where])

    def __len__(self) -> int:
        return len(self.pinholes)

    @property
    def numbers(self) -> IntArray:
        """(k,) of `constraints.places.KINDS` what each is worked in, PLAIN, or NO_BLOCK."""
        numbers: IntArray = self.worked[:, 0]
        return numbers

    @property
    def in_block(self) -> BoolArray:
        """(k,) whether each lies in a block."""
        return lie_in_blocks(self.worked)

    @property
    def kinds(self) -> set[str]:
        """The stitches, the figures and the grounds that it is worked in."""
        return {KINDS[number] for number in self.numbers.tolist() if number >= 0}

    @property
    def fillings(self) -> set[str]:
        """The fillings that it has something of, by name."""
        return {OF_KIND[KINDS[number]].name for number in self.numbers[lie_in_fillings(self.worked)].tolist()}

    def on(self, piece: Piece) -> IntArray:
        """(k,) its pinholes by their index on a piece. KeyError if one of them lies off it."""
        found = locate(piece, self.pinholes)
        if (found < 0).any():
            raise KeyError(tuple(self.pinholes[found < 0][0].tolist()))
        return found

    def mask(self, piece: Piece) -> BoolArray:
        """(n,) its pinholes on a piece. KeyError as for `on`."""
        mask = np.zeros(len(piece), dtype=np.bool_)
        mask[self.on(piece)] = True
        return mask

    def kept(self, piece: Piece) -> Kept:
        """What of a design must stay so that it has the part. KeyError as for `on`."""
        places = self.on(piece)
        block = self.mask(piece)
        filling = np.zeros(len(piece), dtype=np.bool_)
        filling[places[self.numbers != NO_BLOCK]] = True
        return Kept(block, filling)

    def centres(self, number: int) -> IntArray:
        """(j, 2) the centres of its figures of that number in `constraints.places.KINDS`, each once."""
        own = self.numbers == number
        return np.unique(self.pinholes[own] + self.worked[own, 1:], axis=0)

    def held_by(self, layout: Layout) -> bool:
        """Whether a design works every pinhole of it so."""
        places = locate(layout.piece, self.pinholes)
        found = map_places(layout)[places]
        same = np.where(self.numbers == NO_BLOCK, ~lie_in_blocks(found), ~differ(found, self.worked))
        return bool((same & (places >= 0)).all())

    def kept_by(self, piece: Piece) -> bool:
        """Whether it stays the same under the symmetry of a piece on which it lies, so that others with it can have
        that. Centres of figures move along."""
        own = self.on(piece)
        held = self._rows(own, np.eye(2, dtype=np.int64))
        turns = zip(piece.images, matrices(piece.symmetry), strict=True)
        return all(self._rows(image[own], turn) == held for image, turn in turns)

    def _rows(self, places: IntArray, turn: IntArray) -> set[tuple[int, ...]]:
        moved = (places[:, None], self.worked[:, :1], self.worked[:, 1:] @ turn.T)
        return set(map(tuple, np.hstack(moved).tolist()))


NOTHING = Part(np.zeros((0, 2), dtype=np.int64), np.zeros((0, 3), dtype=np.int64))
