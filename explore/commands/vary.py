"""`stampwork vary`: squares like a chosen one, or the small steps away from it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from explore.asking import NAMED
from explore.asking.kinds import written
from explore.commands.shared import SQUARE_NUMBER, Cores, Look, Paper, mends_of
from explore.editing.varying import CHANGE, USUAL_CHANGE, about
from explore.exits import BAD_INPUT, DONE, IMPOSSIBLE, NOTHING_FOUND, CommandEnd
from explore.terminal import bar, note, progress, say

if TYPE_CHECKING:
    from explore.editing.varying.setting import VaryingContext
    from explore.editing.varying.studio import Studio
    from explore.storage.session import Session
    from explore.storage.study import Study


def vary(
    study: Annotated[Path, typer.Argument(metavar="STUDY", help="The study that holds the square.")],
    number: Annotated[int, typer.Argument(metavar="NUMBER", help="The number of the square."), SQUARE_NUMBER],
    keep: Annotated[
        list[str] | None,
        typer.Option(
            metavar="VALUE",
            help="What stays pinhole for pinhole: centre, corner, blocks, fillings, edge, or a box x0,y0:x1,y1 in "
            "units (half pitches) from the centre; may be given again. Default: the print of the stamp alone.",
        ),
    ] = None,
    change: Annotated[
        tuple[float, float] | None,
        typer.Option(
            metavar="VALUE",
            help=f"Share of all pinholes that change: {CHANGE.allowed}; one share allows a fifth more or less. "
            f"Default: {written(CHANGE, USUAL_CHANGE)}.",
        ),
        CHANGE,
    ] = None,
    count: Annotated[
        int | None, typer.Option(metavar="VALUE", help="How many squares to find. Default: 24."), NAMED["count"].kind
    ] = None,
    steps: Annotated[
        bool, typer.Option("--steps", help="Every small step instead: one block or one field changed, and told.")
    ] = False,
    seed: Annotated[
        int | None,
        typer.Option(metavar="VALUE", help="Another seed gives other cousins. Default: the study's."),
        NAMED["seed"].kind,
    ] = None,
    effort: Annotated[
        float | None,
        typer.Option(metavar="VALUE", help="How long to try: 2 is twice as long as usual."),
        NAMED["effort"].kind,
    ] = None,
    out: Annotated[
        Path | None,
        typer.Option(help="The folder. Default: beside the study, such as garden-society-07-cousins."),
    ] = None,
    force: Annotated[bool, typer.Option("--force", help="Replace the study that is there.")] = False,
    look: Look = "drawing",
    paper: Paper = "a4",
    cores: Cores = None,
) -> int:
    """See more squares like a chosen one.

    Its cousins keep a part of it and change in a share of the rest; the small steps change one thing at a time.

    \b
    Examples:
      stampwork vary garden-society 7 --keep centre --change 5-25%
      stampwork vary garden-society 7 --steps

    Writes a study of its own whose square 1 is the chosen one. The print of the stamp always stays where it
    lies. Ctrl-C keeps what was found.
    """
    from explore.asking.designs import brief_of
    from explore.editing.varying import asked, kept
    from explore.editing.varying.door import Varying
    from explore.editing.varying.studio import Studio
    from explore.search.search import Impossible
    from explore.storage.study import open_study

    if steps and (change is not None or count is not None):
        given = "--change" if change is not None else "--count"
        raise CommandEnd(BAD_INPUT, f"--steps lists every small step; {given} cannot be given with it")
    source = open_study(study)
    for line in source.notes:
        note(line)
    design = asked.chosen(source, number)
    own = brief_of(design, source.brief)
    brief = own.changed(
        seed=own.run.seed if seed is None else seed, effort=own.run.effort if effort is None else effort
    )
    share = about(change or USUAL_CHANGE)
    setting = Studio(design, brief, source.stamp, kept.kept(design, keep or []), share)
    folder = asked.folder_of(source, design.number, "steps" if steps else "cousins", out, force)
    told: dict[str, Any] = {"keep": list(keep or [])}
    door = Varying(design, brief, source.stamp, keep or [], share, steps, cores)
    try:
        if steps:
            return _steps(source, setting, folder, force, told, (look, paper), cores)
        told["change"] = [round(end, 6) for end in share]
        return _cousins(source, setting, folder, force, told, count or 24, (look, paper), cores)
    except Impossible as error:
        raise CommandEnd(IMPOSSIBLE, str(error) + mends_of(door.offers(), door)) from None
    except _Nothing as nothing:
        raise CommandEnd(NOTHING_FOUND, str(nothing) + mends_of(door.offers(), door)) from None


class _Nothing(Exception):
    """Nothing was found in the effort given; the message says what and why."""


def _cousins(
    source: Study,
    setting: Studio,
    folder: Path,
    force: bool,
    told: dict[str, Any],
    wanted: int,
    drawn: tuple[str, str],
    cores: int | None,
) -> int:
    from explore.editing.varying import asked
    from explore.editing.varying.cousins import cousins
    from explore.storage import session
    from explore.storage.request import StudyRequest

    design, brief = setting.design, setting.brief.changed(count=wanted)
    begin = asked.beginning(source, design, brief, folder, force, told)
    request = StudyRequest(brief, source.stamp, None, begin, wanted, ())
    with progress(wanted) as (watch, _):
        every = cousins(
            design, brief, source.stamp, setting.kept, setting.change, first_number=2, count=wanted, cores=cores
        )
        done = session.run(request, every, watch)
    found = max(0, done.found - 1)  # the chosen square is number 1
    missing = _missing(done, found, wanted)
    if done.study is None or not found:
        raise CommandEnd(NOTHING_FOUND, missing) if done.stopped else _Nothing(missing)
    _show(done.study, setting, [], drawn, cores)
    least, most = min(setting.change), max(setting.change)
    many = "1 cousin" if found == 1 else f"{found} cousins"
    say(f"{many} of {design.number:02d}, {_percent(least)} to {_percent(most)} of the pinholes changed")
    _tell_place(done.study)
    for line in (*done.study.notes, missing):
        if line:
            note(line)
    return DONE


def _missing(done: Session, found: int, wanted: int) -> str:
    """What a run found too few of and why, on one line; "" if it found all."""
    if found >= wanted:
        return ""
    if done.stopped:
        return f"stopped at {found} of {wanted} squares"
    amount = f"{found} of {wanted} squares" if found else "nothing"
    reasons = [f"{times} {reason}" for reason, times in done.reasons if reason][:3]
    why = f": {', '.join(reasons)}" if reasons else ""
    return f"{amount} found in the effort given ({done.jobs} jobs{why})"


def _steps(
    source: Study,
    setting: VaryingContext,
    folder: Path,
    force: bool,
    told: dict[str, Any],
    drawn: tuple[str, str],
    cores: int | None,
) -> int:
    from explore.editing.varying import asked
    from explore.editing.varying.steps import SmallStep, steps
    from explore.editing.varying.telling import told_apart

    found: list[SmallStep] = []
    stopped = False
    with bar() as show:
        try:
            for done, step in enumerate(steps(setting), 1):
                found.append(step)
                show("steps tried", done, done)
        except KeyboardInterrupt:
            stopped = True
    valid = [(step.words, step.design) for step in told_apart(setting, found) if step.design is not None]
    left_out = _left_out([step.reason for step in found if step.design is None])
    if not valid:
        nothing = f"no small step from {setting.design.number:02d} stays valid{'; ' if left_out else ''}{left_out}"
        raise CommandEnd(NOTHING_FOUND, nothing) if stopped else _Nothing(nothing)
    words = [each for each, _ in valid]
    begin: Callable[[], Study] = asked.beginning(
        source, setting.design, setting.brief, folder, force, {**told, "steps": words}
    )
    made = begin()
    for number, (_, design) in enumerate(valid, 2):
        made = made.keep(design.numbered(number), -1)
    _show(made, setting, words, drawn, cores)
    for number, each in enumerate(words, 2):
        say(f"{number:02d}  {each}")
    _tell_place(made)
    for line in (*made.notes, left_out, "stopped before all steps were tried" if stopped else ""):
        if line:
            note(line)
    return DONE


def _left_out(reasons: list[str]) -> str:
    """How many steps cannot stay valid and why, on one line; "" if all can."""
    if not reasons:
        return ""
    counted = sorted({reason: reasons.count(reason) for reason in reasons}.items(), key=lambda each: (-each[1], each))
    many = "1 step is" if len(reasons) == 1 else f"{len(reasons)} steps are"
    return f"{many} left out: {', '.join(f'{times} {reason}' for reason, times in counted)}"


def _show(study: Study, setting: VaryingContext, words: list[str], drawn: tuple[str, str], cores: int | None) -> None:
    from explore.editing.varying.sheets import write_sheets

    write_sheets(study, setting, words, *drawn, cores)


def _tell_place(study: Study) -> None:
    say(f"study: {study.folder}; sheet: {study.folder / 'sheet.png'} (also .pdf and .svg)")


def _percent(share: float) -> str:
    return f"{100 * share:g}%"
