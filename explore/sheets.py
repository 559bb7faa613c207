"""The sheets of a study: all its squares side by side, as PNG, PDF and SVG."""

from __future__ import annotations

from pathlib import Path

from explore.files import replacing
from explore.study import Study

SUFFIXES = (".png", ".pdf", ".svg")


def write_sheets(study: Study, look: str, paper: str) -> list[Path]:
    """Draw the squares of a study in one look on one paper; the files written, the picture first."""
    from gallery import sheet  # loads matplotlib, which takes longer than all else here

    title = study.brief.stamp or "patterns"
    figures = sheet.sheet(study.squares, title=title, look=look, paper=paper)
    written = []
    for suffix in SUFFIXES:
        path = study.folder / f"sheet{suffix}"
        with replacing(path) as new:
            sheet.write(figures, new)
        written.append(path)
    return written
