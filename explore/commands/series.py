"""`stampwork series`: squares for an exhibition that belong together and are not the same."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from explore.asking.kinds import Whole
from explore.asking.names import Choice
from explore.bad_input import BadInput
from explore.commands.shared import PAPER, Cores, mends_of, typed, value
from explore.editing.series import FEWEST, MOST
from explore.exits import BAD_INPUT, DONE, NOTHING_FOUND, CommandEnd
from explore.lines import one_line
from explore.terminal import note, progress, say

if TYPE_CHECKING:
    from constraints.design import Design

_SHARE = Choice(("stamp", "border", "centre", "trail"))
_ORDER = Choice(("pairs", "density", "symmetry", "filling"))


def series(
    study: Annotated[Path, typer.Argument(metavar="STUDY", help="The study to choose from.")],
    numbers: Annotated[list[str], typer.Argument(metavar="NUMBER...", help="Her squares; all hang in the series.")],
    squares: Annotated[
        str, typer.Option(metavar="VALUE", help=f"How many squares, {FEWEST} to {MOST}, hers included.")
    ] = "9",
    share: Annotated[str, typer.Option(metavar="VALUE", help=f"What makes them a family: {_SHARE.allowed}.")] = "stamp",
    order: Annotated[
        str,
        typer.Option(metavar="VALUE", help=f"What changes along the wall: {_ORDER.allowed}."),
    ] = "density",
    title: Annotated[str | None, typer.Option(help="Title of the series. Default: the stamp's name.")] = None,
    titles: Annotated[
        Path | None, typer.Option(help="A file with a title for each square: one a line, or TOML with titles.")
    ] = None,
    out: Annotated[
        Path | None, typer.Option(help="The folder. Default: called after the study, such as tulip-series.")
    ] = None,
    force: Annotated[bool, typer.Option("--force", help="Replace the study that is there.")] = False,
    paper: Annotated[str, typer.Option(metavar="VALUE", help=f"Size of the exhibition sheet: {PAPER.allowed}.")] = "a3",
    cores: Cores = None,
) -> int:
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
    from explore.editing.series import family, keeping, making, mends, pool, telling
    from explore.storage.study import open_study

    count, workers = value("--squares", squares, Whole(FEWEST, MOST)), value("--cores", cores, Whole(1, 1024))
    value("--share", share, _SHARE), value("--order", order, _ORDER), value("--paper", paper, PAPER)
    source = open_study(study)
    chosen = picked(source.designs, numbers, study)
    if len(chosen) > count:
        more = f"--squares {len(chosen)} takes them all" if len(chosen) <= MOST else f"at most {MOST} hang in one"
        raise CommandEnd(BAD_INPUT, f"{len(chosen)} squares are chosen for a series of {count}; {more}")
    family.refuse_forms(chosen)
    making.refuse_doubles(chosen)
    folder = out or keeping.default_folder(source)
    keeping.refuse_unless_allowed(folder, source, force)
    named = telling.titles(titles, count)
    for line in source.notes:
        note(line)
    door = mends.Hanging(source, chosen, share, order, count, workers)
    try:
        asked = door.asked({})
    except BadInput as error:
        raise CommandEnd(BAD_INPUT, str(error) + mends_of(door.offers(), door)) from None
    try:
        with progress(pool.wanted(asked)) as (watch, _):
            made = making.make(asked, workers, watch)
    except making.TooFew as few:
        door.found[share, order] = few.found
        line = f"{few.found} of {count} different squares with one {share} found in the effort given"
        raise CommandEnd(NOTHING_FOUND, line + mends_of(door.offers(), door)) from None
    heading = one_line(typed("--title", title) or "") or telling.default_title(source.brief.stamp.name)
    keeping.write(folder, source, made, heading, named, paper, force)
    for line in telling.lines(made, named):
        say(line)
    say(f"exhibition sheet: {folder / keeping.PICTURES[0]} (also .pdf and .svg); labels.pdf, catalogue.pdf beside it")
    return DONE


def picked(there: Sequence[Design], numbers: Sequence[str], study: Path) -> list[Design]:
    """The squares of those numbers, each once, in the order given. Raises BadInput."""
    by_number = {design.number: design for design in there}
    wanted = [value("NUMBER", number, Whole(1, 10**9)) for number in numbers]
    for number in wanted:
        if number not in by_number:
            near = min(by_number, key=lambda other: (abs(other - number), other), default=None)
            nearest = f"; the nearest is {near}" if near is not None else ", nor any other"
            raise CommandEnd(BAD_INPUT, f"{study} holds no sound square {number}{nearest}")
    return [by_number[number] for number in dict.fromkeys(wanted)]
