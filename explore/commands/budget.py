"""`stampwork budget`: what fits so many pairs."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from explore.asking.keys import MOST_PAIRS
from explore.asking.kinds import Whole
from explore.asking.several import WholeSpan
from explore.commands.shared import BriefFile, Cores, Look, NoStamp, Paper, StampNames, Turn, refused_brief
from explore.editing.budget import FEWEST
from explore.ending import opens
from explore.exits import IMPOSSIBLE, NOTHING_FOUND, CommandEnd, Outcome
from explore.options import FIRST, takes_a_brief
from explore.terminal import bar, note_each, say, say_each

if TYPE_CHECKING:
    from explore.editing.budget.asked import SurveyRequest
    from explore.editing.budget.survey import Survey

_PAIRS, _EVERY = WholeSpan(2, MOST_PAIRS), Whole(1, MOST_PAIRS)


@opens
@takes_a_brief()
def budget(
    stamps: StampNames = None,
    pairs: Annotated[
        tuple[int, int] | None,
        typer.Option(
            metavar="VALUE",
            help=f"The budgets: {_PAIRS.allowed}. Default: from {FEWEST} to the pairs of the brief, or of 30.",
            rich_help_panel=FIRST,
        ),
        _PAIRS,
    ] = None,
    every: Annotated[
        int | None,
        typer.Option(
            metavar="VALUE",
            help="A row for every so many pairs. Default: what gives ten rows at the most.",
            rich_help_panel=FIRST,
        ),
        _EVERY,
    ] = None,
    brief: BriefFile = None,
    no_stamp: NoStamp = False,
    turn: Turn = None,
    out: Annotated[
        Path | None,
        typer.Option(help="The folder. Default: called after the stamp, such as tulip-budget, with a number if taken."),
    ] = None,
    force: Annotated[bool, typer.Option("--force", help="Replace what is there.")] = False,
    look: Look = "drawing",
    paper: Paper = "a4",
    cores: Cores = None,
    **flags: str,
) -> Outcome:
    """See what fits a budget of pairs.

    For every budget the sizes and pitches, how surely the print of a stamp can be known, the fillings
    that find room, and a few squares, or strips, frames or rectangles.

    \b
    Examples:
      stampwork budget beetle.jpg --pairs 16-48
      stampwork budget beetle.jpg --form strip --pairs 12-28

    Writes a plot (budget.png, .svg, .pdf), a sheet with a row for each of some budgets (sheet.png, .svg,
    .pdf), all figures (budget.json) and the designs, as a study. A budget reaches the best over all
    sizes that it affords. Ctrl-C keeps and draws what is worked out.
    """
    from explore.editing.budget import writing
    from explore.editing.budget.asked import asked_for
    from explore.editing.budget.words import table, unfinished
    from explore.storage import request
    from explore.storage.free import Output

    given = {**flags, **request.stamp_flag(stamps or [], no_stamp)}
    asked = asked_for(brief, given, pairs, turn, Output(out, force))
    done = _surveyed(asked, every, cores)
    numbers, reasons = writing.write(done, asked.folder, asked.pictures, force, (look, paper), cores)
    what_fits = table(done, numbers, reasons)
    say_each(what_fits.lines())
    count, seed = sum(map(len, numbers.values())), done.brief.run.seed
    designs = f"{done.brief.piece.form}{'' if count == 1 else 's'}"
    plot, sheet = asked.folder / writing.PLOT[0], asked.folder / "sheet.png"
    say(f"{count} {designs} with seed {seed}; plot: {plot}, sheet: {sheet}")
    note_each([unfinished(done)])
    told = {"study": asked.folder, "seed": seed, "budgets": what_fits.rows}
    return Outcome(to_see=[plot, sheet], study=asked.folder, told=told, then=("page", asked.folder, "--open"))


def _surveyed(asked: SurveyRequest, every: int | None, cores: int | None) -> Survey:
    """The survey, if some of its rows have designs."""
    from explore.editing.budget.reasons import reason
    from explore.editing.budget.sizes import rows
    from explore.editing.budget.survey import survey
    from explore.search.sizing import SIZING

    too_few = SIZING[asked.brief.piece.form].conflict(asked.brief)
    if too_few:
        raise refused_brief(IMPOSSIBLE, too_few, asked.brief, (), asked.door, "impossible-size")
    note_each(asked.notes)
    with bar() as show:
        done = survey(asked.brief, asked.stamps, asked.budgets, rows(asked.budgets, every), cores, show)
    if not done.rows:
        raise CommandEnd(NOTHING_FOUND, "stopped before a budget was worked out")
    if not any(done.shown(row) for row in done.rows):
        why, near = reason(done, done.rows[-1])
        raise refused_brief(NOTHING_FOUND, why, asked.brief, near, asked.door)
    return done
