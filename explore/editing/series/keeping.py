"""A series as a study folder: squares, series.json, exhibition sheet, labels and catalogue, whole or not at all."""

from __future__ import annotations

import json
import os
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from explore.editing.series import telling
from explore.editing.series.contrast import stated
from explore.editing.series.making import Series
from explore.editing.series.order import ordered_by
from explore.files import write_whole
from explore.storage.earlier import clear_earlier_series
from explore.storage.free import FreeFolder, Output
from explore.storage.study import Study, create
from gallery.paper.placing import folder_beside

FORMAT, VERSION = "stampwork series", 1
STATEMENT = "series.json"
PICTURES = ("exhibition.png", "exhibition.svg", "exhibition.pdf", "labels.pdf", "catalogue.pdf")


def folder_of(study: Study, output: Output) -> FreeFolder:
    """Where a series made from the study goes, never over the study itself; in the current folder and called after it,
    garden-society-series for garden-society-study, if no place is named. Raises BadInput."""
    usual = Path(f"{study.name.removesuffix('-study')}-series")
    clear_earlier_series(output.out or usual)
    folder = output.study(usual, source=study.folder)
    Output(folder.path, output.force).within(usual, (STATEMENT, *PICTURES))
    return folder


def write(
    folder: Path, study: Study, series: Series, title: str, titles: Sequence[str], paper: str, force: bool
) -> None:
    """Write everything beside its place, then move it there. Raises OSError, BadInput.

    Stopped before the last moment, it leaves nothing behind and replaces nothing.
    """
    folder = folder.resolve()
    folder.parent.mkdir(parents=True, exist_ok=True)
    with folder_beside(folder.parent) as beside:
        new = beside / folder.name
        told = statement(series, study, title, titles)
        made_by = {"command": "series", **{key: told[key] for key in ("study", "chosen", "family", "order")}}
        made = create(new, study.brief, study.stamps, study.picture_bytes(), made_by=made_by)
        for design in series.designs:
            made = made.keep(design, -1)
        text = json.dumps({"format": FORMAT, "version": VERSION, **told}, indent=1, ensure_ascii=False)
        write_whole(new / STATEMENT, text + "\n")
        _draw(new, series, study, title, titles, paper)
        _move(new, folder, made, force)


def statement(series: Series, study: Study, title: str, titles: Sequence[str]) -> dict[str, Any]:
    """What the series says of itself, in figures that its files can be held against."""
    source = study.name
    return {
        "title": title,
        "study": source,
        "chosen": list(series.chosen),
        "family": {"share": series.family.share, "words": series.family.words, **series.family.figures},
        "order": {"by": series.order, "words": series.reads.words},
        "difference": {
            "least": stated(series.least),
            "between": list(series.alike),
            "words": telling.difference_words(series),
            "pool": series.pool,
            "proven": series.proven,
        },
        "squares": [
            {"number": i, "title": name, "from": number or "new", series.order: ordered_by(series.order, design)}
            for i, (name, number, design) in enumerate(zip(titles, series.sources, series.designs, strict=True), 1)
        ],
    }


def _draw(folder: Path, series: Series, study: Study, title: str, titles: Sequence[str], paper: str) -> None:
    from gallery.exhibition import (
        catalogue,
        labels,
        wall,  # load matplotlib, which takes longer than all else here
    )
    from gallery.paper import page

    source = study.name
    told = [telling.caption(series.order, design) for design in series.designs]
    for name in PICTURES[:3]:
        # Every single thread of nine squares makes an SVG that few programs open.
        detailed = False if name.endswith(".svg") else None
        note = telling.subtitle(series)
        hung = wall.wall(series.designs, titles, told, title=title, note=note, paper=paper, detailed=detailed)
        page.write(hung, folder / name)
    cards = [labels.label(design, name, title) for design, name in zip(series.designs, titles, strict=True)]
    page.write(labels.labels(cards), folder / "labels.pdf")
    pages = catalogue.catalogue(telling.front(series, title), telling.entries(series, titles, source))
    page.write(pages, folder / "catalogue.pdf")


def _move(new: Path, folder: Path, made: Study, force: bool) -> None:
    """Put a finished folder in its place: in one step, or file by file into a study that is to be replaced."""
    if not folder.exists() or not any(folder.iterdir()):
        os.replace(new, folder)
        return
    create(folder, made.brief, made.stamps, made.picture_bytes(), force, made.made_by)
    for path in sorted(new.rglob("*")):
        if path.is_file():
            os.replace(path, folder / path.relative_to(new))
