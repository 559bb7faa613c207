"""What is asked of a variation: the chosen design of a study, its brief, and where the new study goes."""

from __future__ import annotations

from pathlib import Path

from constraints.check import check
from constraints.design import Design
from explore.bad_input import BadInput
from explore.storage.free import FreeFolder, refuse_unless_free, unnamed_study
from explore.storage.study import Study


def chosen(study: Study, number: int) -> Design:
    """The design of that number, if it is sound. Raises BadInput."""
    design = study.numbered(number)
    findings = check(design)
    if findings:
        raise BadInput(f"{study.folder} {number:02d} fails the check, so it cannot be varied: {findings[0]}")
    return design


def folder_of(study: Study, number: int, what: str, out: Path | None, force: bool) -> FreeFolder:
    """Where the new study goes: beside its study, unless another place is named. Refused if that is taken."""
    source = study.folder.resolve()
    beside = study.folder.parent / f"{source.name.removesuffix('-study')}-{number:02d}-{what}"
    if (out or beside).resolve() == source:
        raise BadInput(f"--out {out or beside} is the study that is varied; --out names another folder")
    folder = FreeFolder(out) if out else unnamed_study(beside, force)
    refuse_unless_free(folder.path, force)
    return folder
