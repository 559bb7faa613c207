"""What one run of `explore` is to do: a new study from a stamp and a brief, or more for an old one."""

from __future__ import annotations

import difflib
import os
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from constraints.brief import Brief
from constraints.explain import width_difference
from constraints.stamp import Stamp
from explore import asking
from explore.asking.stamps import BETWEEN_STAMPS, stamp_name, stamp_names
from explore.bad_input import BadInput
from explore.files import content, in_quotes, unquoted
from explore.pictures import is_picture
from explore.reading import StampError, built_in, built_in_names, read
from explore.storage.free import Output
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
    stamps: tuple[Stamp, ...]
    study: Study | None
    begin: Callable[[], Study]
    count: int
    notes: tuple[str, ...]
    asked: tuple[Path | None, Mapping[str, str]] = (None, {})


def new(
    stamps: Sequence[str],
    file: Path | None,
    no_stamp: bool,
    turn: float | None,
    out: Path | None,
    force: bool,
    flags: Mapping[str, str],
) -> StudyRequest:
    """A new study. Raises BadInput; nothing is written before `begin`."""
    given = {**flags, **stamp_flag(stamps, no_stamp)}
    asked = asking.read(file, given)
    brief = asked.brief
    usual = default_folder([each.name for each in brief.stamps])
    folder, told = Output(out, force).study(usual, more=True)
    shapes, pictures = stamps_asked_for(asked, file, turn)
    more = f"; --more 12 of stampwork explore {usual} adds squares to it" if told and goes_on(usual) else ""
    notes = [
        *(f"{line}{more}" for line in told),
        *(f"{each.name}: {note}" for each in shapes for note in each.notes),
    ]
    difference = width_difference(brief)
    notes += [difference] if difference else []

    def begin() -> Study:
        return create(folder, brief, shapes, pictures, force)

    return StudyRequest(brief, shapes, None, begin, brief.run.count, tuple(notes), (file, given))


def continued(
    stamps: Sequence[str], out: Path | None, more: int, others: Sequence[str], taste: str = ""
) -> StudyRequest:
    """More squares for a study, by its own brief. Raises BadInput.

    stamps: the study, or stamps that it is called after. others: options given that cannot go with that. taste: that
    of these squares, in place of the study's, which its brief keeps; "" for the study's.
    """
    stamp = stamps[0] if stamps else None
    if others:
        raise StudyRequestError(
            f"--more goes on with the study's own brief; {', '.join(others)} cannot be given with it"
        )
    if out and stamp:
        raise StudyRequestError(f"--more takes one study; give {stamp} or --out {out}, not both")
    folder = out or (Path(stamp) if stamp and Path(stamp).is_dir() else None)
    folder = folder or _only_study(default_folder(stamp_names(stamps or [asking.BUILT_IN])))
    study = open_study(folder)
    if study.made_by:
        raise StudyRequestError(
            f"{folder} was made by {study.made_by['command']}, not by explore; --more cannot go on with it"
        )

    def begin() -> Study:
        return study

    brief = study.brief
    if taste:
        brief = brief.changed(taste=asking.read_option("--taste", taste, asking.NAMED["taste"].kind))
    return StudyRequest(brief, study.stamps, study, begin, more, study.notes)


def _only_study(usual: Path) -> Path:
    """The study of a stamp that is meant where none is named. Refused if there are several, which have numbers."""
    called = re.compile(re.escape(usual.name) + r"(-\d+)?")
    there = sorted(each.name for each in usual.parent.iterdir() if called.fullmatch(each.name) and goes_on(each))
    if len(there) > 1:
        raise StudyRequestError(f"there are {', '.join(there)}; name one of them, such as {there[-1]}")
    return usual


def default_folder(names: Sequence[str], what: str = "study") -> Path:
    """The folder in the current one that is called after stamps, such as tulip-study."""
    safe = re.sub(r"[^\w.-]+", "-", "-".join(names) or NO_STAMP).strip("-.") or "stamp"
    return Path(f"{safe}-{what}")


