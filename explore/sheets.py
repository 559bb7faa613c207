"""The sheets of a study: all its squares side by side, as PDF, PNG and SVG."""

from __future__ import annotations

from pathlib import Path

from explore.study import Study, sheet_files


def write_sheets(study: Study, look: str, paper: str) -> list[Path]:
    """Draw the squares of a study in one look on one paper; the files written, the picture first.

    The PDF holds all pages; PNG and SVG hold one page each: sheet.png, sheet-2.png and so on. Pages of an
    earlier sheet that is replaced are removed.
    """
    from gallery import page, sheet  # loads matplotlib, which takes longer than all else here

    brief = study.brief
    wishes = f"{brief.symmetry} symmetry, worked {brief.worked}, up to {brief.pairs} pairs"
    figures = sheet.sheet(
        study.squares,
        title=brief.stamp or "Patterns without a stamp",
        look=look,
        paper=paper,
        note=f"{wishes}, seed {brief.seed}",
        stamp=study.stamp,
    )
    written = []
    for suffix in (".png", ".svg"):
        for number, figure in enumerate(figures, 1):
            written.append(study.folder / f"sheet{'' if number == 1 else f'-{number}'}{suffix}")
            page.write([figure], written[-1])
    written.append(study.folder / "sheet.pdf")
    page.write(figures, written[-1])
    for path in sheet_files(study.folder):
        if path not in written:
            path.unlink()
    return written
