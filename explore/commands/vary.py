"""`stampwork vary`: pieces like a chosen one, or the small steps away from it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from explore.asking import NAMED
from explore.asking.kinds import written
from explore.commands.shared import SQUARE_NUMBER, Cores, Look, Paper, ReplaceStudy, refused
from explore.editing.varying import CHANGE, USUAL_CHANGE, about
from explore.ending import opens
from explore.exits import BAD_INPUT, IMPOSSIBLE, NOTHING_FOUND, CommandEnd, Outcome
from explore.terminal import bar, note_each, progress, say, say_each

if TYPE_CHECKING:
    from explore.editing.varying.door import Varying
    from explore.editing.varying.making import Variation, Varied


@opens
def vary(
    study: Annotated[Path, typer.Argument(metavar="STUDY", help="The study that holds the square.")],
    number: Annotated[int, typer.Argument(metavar="NUMBER", help="The number of the square."), SQUARE_NUMBER],
    keep: Annotated[
        list[str] | None,
        typer.Option(
            metavar="VALUE",
            help="What stays pinhole for pinhole: centre (of a frame or strip the middle of its width), corner, "
            "blocks, fillings, edge, or a box x0,y0:x1,y1 in units (half pitches) from the centre, of a strip from its "
            "first column and row; may be given again. Default: the print of the stamp alone.",
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
        typer.Option(
            help="The folder. Default: beside the study, such as garden-society-07-cousins, with a number if taken."
        ),
    ] = None,
    force: ReplaceStudy = False,
    look: Look = "drawing",
    paper: Paper = "a4",
    cores: Cores = None,
) -> Outcome:
    """See more pieces like a chosen one.

    Its cousins keep a part of it and change in a share of the rest; the small steps change one thing at a time.

    \b
    Examples:
      stampwork vary garden-society 7 --keep centre --change 5-25%
      stampwork vary garden-society 7 --steps

    Writes a study of its own whose square 1 is the chosen one. The print of the stamp always stays where it
    lies. Ctrl-C keeps what was found.
    """
    from explore.editing.varying import asked, making
    from explore.editing.varying.door import Varying
    from explore.editing.varying.kept import kept
    from explore.editing.varying.sheets import write_sheets
    from explore.editing.varying.studio import Studio
    from explore.storage.study import open_study

    if steps and (change is not None or count is not None):
        given = "--change" if change is not None else "--count"
        raise CommandEnd(BAD_INPUT, f"--steps lists every small step; {given} cannot be given with it")
    source = open_study(study)
    design, keep, share = asked.chosen(source, number), keep or [], about(change or USUAL_CHANGE)
    brief = asked.brief_for(source, design, None if steps else count or 24, seed, effort)
    studio = Studio(design, brief, source.stamps, kept(design, keep), share)
    folder, told = asked.folder_of(source, design.number, "steps" if steps else "cousins", out, force)
    note_each((*source.notes, *told))
    door = Varying(design, brief, source.stamps, keep, share, steps, cores)
    made = _made(making.Variation(source, studio, keep, folder, force), door)
    write_sheets(made.study, studio, made.words, look, paper, cores)
    say_each(made.lines)
    sheet = made.study.folder / "sheet.png"
    say(f"study: {made.study.folder}; sheet: {sheet} (also .pdf and .svg)")
    note_each((*made.study.notes, *made.notes))
    return Outcome(
        to_see=[sheet], study=made.study.folder, told=making.told(made), then=("page", made.study.folder, "--open")
    )


def _made(wanted: Variation, door: Varying) -> Varied:
    from explore.editing.varying import making
    from explore.search.search import Impossible

    try:
        if door.steps:
            with bar() as show:
                return making.make_steps(wanted, show)
        with progress(door.brief.run.count) as (watch, _):
            return making.make_cousins(wanted, door.cores, watch)
    except Impossible as error:
        raise refused(IMPOSSIBLE, str(error), door.offers(), door, error.code) from None
    except making.NothingVaried as nothing:
        if nothing.stopped:
            raise CommandEnd(NOTHING_FOUND, str(nothing)) from None
        raise refused(NOTHING_FOUND, str(nothing), door.offers(), door) from None
