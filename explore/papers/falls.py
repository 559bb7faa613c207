"""How a stamp falls on the grid, at each size and turn: a table and a sheet."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from constraints.piece import ACROSS, ROUND
from constraints.stamp import Stamp
from explore.lines import columns
from explore.search.laying.falls import Fall, lost_below
from gallery.seeing.knowing import KNOWN_AS

FILES = ("grid.png", "grid.svg", "grid.pdf")


def table(found: Sequence[Fall], choice: Fall | None) -> list[str]:
    """One line for each size and turn of a stamp under a line of headings, the suggestion marked."""
    turned = len({fall.turn for fall in found}) > 1
    rows: list[tuple[str, ...]] = [
        ("size", *(["turn"] if turned else []), "the print is", "splits", "round", "across", "")
    ]
    for fall in found:
        mark = "<- suggested" if fall is choice else ""
        turn = [f"{fall.turn:g}"] if turned else []
        known, splits = KNOWN_AS[fall.seen.known], str(fall.design.splits)
        pairs = [f"from {fall.pairs_worked(way)} pairs" for way in (ROUND, ACROSS)]
        rows.append((f"{fall.size:g} pitches", *turn, known, splits, *pairs, mark))
    return columns(rows)


def losses(found: Sequence[Fall]) -> list[str]:
    """What of a stamp is lost at some of the sizes, in words, one line a part."""
    told = []
    for place, size in lost_below(found).items():
        until = "at every size" if size == 0 else f"below {size:g} pitches"
        told.append(f"{until} a part {place} is lost: no block shows it")
    return told


def write(folder: Path, stamp: Stamp, found: list[Fall], choice: Fall | None) -> Path:
    """Draw how a stamp falls on the grid, the suggestion marked; the picture written."""
    from gallery.paper import page
    from gallery.sheets import sheet
    from gallery.sheets.captions import FACTS

    turned = len({fall.turn for fall in found}) > 1
    below = []
    for fall in found:
        splits = fall.design.splits
        words = [KNOWN_AS[fall.seen.known], f"{splits or 'no'} split{'' if splits == 1 else 's'}"]
        words.append(f"from {fall.pairs_worked(ROUND)} pairs")
        below.append([*words, "SUGGESTED"] if fall is choice else words)
    figures = sheet.sheet(
        [fall.design for fall in found],
        title=f"{stamp.name} on the grid",
        paper="screen",
        note="the stamp alone, blocked at each size without splits and with them, worked round",
        stamp=stamp,
        first=[
            f"{fall.size:g} pitches" + (f", turned {fall.turn:g}\N{DEGREE SIGN}" if turned else "") for fall in found
        ],
        below=below,
        silent=FACTS,
    )
    folder.mkdir(parents=True, exist_ok=True)
    for name in FILES:
        page.write(figures, folder / name)
    return folder / FILES[0]
