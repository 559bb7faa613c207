"""`stampwork budget`: what fits so many pairs."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from explore import asking
from explore.asking.keys import MOST_PAIRS
from explore.asking.kinds import Whole
from explore.asking.several import WholeSpan
from explore.commands.shared import BriefFile, Cores, Look, NoStamp, Paper, StampName, Turn, refused_brief
from explore.ending import opens
from explore.exits import IMPOSSIBLE, NOTHING_FOUND, CommandEnd, Outcome
from explore.options import FIRST, of_squares, takes_a_brief
from explore.terminal import bar, note, say

# Where a range begins if none is named; it ends with the pairs of the brief.
_FEWEST = 16
_PAIRS, _EVERY = WholeSpan(2, MOST_PAIRS), Whole(1, MOST_PAIRS)


@opens
@takes_a_brief(of_squares)
def budget(
    stamp: StampName = None,
    pairs: Annotated[
        tuple[int, int] | None,
        typer.Option(
            metavar="VALUE",
            help=f"The budgets: {_PAIRS.allowed}. Default: from {_FEWEST} to the pairs of the brief, or of 30.",
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
    that find room, and a few squares.

    \b
    Example:
      stampwork budget beetle.jpg --pairs 16-48

    Writes a plot (budget.png, .svg, .pdf), a sheet with a row for each of some budgets (sheet.png, .svg,
    .pdf), all figures (budget.json) and the squares, as a study. A budget reaches the best over all
    half-sizes that it affords. Ctrl-C keeps and draws what is worked out.
    """
    from constraints.explain import size_conflict
    from explore.editing.budget import writing
    from explore.editing.budget.door import Budgeting
    from explore.editing.budget.reasons import reason
    from explore.editing.budget.sizes import rows
    from explore.editing.budget.survey import survey
    from explore.editing.budget.words import table
    from explore.editing.plain import ONE_WAY, refuse_unless_plain
    from explore.storage import request
    from explore.storage.free import Output

    given = {**flags, **request.stamp_flag([stamp] if stamp is not None else [], no_stamp)}
    if pairs is not None:
        given["pairs"] = str(pairs[1])
    asked = asking.read(brief, given, ONE_WAY)
    most = asked.brief.rules.pairs
    budgets = pairs or (min(_FEWEST, most), most)
    usual = request.default_folder([each.name for each in asked.brief.stamps], "budget")
    folder, told = Output(out, force).study(usual)
    refuse_unless_plain("budget", asked.brief.piece, symmetries=True)
    shapes, pictures = request.stamps_asked_for(asked, brief, turn)
    shape, picture = (shapes[0], pictures[0]) if shapes else (None, b"")
    door = Budgeting(brief, given, shape)
    too_few = size_conflict(asked.brief)
    if too_few:
        raise refused_brief(IMPOSSIBLE, too_few, asked.brief, (), door, "impossible-size")
    for line in told:
        note(line)
    for line in shape.notes if shape else ():
        note(f"{asked.brief.stamp.name}: {line}")
    with bar() as show:
        done = survey(asked.brief, shape, budgets, rows(budgets, every), cores, show)
    if not done.rows:
        raise CommandEnd(NOTHING_FOUND, "stopped before a budget was worked out")
    if not any(done.shown(row) for row in done.rows):
        why, near = reason(done, done.rows[-1])
        raise refused_brief(NOTHING_FOUND, why, asked.brief, near, door)
    numbers, reasons = writing.write(done, folder, picture, force, (look, paper), cores)
    what_fits = table(done, numbers, reasons)
    for line in what_fits.lines():
        say(line)
    count, plot = sum(map(len, numbers.values())), folder / writing.PLOT[0]
    say(f"{count} squares with seed {done.brief.run.seed}; plot: {plot}, sheet: {folder / 'sheet.png'}")
    if done.left:
        note(f"stopped before {done.left[0].pairs} pairs (half-size {done.left[0].half_size}) were worked out")
    elif done.unasked:
        note(f"stopped before it was worked out whether there is room for {', '.join(done.unasked)}")
    rowed = {"study": folder, "seed": done.brief.run.seed, "budgets": what_fits.rows}
    return Outcome(to_see=[plot, folder / "sheet.png"], told=rowed, then=("page", folder, "--open"))
