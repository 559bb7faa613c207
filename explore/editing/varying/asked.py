"""What is asked of a variation: the chosen design of a study, its brief, and where the new study goes."""

from __future__ import annotations

from pathlib import Path

from constraints.brief import Brief
from constraints.check import check
from constraints.design import Design
from explore.asking.designs import brief_of
from explore.bad_input import BadInput
from explore.storage.free import FreeFolder, Output
from explore.storage.study import Study


def chosen(study: Study, number: int) -> Design:
    """The design of that number, if it is sound. Raises BadInput."""
    design = study.numbered(number)
    findings = check(design)
    if findings:
        line = f"{study.folder} {number:02d} fails the check, so it cannot be varied: {findings[0]}"
        raise BadInput(line, "fails-check", number=design.number)
    return design


def folder_of(study: Study, number: int, what: str, out: Path | None, force: bool) -> FreeFolder:
    """Where the new study goes: beside its study, unless another place is named. Refused if that is taken."""
    source = study.folder.resolve()
    beside = study.folder.parent / f"{source.name.removesuffix('-study')}-{number:02d}-{what}"
    return Output(out, force).study(beside, source=source)


def brief_for(study: Study, design: Design, count: int | None, seed: int | None, effort: float | None) -> Brief:
    """The brief of its variations: that of its study, with what she says otherwise. count: None for small steps, which
    are as many as there are."""
    own = brief_of(design, study.brief)
    return own.changed(
        count=count or own.run.count, seed=own.run.seed if seed is None else seed, effort=effort or own.run.effort
    )
