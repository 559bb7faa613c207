"""One square large, written as PNG, PDF and SVG."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from constraints.square import Square
from explore.keeping.files import write_whole
from gallery.paper import page
from gallery.sheets.captions import facts
from gallery.sheets.large import large
from gallery.web.vector import vector


def write(square: Square, look: str, side: float, plain: bool, files: Sequence[Path]) -> None:
    """Write a square in a look. side: mm; files: PNG, PDF and SVG. The SVG has no words. Raises OSError."""
    picture, pdf, svg = files
    pdf.parent.mkdir(parents=True, exist_ok=True)
    shown = large(square, look, side, [] if plain else [f"No. {square.number}", *facts(square)])
    page.write([shown], picture)
    page.write([shown], pdf)
    write_whole(svg, vector(square, look, side / page.MM_PER_POINT).svg(side))
