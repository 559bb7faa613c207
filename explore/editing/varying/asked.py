"""What is asked of a variation: the chosen square of a study, its brief, and where the new study goes."""

from __future__ import annotations

from pathlib import Path

from constraints.check import check
from constraints.design import Design
from constraints.square_sizes import square_of
from explore.bad_input import BadInput
from explore.storage.free import FreeFolder, refuse_unless_free, unnamed_study
from explore.storage.study import Study


def chosen(study: Study, number: int) -> Design:
    """The square of that number, if it is sound. Raises BadInput."""
    design = study.numbered(number)
    _refuse_form(study, design)
    findings = check(design)
    if findings:
        raise BadInput(f"{study.folder} {number:02d} fails the check, so it cannot be varied: {findings[0]}")
    return design


def _refuse_form(study: Study, design: Design) -> None:
    """Refused unless it is a square whose edge the brief of its study asks for."""
    if not design.form.varied:
        others = [f"{each.number}" for each in study.designs if each.form.varied]
        there = f"; squares of {study.folder}: {' '.join(others)}" if others else ""
        raise BadInput(f"{study.folder} {design.number:02d} is a {design.form.name}; vary takes squares{there}")
    if square_of(study.brief.piece, design.half_size) != design.form:
        edge = "a footside" if design.form.headside is None else design.form.headside.name
        raise BadInput(
            f"{study.folder} {design.number:02d} has {edge} for its edge, the brief of the study another one "
            f"({study.brief.piece.edging}); vary takes squares as their brief asks for them"
        )


def folder_of(study: Study, number: int, what: str, out: Path | None, force: bool) -> FreeFolder:
    """Where the new study goes: beside its study, unless another place is named. Refused if that is taken."""
    source = study.folder.resolve()
    beside = study.folder.parent / f"{source.name.removesuffix('-study')}-{number:02d}-{what}"
    if (out or beside).resolve() == source:
        raise BadInput(f"--out {out or beside} is the study that is varied; --out names another folder")
    folder = FreeFolder(out) if out else unnamed_study(beside, force)
    refuse_unless_free(folder.path, force)
    return folder
