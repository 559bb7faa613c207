"""Which of the seven frieze groups a strip has: the symmetries that its stitches really show."""

from __future__ import annotations

from constraints.forms import Strip
from constraints.layout import Layout

Marks = frozenset[tuple[str, int, int]]


def found(repeat: Layout) -> str:
    """The name in symmetry.OF_STRIPS of all that leaves the strip as it is. repeat: one, on the piece that meets
    itself; ValueError if it is not a strip's.
    """
    form = repeat.design.form.repeating
    if form is None:
        raise ValueError("only a strip has a frieze")
    return found_in(_marks(repeat, form), form.columns, form.rows)


def found_in(marks: Marks, columns: int, rows: int) -> str:
    """The same for marks (what, x, y) of one repeat, in lattice units; a shorter repeat in it is allowed for."""
    here = frozenset((what, x, y % rows) for what, x, y in marks)

    def kept(side: int, way: int, shift: int) -> bool:
        """Whether the strip stays; side -1 changes left and right, way -1 turns it end for end."""
        return here == {(what, x if side > 0 else columns - 1 - x, (way * y + shift) % rows) for what, x, y in here}

    upright = kept(-1, 1, 0)
    level = any(kept(1, -1, shift) for shift in range(rows))
    if upright:
        return "upright-mirrors" if level else "upright-mirror"
    half_turn = any(kept(-1, -1, shift) for shift in range(rows))
    if level:
        return "glide-mirrors" if half_turn else "level-mirror"
    if half_turn:
        return "half-turn"
    return "glide" if any(kept(-1, 1, shift) for shift in range(1, rows)) else "none"


def _marks(repeat: Layout, form: Strip) -> Marks:
    """Pinholes with their stitch, figures by their middle, valleys on the edge they lie on."""
    marks = {("", x, y) for x, y in repeat.piece.pinholes.tolist()}
    marks |= {(block.stitch, x, y) for block in repeat.design.blocks for x, y in block.pinholes}
    marks |= {(each.kind, x, y) for each in repeat.design.fillings for x, y in each.places}
    if form.headside is not None:
        edges = (0, form.columns - 1) if form.both else (form.columns - 1,)
        valleys = range(form.headside.first % form.headside.depth, form.rows, form.headside.depth)
        marks |= {("valley", x, y) for x in edges for y in valleys}
    return frozenset(marks)
