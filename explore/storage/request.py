"""What one run of `explore` is to do: a new study from a stamp and a brief, or more for an old one."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from constraints.brief import Brief
from constraints.explain import width_difference
from constraints.stamp import Stamp
from explore import asking
from explore.asking.names import stamp_name
from explore.bad_input import BadInput
from explore.files import content
from explore.reading import StampError, built_in, built_in_names, read
from explore.storage.free import FreeFolder, refuse_unless_free, unnamed_study
from explore.storage.state import goes_on, is_study
from explore.storage.study import Study, create, open_study

# What a study without a stamp is called after.
NO_STAMP = "patterns"


class StudyRequestError(BadInput):
    """A request that cannot be understood or must not be carried out."""


@dataclass(frozen=True)
class StudyRequest:
    """study: the one to go on with, None for a new one, which `begin` makes. count: squares to find. asked: the file
    and the flags of a new one, as `asking.read` takes them."""

    brief: Brief
    stamp: Stamp | None
    study: Study | None
    begin: Callable[[], Study]
    count: int
    notes: tuple[str, ...]
    asked: tuple[Path | None, Mapping[str, str]] = (None, {})


def new(
    stamp: str | None,
    file: Path | None,
    no_stamp: bool,
    turn: float | None,
    out: Path | None,
    force: bool,
    flags: Mapping[str, str],
) -> StudyRequest:
    """A new study. Raises BadInput; nothing is written before `begin`."""
    given = {**flags, **stamp_flag(stamp, no_stamp)}
    asked = asking.read(file, given)
    brief = asked.brief
    usual = default_folder(brief.stamp.name)
    folder, told = FreeFolder(out) if out else unnamed_study(usual, force)
    refuse_unless_free(folder, force, more=True)
    shape, picture = stamp_asked_for(asked, file, turn)
    more = f"; --more 12 of stampwork explore {usual} adds squares to it" if told and goes_on(usual) else ""
    notes = [
        *(f"{line}{more}" for line in told),
        *(f"{brief.stamp.name}: {note}" for note in (shape.notes if shape else ())),
    ]
    difference = width_difference(brief)
    notes += [difference] if difference else []

    def begin() -> Study:
        return create(folder, brief, shape, picture, force)

    return StudyRequest(brief, shape, None, begin, brief.run.count, tuple(notes), (file, given))


def continued(stamp: str | None, out: Path | None, more: int, others: Sequence[str]) -> StudyRequest:
    """More squares for a study, by its own brief. Raises BadInput.

    others: options given that cannot go with that.
    """
    if others:
        raise StudyRequestError(
            f"--more goes on with the study's own brief; {', '.join(others)} cannot be given with it"
        )
    if out and stamp:
        raise StudyRequestError(f"--more takes one study; give {stamp} or --out {out}, not both")
    folder = out or (Path(stamp) if stamp and Path(stamp).is_dir() else None)
    folder = folder or _only_study(default_folder(stamp_name(stamp or asking.BUILT_IN)))
    study = open_study(folder)
    if study.made_by:
        raise StudyRequestError(
            f"{folder} was made by {study.made_by['command']}, not by explore; --more cannot go on with it"
        )

    def begin() -> Study:
        return study

    return StudyRequest(study.brief, study.stamp, study, begin, more, study.notes)


def _only_study(usual: Path) -> Path:
    """The study of a stamp that is meant where none is named. Refused if there are several, which have numbers."""
    called = re.compile(re.escape(usual.name) + r"(-\d+)?")
    there = sorted(each.name for each in usual.parent.iterdir() if called.fullmatch(each.name) and goes_on(each))
    if len(there) > 1:
        raise StudyRequestError(f"there are {', '.join(there)}; name one of them, such as {there[-1]}")
    return usual


def default_folder(name: str, what: str = "study") -> Path:
    """The folder in the current one that is called after a stamp, such as tulip-study."""
    safe = re.sub(r"[^\w.-]+", "-", name or NO_STAMP).strip("-.") or "stamp"
    return Path(f"{safe}-{what}")


def stamp_flag(stamp: str | None, no_stamp: bool) -> dict[str, str]:
    """The stamp as a flag for `asking.read`, from the first word of a command and --no-stamp.

    Raises StudyRequestError.
    """
    if no_stamp and stamp is not None:
        raise StudyRequestError(f"STAMP is {stamp} but --no-stamp is given too; leave one out")
    if stamp == "":
        raise StudyRequestError("STAMP is empty; --no-stamp gives patterns without a stamp")
    if no_stamp:
        return {"stamp": ""}
    return {} if stamp is None else {"stamp": stamp}


def stamp_asked_for(asked: asking.BriefRequest, file: Path | None, turn: float | None) -> tuple[Stamp | None, bytes]:
    """The stamp asked for and the content of its picture. Raises BadInput."""
    if not asked.stamp:
        if turn is not None:
            raise StudyRequestError("--turn sets a print upright, but there is no stamp")
        return None, b""
    path = Path(asked.stamp)
    if is_study(path):
        mend = "--more 12 adds squares to it" if goes_on(path) else "give the print that it shows"
        raise StudyRequestError(f"{path} is a study; {mend}")
    if not path.is_file():
        kept = _kept_stamp(asked, file)
        if kept is not None and turn is not None:
            raise StudyRequestError("--turn sets a print upright, but the stamp of a study is so already")
        if kept is not None:
            return kept
    try:
        if not path.is_file() and (asked.stamp in built_in_names() or _is_bare_name(asked.stamp)):
            path = built_in(asked.stamp)
        return replace(read(path, turn), name=asked.brief.stamp.name), content(path)
    except StampError as error:
        raise StudyRequestError(str(error)) from None


def _is_bare_name(reference: str) -> bool:
    """Whether a stamp that is no file was rather meant as a built-in one: no folder, no suffix."""
    return not Path(reference).exists() and Path(reference).name == stamp_name(reference)


def _kept_stamp(asked: asking.BriefRequest, file: Path | None) -> tuple[Stamp, bytes] | None:
    """The stamp of the study that a brief lies in, if the brief means that one."""
    if file is None or not is_study(file.parent):
        return None
    study = open_study(file.parent)
    if study.stamp is None or study.brief.stamp.name != asked.stamp:
        return None
    return study.stamp, study.picture_bytes()
