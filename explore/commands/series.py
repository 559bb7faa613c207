"""`stampwork series`: squares for an exhibition that belong together and are not the same."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from explore.asking.kinds import Whole
from explore.asking.names import Choice
from explore.bad_input import BadInput
from explore.commands.shared import PAPER, SQUARE_NUMBER, Cores, ReplaceStudy, refused, typed
from explore.editing.series import FEWEST, MOST
from explore.ending import opens
from explore.exits import BAD_INPUT, NOTHING_FOUND, Outcome
from explore.lines import one_line
from explore.terminal import note, note_each, progress, say, say_each

if TYPE_CHECKING:
    from explore.editing.series.making import Series
    from explore.editing.series.mends import Hanging
    from explore.storage.study import Study

_SHARE = Choice(("stamp", "border", "centre", "trail"))
_ORDER = Choice(("pairs", "density", "symmetry", "filling", "named"))


@opens
def series(
    study: Annotated[Path, typer.Argument(metavar="STUDY", help="The study to choose from.")],
    numbers: Annotated[
        list[int] | None,
        typer.Argument(metavar="NUMBER...", help="Your squares; all hang in the series. Default: your first pick."),
        SQUARE_NUMBER,
    ] = None,
    squares: Annotated[
        int,
        typer.Option(metavar="VALUE", help=f"How many squares, {FEWEST} to {MOST}, yours included."),
        Whole(FEWEST, MOST),
    ] = 9,
    share: Annotated[
        str, typer.Option(metavar="VALUE", help=f"What makes them a family: {_SHARE.allowed}."), _SHARE
    ] = "stamp",
    order: Annotated[
        str, typer.Option(metavar="VALUE", help=f"What changes along the wall: {_ORDER.allowed}."), _ORDER
    ] = "density",
    title: Annotated[str | None, typer.Option(help="Title of the series. Default: the stamp's name.")] = None,
    titles: Annotated[
        Path | None, typer.Option(help="A file with a title for each square: one a line, or TOML with titles.")
    ] = None,
    out: Annotated[
        Path | None,
        typer.Option(help="The folder. Default: called after the study, such as tulip-series, with a number if taken."),
    ] = None,
    force: ReplaceStudy = False,
    paper: Annotated[
        str, typer.Option(metavar="VALUE", help=f"Size of the exhibition sheet: {PAPER.allowed}."), PAPER
    ] = "a3",
    cores: Cores = None,
) -> Outcome:
    """Make a series for an exhibition.

    Squares that share what makes them a family and are as different as they can be in the rest.

    \b
    Examples:
      stampwork series garden-society 7 --title "Garden at Dusk"
      stampwork series garden-society 7 --share trail --order symmetry

    Writes a study with the squares in their order along the wall, an exhibition sheet, a label for each square
    (labels.pdf, to print at 100 %) and a catalogue (catalogue.pdf). series.json says what they share and how
    much they differ.
    """
    from explore.editing.series import keeping, making, mends, telling
    from explore.storage.free import Output
    from explore.storage.study import open_study

    source = open_study(study)
    chosen = making.chosen(source, numbers or [_first_pick(source, study)], squares)
    folder, told = keeping.folder_of(source, Output(out, force))
    named = telling.titles(titles, squares)
    note_each((*source.notes, *told))
    door = mends.Hanging(source, chosen, share, order, squares, cores)
    made = _made(door)
    heading = one_line(typed("--title", title) or "") or telling.default_title(source.brief.called)
    keeping.write(folder, source, made, heading, named, paper, force)
    wall = telling.table(made, named)
    say_each(telling.lines(made, wall))
    sheet = folder / keeping.PICTURES[0]
    say(f"exhibition sheet: {sheet} (also .pdf and .svg); labels.pdf, catalogue.pdf beside it")
    return Outcome(
        to_see=[sheet],
        study=folder,
        told={"study": folder, **telling.told(made, wall)},
        then=("page", folder, "--open"),
    )


def _first_pick(source: Study, folder: Path) -> int:
    """The first of her picks that is there. Refused if she has none. folder: as she named it."""
    from explore.storage.picks import read_picks

    for number in read_picks(source.folder, source.name).numbers:
        if not source.lacks(number):
            note(f"the series is made round {number:02d}, your first pick")
            return number
    some = f", such as {source.designs[0].number}" if source.designs else ""
    raise BadInput(f"{folder} has no picks: name a square to make the series round by its number{some}")


def _made(door: Hanging) -> Series:
    from explore.editing.series import making, pool

    try:
        asked = door.asked({})
    except BadInput as error:
        raise refused(BAD_INPUT, str(error), door.offers(), door, error.code) from None
    try:
        with progress(pool.wanted(asked)) as (watch, _):
            return making.make(asked, door.cores, watch)
    except making.TooFew as few:
        door.found[door.share, door.order] = few.found
        nothing = f"{few} with one {door.share} found in the effort given"
        raise refused(NOTHING_FOUND, nothing, door.offers(), door) from None
