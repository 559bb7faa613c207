"""A pricking redrafted: from its file to pins on the grid, its repeat, and what is doubtful about it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from constraints.lattice import FloatArray
from explore.bad_input import BadInput
from explore.editing.redrafting.assuming import with_assumed
from explore.editing.redrafting.card import Card, open_card
from explore.editing.redrafting.dots import find_dots
from explore.editing.redrafting.draft import Draft
from explore.editing.redrafting.marks import view
from explore.editing.redrafting.repeat import Repeat, broken, find_repeat, one_repeat
from explore.editing.redrafting.rows import read_rows
from explore.editing.redrafting.settling import numbered, settled
from explore.editing.redrafting.snapping import Seat, snap

# Pixels a lattice unit of the original shown beside the redraft, and the most of them in all.
_FINE, _MOST = 14, 6_000_000


@dataclass(frozen=True)
class CardRequest:
    """What she says of a card. page: of a PDF. footside: on which side it lies, None for any. headside: its kind, or a
    footside; None for any. take, drop: doubtful dots by their numbers."""

    page: int = 1
    footside: str | None = None
    headside: str | None = None
    take: Sequence[int] = ()
    drop: Sequence[int] = ()


@dataclass(frozen=True, eq=False)
class Redraft:
    """name: of the file, without its ending. card, seat: None for written rows. repeat: None if nothing comes again.

    pitch_mm: None if nobody knows it.
    """

    name: str
    draft: Draft
    repeat: Repeat | None
    card: Card | None
    seat: Seat | None

    @property
    def pitch_mm(self) -> float | None:
        if self.card is None or self.seat is None or self.card.pixels_per_mm is None:
            return None
        return round(self.seat.pitch / self.card.pixels_per_mm, 2)


def redraft(path: Path, asked: CardRequest) -> Redraft:
    """Read a pricking and settle what she says of its doubtful dots. Refused, naming the file."""
    content = open_card(path, asked.page)
    card = None if isinstance(content, str) else content
    seat: Seat | None = None
    try:
        if isinstance(content, str):
            draft = read_rows(content)
        else:
            seen = view(content.image)
            draft, seat = snap(find_dots(seen), seen.scale, asked.footside, asked.headside)
    except BadInput as error:
        raise BadInput(f"{path} {error}") from None
    repeat = find_repeat(draft)
    if repeat is not None:
        rows, draft = draft.rows, broken(draft, repeat)
        if draft.rows != rows:  # faint end rows have come in, and may lack a dot themselves
            draft = broken(draft, find_repeat(draft) or repeat)
    if card is not None:
        draft = with_assumed(draft, find_repeat(draft) or one_repeat(draft))
    draft = settled(numbered(draft), asked.take, asked.drop)
    return Redraft(path.stem, draft, find_repeat(draft), card, seat)


def upright(made: Redraft, extent: tuple[float, float, float, float]) -> FloatArray | None:
    """The original in grey, turned to lie like the redraft. extent: first and last column, last and first row."""
    if made.card is None or made.seat is None:
        return None
    left, right, bottom, top = extent
    fine = min(_FINE, (_MOST / ((right - left) * (bottom - top))) ** 0.5)
    across, down = (np.arange(low, high, 1 / fine) for low, high in ((left, right), (top, bottom)))
    grid = np.stack(np.meshgrid(across, down), axis=-1)
    image = made.card.image.convert("L")
    # Finer pixels than are shown are averaged, so that no dot falls between them.
    coarser = max(1, int(made.seat.pitch / 2 / fine))
    grey = np.asarray(image.reduce(coarser) if coarser > 1 else image, dtype=np.float64)
    x, y = np.rint(made.seat.pixels(grid.reshape(-1, 2)) / coarser - 0.5).astype(np.int64).T
    inside = (x >= 0) & (y >= 0) & (x < grey.shape[1]) & (y < grey.shape[0])
    shown = np.full(len(x), 255.0)
    shown[inside] = grey[y[inside], x[inside]]
    return shown.reshape(grid.shape[:2])
