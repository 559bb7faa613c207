"""A study of cousins or of small steps made, and what is told of it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from explore.editing.varying.cousins import cousins
from explore.editing.varying.steps import SmallStep, steps
from explore.editing.varying.studio import Studio
from explore.editing.varying.telling import told_apart
from explore.search.accepting import JobResult
from explore.search.workers import Hands
from explore.storage import session
from explore.storage.listing import figures, shortfall
from explore.storage.request import StudyRequest
from explore.storage.study import Study, create


class NothingVaried(Exception):
    """Nothing was found; the message says what and why. stopped: she did not wait for it."""

    def __init__(self, message: str, stopped: bool) -> None:
        super().__init__(message)
        self.stopped = stopped


@dataclass(frozen=True)
class Varied:
    """study: the new one. words: what each step changed; of cousins none. lines: what is told of all of them. notes:
    what else she should know; "" for nothing."""

    study: Study
    words: Sequence[str]
    lines: Sequence[str]
    notes: Sequence[str]


@dataclass(frozen=True)
class Variation:
    """A variation that is asked for. source: the study of the chosen square. keep: what stays, as she wrote it. folder:
    of the new study."""

    source: Study
    studio: Studio
    keep: Sequence[str]
    folder: Path
    force: bool

    def begin(self, told: Mapping[str, Any]) -> Study:
        """The new study: the chosen square is its number 1. told: what its made_by says beside."""
        source, design = self.source, self.studio.design
        made_by = {"command": "vary", "study": source.name, "number": design.number, "keep": list(self.keep), **told}
        made = create(self.folder, self.studio.brief, source.stamps, source.picture_bytes(), self.force, made_by)
        # The numbers of jobs that have been done begin after those of none.
        return made.keep(design.numbered(1), -1)


def make_cousins(asked: Variation, cores: Hands, watch: Callable[[JobResult], None]) -> Varied:
    """As many cousins as the brief wants. Ctrl-C keeps what was found. Raises Impossible, NothingVaried."""
    studio = asked.studio
    design, brief, stamps, wanted = studio.design, studio.brief, asked.source.stamps, studio.brief.run.count
    told = {"change": [round(end, 6) for end in studio.change]}
    request = StudyRequest(brief, stamps, None, lambda: asked.begin(told), wanted, ())
    every = cousins(design, brief, stamps, studio.kept, studio.change, first_number=2, count=wanted, cores=cores)
    done = session.run(request, every, watch)
    missing = shortfall(done, wanted)
    if done.study is None or not done.found:
        raise NothingVaried(missing, done.stopped)
    many = "1 cousin" if done.found == 1 else f"{done.found} cousins"
    least, most = (f"{100 * share:g}%" for share in studio.change)
    line = f"{many} of {design.number:02d}, {least} to {most} of the pinholes changed"
    return Varied(done.study, (), [line], [missing])


def make_steps(asked: Variation, watch: Callable[[str, int, int], None]) -> Varied:
    """Every small step that stays valid. Ctrl-C keeps what was found. Raises NothingVaried."""
    found: list[SmallStep] = []
    stopped = False
    try:
        for step in steps(asked.studio):
            found.append(step)
            watch("steps tried", len(found), len(found))
    except KeyboardInterrupt:
        stopped = True
    valid = [(step.words, step.design) for step in told_apart(asked.studio, found) if step.design is not None]
    left_out = _left_out([step.reason for step in found if step.design is None])
    if not valid:
        nothing = f"no small step from {asked.studio.design.number:02d} stays valid"
        raise NothingVaried("; ".join([nothing, *([left_out] if left_out else [])]), stopped)
    words = [each for each, _ in valid]
    made = asked.begin({"steps": words})
    for number, (_, design) in enumerate(valid, 2):
        made = made.keep(design.numbered(number), -1)
    lines = [f"{number:02d}  {each}" for number, each in enumerate(words, 2)]
    return Varied(made, words, lines, [left_out, "stopped before all steps were tried" if stopped else ""])


def told(made: Varied) -> dict[str, object]:
    """What was made, for a program: the study, its squares from the chosen one on, and what each step changed."""
    steps = dict(enumerate(made.words, 2))
    squares = [{**figures(design), "step": steps.get(design.number)} for design in made.study.designs]
    return {"study": made.study.folder, "squares": squares}


def _left_out(reasons: list[str]) -> str:
    """How many steps cannot stay valid and why, on one line; "" if all can."""
    if not reasons:
        return ""
    counted = sorted({reason: reasons.count(reason) for reason in reasons}.items(), key=lambda each: (-each[1], each))
    many = "1 step is" if len(reasons) == 1 else f"{len(reasons)} steps are"
    return f"{many} left out: {', '.join(f'{times} {reason}' for reason, times in counted)}"