def stamp_flag(stamps: Sequence[str], no_stamp: bool) -> dict[str, str]:
    """The stamps as a flag for `asking.read`, from the first words of a command and --no-stamp.

    Raises StudyRequestError.
    """
    if no_stamp and stamps:
        raise StudyRequestError(f"STAMP is {stamps[0]} but --no-stamp is given too; leave one out")
    if "" in stamps:
        raise StudyRequestError("STAMP is empty; --no-stamp gives patterns without a stamp")
    if no_stamp:
        return {"stamp": ""}
    return {"stamp": BETWEEN_STAMPS.join(stamps)} if stamps else {}


def stamps_asked_for(
    asked: asking.BriefRequest, file: Path | None, turn: float | None
) -> tuple[tuple[Stamp, ...], list[bytes]]:
    """The stamps asked for and the contents of their pictures. Raises BadInput."""
    if not asked.stamps and turn is not None:
        raise StudyRequestError("--turn sets a print upright, but there is no stamp")
    if len(asked.stamps) > 1 and turn is not None:
        raise StudyRequestError(f"--turn sets one print upright, not {len(asked.stamps)}; turn their pictures")
    kept = _kept_stamps(asked, file)
    if kept and turn is not None:
        raise StudyRequestError("--turn sets a print upright, but the stamp of a study is so already")
    if not kept:
        _refuse_unquoted(asked.stamps)
    names = [each.name for each in asked.brief.stamps]
    found = kept or [_read(reference, name, turn) for reference, name in zip(asked.stamps, names, strict=True)]
    return tuple(stamp for stamp, _ in found), [picture for _, picture in found]


def one_stamp(asked: asking.BriefRequest, turn: float | None) -> Stamp:
    """The one stamp asked for. Raises BadInput, also if none is."""
    found, _ = stamps_asked_for(asked, None, turn)
    if not found:
        raise StudyRequestError("STAMP is empty; give a picture of a print or a built-in stamp")
    (stamp,) = found
    return stamp


def _read(reference: str, name: str, turn: float | None) -> tuple[Stamp, bytes]:
    path = Path(reference)
    if is_study(path):
        mend = "--more 12 adds squares to it" if goes_on(path) else "give the print that it shows"
        raise StudyRequestError(f"{path} is a study; {mend}")
    try:
        if not path.is_file() and (reference in built_in_names() or _is_bare_name(reference)):
            path = built_in(reference)
        return replace(read(path, turn), name=name), content(path)
    except StampError as error:
        near = "" if path.exists() else _nearest_picture(path)
        raise StudyRequestError(f"{error}{near}", "stamp", stamp=reference) from None


def _nearest_picture(path: Path) -> str:
    """The picture beside a file, which there is not, that is called much like it, in words; "" if there is none."""
    beside = path.parent
    if not (beside.is_dir() and os.access(beside, os.R_OK | os.X_OK)):
        return ""
    pictures = {each.name: each for each in sorted(beside.iterdir()) if is_picture(each.name) and each.is_file()}
    near = difflib.get_close_matches(path.name, pictures, n=1, cutoff=0.7)
    return f"; did you mean {pictures[near[0]]}?" if near else ""


def _refuse_unquoted(references: Sequence[str]) -> None:
    """Refused if stamps that follow each other, and are not all there, are the words of one file's name."""
    if whole := unquoted(references, built_in_names()):
        raise StudyRequestError(in_quotes(whole), "stamp", stamp=whole)


def _is_bare_name(reference: str) -> bool:
    """Whether a stamp that is no file was rather meant as a built-in one: no folder, no suffix."""
    return not Path(reference).exists() and Path(reference).name == stamp_name(reference)


def _kept_stamps(asked: asking.BriefRequest, file: Path | None) -> list[tuple[Stamp, bytes]]:
    """The stamps of the study that a brief lies in, if the brief means those."""
    if file is None or any(Path(each).is_file() for each in asked.stamps) or not is_study(file.parent):
        return []
    study = open_study(file.parent)
    if [each.name for each in study.brief.stamps] != list(asked.stamps):
        return []
    return list(zip(study.stamps, study.picture_bytes(), strict=True))
