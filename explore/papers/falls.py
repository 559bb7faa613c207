"""How a stamp falls on the grid, at each size and turn: a table and a sheet."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from constraints.stamp import Stamp
from explore.lines import columns
from explore.search.laying.falls import Fall

FILES = ("grid.png", "grid.svg", "grid.pdf")


def table(found: Sequence[Fall], choice: Fall | None) -> list[str]:
    """One line for each size and turn of a stamp under a line of headings, the suggestion marked."""
    rows: list[tuple[str, ...]] = [("size", "turn", "match", "detail", "pairs", "")]
    for fall in found:
        mark = "<- suggested" if fall is choice else ""
        shown_well = (f"{fall.match:.2f}", f"{fall.detail:.2f}")
        rows.append((f"{fall.size:g} pitches", f"{fall.turn:g}", *shown_well, f"from {fall.pairs}", mark))
    return columns(rows)


def write(folder: Path, stamp: Stamp, found: list[Fall], choice: Fall | None) -> Path:
    """Draw how a stamp falls on the grid, the suggestion marked; the picture written."""
    from gallery.paper import page
    from gallery.sheets import sheet
    from gallery.sheets.captions import FACTS

    below = []
    for fall in found:
        words = [f"match {fall.match:.2f}", f"detail {fall.detail:.2f}", f"from {fall.pairs} pairs"]
        below.append([*words, "SUGGESTED"] if fall is choice else words)
    figures = sheet.sheet(
        [fall.design for fall in found],
        title=f"{stamp.name} on the grid",
        paper="screen",
        note="the stamp alone, blocked at each size and turn, worked round",
        stamp=stamp,
        first=[f"{fall.size:g} pitches, turned {fall.turn:g}\N{DEGREE SIGN}" for fall in found],
        below=below,
        silent=FACTS,
    )
    folder.mkdir(parents=True, exist_ok=True)
    for name in FILES:
        page.write(figures, folder / name)
    return folder / FILES[0]
