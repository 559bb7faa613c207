"""A booklet: a cover and all papers of one square, joined into one PDF with a mark for each part."""

from __future__ import annotations

import io
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from pypdf import PdfReader, PdfWriter

from constraints.design import Design
from constraints.materials import Allowances, materials
from constraints.working.habits import Habits
from explore.files import write_whole
from explore.papers import diagram, pricking, work
from explore.papers import materials as taken
from explore.papers.worked import finishes, worked
from gallery.diagram import drawn
from gallery.exhibition.cover import cover
from gallery.order.words import Telling
from gallery.paper import page
from gallery.pricking.drawn import PrickingOptions


@dataclass(frozen=True)
class BookletOptions:
    """title: on the cover. footside: left or right. paper: of pricking and diagram. finish: see `ends.FINISHES`."""

    title: str
    footside: str = "left"
    paper: str = "a4"
    finish: str = "knots"
    habits: Habits = field(default_factory=Habits)


# What its parts are called.
PARTS = ("Cover", "Materials", "Pricking", "Working diagram", "Order of work")


def write(
    design: Design,
    name: str,
    wanted: BookletOptions,
    pdf: Path,
    cores: int | None,
    watch: Callable[[str], None] = lambda part: None,
) -> int:
    """Write the booklet of a square; how many pages it has. name: of its study. watch: told each of PARTS as soon as it
    is there. Refused as its parts are; OSError.

    Its parts are made anew in a folder of their own. Pages keep their own size, so that the pricking stays true.
    """
    joined = PdfWriter()
    with tempfile.TemporaryDirectory() as folder:
        for words, part in _parts(Path(folder), design, name, wanted, cores):
            first = len(joined.pages)
            joined.append(PdfReader(part), import_outline=False)
            joined.add_outline_item(title=words, page_number=first)
            watch(words)
        joined.add_metadata({"/Title": wanted.title, "/Creator": "Stampwork", "/Producer": ""})
        held = io.BytesIO()
        joined.write(held)
    pdf.parent.mkdir(parents=True, exist_ok=True)
    write_whole(pdf, held.getvalue())
    return len(joined.pages)


def _parts(
    folder: Path, design: Design, name: str, wanted: BookletOptions, cores: int | None
) -> Iterator[tuple[str, Path]]:
    """What the booklet holds, part by part: what it is called and where its pages are."""
    habits, footside, paper = wanted.habits, wanted.footside, wanted.paper
    finishes(design, wanted.finish)
    done = worked(design, habits)
    file = folder / "cover.pdf"
    page.write([cover(design, wanted.title)], file)
    yield PARTS[0], file
    files = [folder / f"materials{ending}" for ending in (".txt", ".pdf", ".json")]
    taken.write(name, materials(done), Allowances(), taken.swatch_of(design, cores), files)
    yield PARTS[1], files[1]
    file = folder / "pricking.pdf"
    pricking.write(
        design, name, PrickingOptions(footside=footside), "whole", paper, file, folder / "pricking.svg", habits
    )
    yield PARTS[2], file
    file = folder / "diagram.pdf"
    diagram.write(design, name, drawn.DiagramOptions(0.0, footside, True), paper, file, folder / "diagram.svg", habits)
    yield PARTS[3], file
    file = folder / "work.pdf"
    telling = Telling(f"Order of work {design.number:02d}, {name}", footside == "right", wanted.finish)
    work.write(done, telling, "letter" if paper == "letter" else "a4", folder / "work.txt", file)
    yield PARTS[4], file
