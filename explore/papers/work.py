"""Orders of work written: one text and one PDF for each square."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from pathlib import Path

from constraints.working.work import Work
from explore.files import write_whole
from gallery.order.pages import order_pages
from gallery.order.words import HEADING, STEP, TITLE, Telling, TextLine, order_lines
from gallery.paper import page

_WIDTH = 88


def write(done: Work, telling: Telling, paper: str, text: Path, pdf: Path) -> str:
    """Write the order of work; what was written, in a few words. OSError."""
    told = order_lines(done, telling)
    pages = order_pages(done, telling, paper)
    pdf.parent.mkdir(parents=True, exist_ok=True)
    write_whole(text, as_text(told))
    page.write(pages, pdf)
    steps = sum(line.kind == STEP for line in told)
    held = f"{len(pages)} {'page' if len(pages) == 1 else 'pages'} {paper}"
    return f"{len(done.pins)} pins in {steps} steps, {done.order.changes} changes of place, {held}"


def as_text(told: Sequence[TextLine]) -> str:
    """Lines as plain text, broken at 88 letters; steps hang behind their number."""
    return "\n".join(broken for line in told for broken in _broken(line)) + "\n"


def _broken(line: TextLine) -> list[str]:
    if line.kind == TITLE:
        return [line.words, "=" * len(line.words)]
    if line.kind == HEADING:
        return ["", line.words, "-" * len(line.words)]
    begin, then = (f"{line.number:4}  ", " " * 6) if line.kind == STEP else ("", "")
    return textwrap.wrap(line.words, _WIDTH, initial_indent=begin, subsequent_indent=then, break_on_hyphens=False)
