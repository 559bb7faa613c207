"""Squares and runs in words: the table after a run, what it lacks, and the lines of a check."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from constraints.brief import Brief
from constraints.check import check
from constraints.design import Design, Print
from constraints.forms import USUAL
from constraints.layout import lay
from constraints.lying import lies
from constraints.reader import DesignFileError
from constraints.seams import seams_of
from constraints.stamp import Stamp, shape_of
from constraints.symmetry import SUITS
from constraints.targets import images
from constraints.wording import measure, shown
from explore.lines import Row, RowTable
from explore.search.squares.suited import several_from
from explore.storage.state import StudyError
from explore.storage.study import read_square, square_files
from gallery.seeing.knowing import known_as

if TYPE_CHECKING:
    from explore.storage.session import Session

# Pitches. Most prints keep their character from 8 to 12 on (judged on a dozen stamps).
_SMALL = 8.0
# Units. Copies whose centres are nearer than this are one.
_SAME_PLACE = 1.0
# From so many squares on it is told what all of them have.
_SAYING = 3

# What several tables have in common: how a number, pairs and a size are told of a row of `figures`.
FIGURES: Mapping[str, Callable[[Row], str]] = {
    "number": lambda row: f"{row['number']:02d}",
    "pairs": lambda row: f"{row['pairs']}",
    "size": lambda row: str(row["size"]),
}
_TOLD: Mapping[str, Callable[[Row], str]] = {
    **FIGURES,
    "pitch": lambda row: f"{shown(row['pitch_mm'])} mm",
    "stitches": lambda row: ", ".join(row["stitches"]),
    "the print is": lambda row: row["known"] or "-",
    "it lies": lambda row: row["lies"] or "-",
    "splits": lambda row: f"{row['splits']}",
    "seams": lambda row: f"{row['seams']}",
    "seam pins": lambda row: f"{row['seam_pins']}",
}


def figures(design: Design) -> Row:
    """A piece in figures, for a table or a program: sides and pitch in mm, and its size in words."""
    return {
        "number": design.number,
        "form": design.form.name,
        "pairs": design.pairs,
        "size": measure(design),
        "width_mm": design.width_mm,
        "height_mm": design.height_mm,
        "pitch_mm": design.pitch_mm,
    }


def table(designs: Sequence[Design], stamps: Sequence[Stamp]) -> RowTable:
    """A row a square. stamps: as she drew them."""
    from gallery.sheets.captions import stitches_used  # with matplotlib, which a check does without

    return RowTable(_TOLD, [_row(design, stitches_used(design), stamps) for design in designs])


def _row(design: Design, stitches: Sequence[str], stamps: Sequence[Stamp]) -> Row:
    seams = seams_of(lay(design))
    return {
        **figures(design),
        "stitches": list(stitches),
        "known": known_as(design) or None,
        "lies": lies(design, stamps) or None,
        "splits": design.splits,
        "seams": seams.number,
        "seam_pins": len(seams.pins),
    }


def square_files_in(places: Sequence[Path]) -> list[tuple[str, Path]]:
    """The square files of studies and files, each with what to call it: its number, if there is one study.

    Raises StudyError, one line, if a place does not exist or is a folder without squares.
    """
    found: list[tuple[str, Path]] = []
    for place in places:
        if place.is_dir():
            files = square_files(place)
            if not files:
                raise StudyError(f"{place} holds no squares", "study-empty", path=place)
            found += [(path.stem if len(places) == 1 else str(path), path) for path in files]
        elif place.exists():
            found.append((str(place), place))
        else:
            raise StudyError(f"{place}: no such file or folder", "file-missing", path=place)
    return found


def checked(label: str, path: Path) -> Row:
    """Whether a square file is sound and the solver-free check finds nothing: it `holds`, or what is amiss, `damaged`
    if it could not be read. label: what it is called."""
    row = {"called": label, "file": path, "holds": False, "damaged": False, "pairs": None}
    try:
        design = read_square(path)
    except DesignFileError as error:
        return {**row, "damaged": True, "findings": [str(error)]}
    findings = [str(finding) for finding in check(design)]
    return {**row, "holds": not findings, "pairs": design.pairs, "findings": findings}


def check_told(row: Row) -> str:
    """What to say of a square file that was checked."""
    if row["holds"]:
        return f"{row['called']} holds: {row['pairs']} pairs, flow complete"
    return f"{row['called']} {'is damaged' if row['damaged'] else 'fails'}: {'; '.join(row['findings'])}"


def small_print(designs: Sequence[Design]) -> str:
    """A line if the print is small in all squares, so small that it may have lost its character; else ""."""
    largest = max((each for design in designs for each in design.prints), key=lambda each: each.size, default=None)
    if largest is None or largest.size >= _SMALL:
        return ""
    return (
        f"the print is at most {largest.size:g} pitches long in these squares; "
        f"stampwork stamp shows from which size {largest.name} keeps its character"
    )


def single_prints(designs: Sequence[Design], brief: Brief, stamps: Sequence[Stamp]) -> str:
    """A line if the symmetry is left to what suits and no square has more than one copy of the print: from how many
    pairs there is room for more; else "". A few squares say nothing of others, and other pieces have as many copies as
    their form gives."""
    sizes = [each.size for design in designs for each in design.prints if _alone(each, design.symmetry)]
    one_square = brief.piece.form == USUAL and brief.piece.symmetry == SUITS
    if len(stamps) != 1 or not one_square or not sizes or len(sizes) < max(_SAYING, len(designs)):
        return ""
    (stamp,) = stamps
    pairs = several_from(brief, stamp, min(sizes))
    if pairs == brief.rules.pairs:
        return ""  # there are more places than squares
    from_pairs = "" if pairs is None else f"; several so large have room from {pairs} pairs"
    return f"one {stamp.name} in each square, of {min(sizes):g} pitches and more{from_pairs}"


def _alone(printed: Print, symmetry: str) -> bool:
    """Whether a print lies there once, all images of it in the same place."""
    centres = [each.centroid for each in images(shape_of(printed.outlines), symmetry)]
    return all(centres[0].distance(each) < _SAME_PLACE for each in centres)


def shortfall(session: Session, wanted: int) -> str:
    """What a run found too few of and why, on one line; "" if it found all."""
    if session.found >= wanted:
        return ""
    if session.stopped:
        return f"stopped at {session.found} of {wanted} squares"
    if session.jobs == 1 and not session.found:  # the search says itself why it did not begin
        return session.reasons[0][0]
    amount = f"{session.found} of {wanted} squares" if session.found else "nothing"
    reasons = [f"{times} {reason}" for reason, times in session.reasons if reason][:3]
    why = f": {', '.join(reasons)}" if reasons else ""
    return f"{amount} found in the effort given ({session.jobs} jobs{why})"
