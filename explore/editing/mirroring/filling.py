"""Mats made of a frame with its middle filled, kept in the study as they are found, and their sheet."""

from __future__ import annotations

from collections.abc import Callable, Generator, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from constraints.design import Design
from explore.editing.mirroring.centres import Mat, mats
from explore.editing.mirroring.making import Framed, line

Laying = Callable[[int, int], None]


@dataclass(frozen=True)
class FilledMat:
    """mat: as it is kept. told: a line on it."""

    mat: Design
    told: str


def fill(framed: Framed, count: int, symmetry: str, cores: int | None, laying: Laying) -> Iterator[FilledMat]:
    """Fill the middle in so many ways, each kept as it is found. Raises BadInput and Impossible.

    The stamp of the strip is laid in the middle too; where it finds no place there, it is filled without.
    """
    study, strip = framed.study, framed.mirrored.strip
    for mat in found_mats(framed, count, symmetry, cores, laying):
        if mat is None:
            continue
        design = mat.design.numbered(study.next_number)
        study = study.keep(design, study.next_job - 1)
        told = [f"{design.pairs - strip.pairs} more than the strip"]
        told += [f"{mat.gave_way} figures left out where fillings met"] if mat.gave_way else []
        told += ["no room for the stamp in the middle"] if strip.prints and not design.prints else []
        yield FilledMat(design, line(study, design, f"mat round strip {strip.number:02d}", ", ".join(told)))


def write_sheet(framed: Framed, filled: Sequence[Design]) -> Path:
    """A sheet of mats beside their study, as PNG and PDF; the PNG's path. Raises OSError."""
    from gallery.paper import page
    from gallery.sheets.sheet import sheet

    strip = framed.mirrored.strip
    pages = sheet(filled, title=f"Strip {strip.number} round a filled middle", paper="screen")
    # A number is never used twice, so that no sheet is there yet.
    picture = framed.study.folder / f"mats-{filled[0].number:02d}.png"
    page.write(pages, picture)
    page.write(pages, picture.with_suffix(".pdf"))
    return picture


def found_mats(framed: Framed, count: int, symmetry: str, cores: int | None, laying: Laying) -> Generator[Mat | None]:
    """So many mats with the stamp, or without it where none can be had with it; None for each job in vain."""
    study, strip = framed.study, framed.mirrored.strip
    brief = framed.mirrored.brief.changed(solid=study.brief.rules.solid, count=count)
    for stamps in (study.stamps, ()) if strip.prints else ((),):
        found = 0
        for mat in mats(framed.made.frame, brief, stamps, symmetry, cores, laying):
            yield mat
            found += mat is not None
            if found == count:
                return
        if found:
            return
