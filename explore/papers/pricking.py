"""Prickings written: one PDF and one SVG for each square."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from constraints.design import Design
from constraints.forms import WHOLE
from constraints.wording import measures, shown
from constraints.working.habits import Habits
from constraints.working.work import Work
from explore.bad_input import BadInput
from explore.files import write_whole
from explore.papers.worked import worked
from gallery.paper import page
from gallery.paper.layers import figure
from gallery.paper.layers_svg import svg
from gallery.paper.page import PageError
from gallery.pricking.drawn import PrickingOptions
from gallery.pricking.numbering import SMALLEST, size_for
from gallery.pricking.pages import MOST_PAGES, leaf_of_all, pages, pages_taken


@dataclass(frozen=True)
class Written:
    """words: what was made, in a few words. notes: what she should know of it, one line each."""

    words: str
    notes: tuple[str, ...]


def write(
    design: Design, name: str, options: PrickingOptions, part: str, paper: str, pdf: Path, vector: Path, habits: Habits
) -> Written:
    """Write the pricking of a square. name: of its study. BadInput if it cannot be worked, or cut so; OSError."""
    form = design.form
    if part not in form.cut:
        can = f"{design.number:02d} is a {form.name}; allowed: {', '.join(form.cut)}"
        raise BadInput(f"part is {part}, but {can}", of="part")
    done = worked(design, habits)
    try:
        leaves = pages(done, name, options, part, paper)
    except PageError as error:
        mends = _mends(done, name, options, part, paper)
        raise BadInput(f"{design.number:02d}: {error}; {mends}") from None
    pdf.parent.mkdir(parents=True, exist_ok=True)
    page.write([figure(leaf) for leaf in leaves], pdf)
    write_whole(vector, svg(leaf_of_all(done, name, options, part)))
    count = len(leaves)
    size = measures(design)
    words = f"{size}, {len(done.pins)} pins, {count} page{'s' if count > 1 else ''}"
    return Written(words + f" {paper}", tuple(_small(done, options)))


def _mends(done: Work, name: str, options: PrickingOptions, part: str, paper: str) -> str:
    """What would go on fewer pages, of which it is known that they are not too many."""
    larger = {} if paper == "a3" else {"paper a3": (part, "a3")}
    parts = [each for each in done.design.form.cut if each not in (WHOLE, part)]
    less = {f"part {each}": (each, paper) for each in parts}
    both = {f"paper a3 and part {each}": (each, "a3") for each in parts if larger}
    for offered in (larger | less, both):
        fitting = [told for told, wanted in offered.items() if pages_taken(done, name, options, *wanted) <= MOST_PAGES]
        if fitting:
            return f"{' or '.join(fitting)} takes fewer"
    return "nothing takes few enough"


def _small(done: Work, options: PrickingOptions) -> list[str]:
    design = done.design
    size = size_for(len(done.pins), design.pitch_mm)
    if not options.numbers or size >= SMALLEST:
        return []
    return [f"{design.number:02d}: numbers are {size:.1f} points high at a pitch of {shown(design.pitch_mm)} mm"]
