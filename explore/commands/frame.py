"""`stampwork frame`: a frame from a strip, with the corner and the turnover that you choose, or a mat round it."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from constraints.symmetry import SYMMETRIES
from explore.asking.keys import PITCHES_MM
from explore.asking.kinds import LENGTH, Number, Whole
from explore.asking.names import Choice
from explore.asking.several import Twice
from explore.bad_input import BadInput
from explore.commands.shared import Cores, StripNumber, StudyFolder, refused
from explore.ending import opens
from explore.exits import BAD_INPUT, IMPOSSIBLE, NOTHING_FOUND, CommandEnd, Outcome
from explore.terminal import bar, note, note_each, say, say_each

if TYPE_CHECKING:
    from explore.editing.mirroring.door import Framing
    from explore.editing.mirroring.filling import FilledMat
    from explore.editing.mirroring.making import Framed

_PITCH = Number(*PITCHES_MM, "a length from 0.5 to 100 mm, such as 4.5mm", LENGTH)


@opens
def frame_strip(
    study: StudyFolder,
    number: StripNumber,
    corner: Annotated[
        int, typer.Option(metavar="VALUE", help="The corner, as `mirror` numbers it."), Whole(1, 400)
    ] = 1,
    turnover: Annotated[
        tuple[int, int],
        typer.Option(metavar="VALUE", help="The turnover, as `mirror` numbers those after such corners: 2, or 2x3."),
        Twice(Whole(1, 999)),
    ] = (1, 1),
    repeats: Annotated[
        tuple[int, int] | None,
        typer.Option(
            metavar="VALUE",
            help="Repeats from corner to turnover: 2, or 2x3 across and down. Default: the fewest at which corners and "
            "turnovers do not meet, and with --fill the middle has room.",
        ),
        Twice(Whole(0, 999)),
    ] = None,
    pitch: Annotated[
        float | None,
        typer.Option(metavar="VALUE", help=f"Pitch of the frame: {_PITCH.allowed}. Default: the strip's."),
        _PITCH,
    ] = None,
    fill: Annotated[
        str | None,
        typer.Option(metavar="centre", help="Fill the middle of a square frame: a mat worked round."),
        Choice(("centre",)),
    ] = None,
    count: Annotated[
        int | None,
        typer.Option(metavar="VALUE", help="With --fill: how many mats, 1 to 24. Default: 6."),
        Whole(1, 24),
    ] = None,
    symmetry: Annotated[
        str | None,
        typer.Option(metavar="VALUE", help="With --fill: the symmetry of the middle. Default: full."),
        Choice(tuple(SYMMETRIES)),
    ] = None,
    cores: Cores = None,
) -> Outcome:
    """Make a frame of a strip.

    Four corners alike, and in the middle of every side a turnover at which the strip meets its reverse. Where the
    mirror breaks a rule, the fewest pinholes are changed. The frame is a new number of the study.

    With --fill centre the search fills the middle of a square frame, in several ways to choose from: mats worked
    round, each a new number of the study. Ctrl-C ends the search and keeps what was found.

    \b
    Examples:
      stampwork frame edgings 3 --corner 2 --turnover 1x3 --repeats 2x3
      stampwork frame edgings 3 --repeats 2 --fill centre --count 4
    """
    for flag, given in (("--count", count), ("--symmetry", symmetry)):
        if given is not None and fill is None:
            raise BadInput(f"{flag} says how the middle is filled; it goes with --fill centre")

    from explore.editing.mirroring.door import Framing
    from explore.editing.mirroring.making import Frames, NoFrame, Parts

    frames, parts = Frames(study, number, pitch, cores), Parts(corner, turnover, repeats, fill is not None)
    note_each(frames.study.notes)
    door = Framing(frames, parts, (symmetry or "full") if fill else "", cores)
    try:
        made = frames.framed(parts)
    except NoFrame:
        raise refused(NOTHING_FOUND, "no such frame was found in the effort given", door.offers(), door) from None
    if fill is None:
        say(made.keep())
        return Outcome(told={"made": [made.study.next_number]}, then=("show", study, made.study.next_number))
    return _fill(made, count or 6, door, study)


def _fill(made: Framed, wanted: int, door: Framing, study: Path) -> Outcome:
    from explore.editing.mirroring.filling import write_sheet

    found, stopped = _filled(made, wanted, door)
    if not found:
        nothing = "no mat was found"
        raise CommandEnd(NOTHING_FOUND, nothing) if stopped else refused(NOTHING_FOUND, nothing, door.offers(), door)
    say_each(each.told for each in found)
    sheet = write_sheet(made, [each.mat for each in found])
    say(f"sheet: {sheet} (also .pdf)")
    if len(found) < wanted:
        note(f"{len(found)} found of {wanted}")
    numbers = [each.mat.number for each in found]
    return Outcome(to_see=[sheet], told={"made": numbers}, then=("pricking", study, numbers[0]))


def _filled(made: Framed, wanted: int, door: Framing) -> tuple[list[FilledMat], bool]:
    """The mats that were found, and whether Ctrl-C ended the search."""
    from explore.editing.mirroring.filling import fill
    from explore.search.search import Impossible

    found: list[FilledMat] = []
    try:
        with bar() as show:
            show("mats", 0, wanted)
            laying = partial(show, "the stamp is laid")
            for each in fill(made, wanted, door.symmetry, door.cores, laying):
                found.append(each)
                show("mats", len(found), wanted)
    except BadInput as error:
        raise refused(BAD_INPUT, str(error), door.offers(), door, error.code) from None
    except Impossible as error:
        raise refused(IMPOSSIBLE, str(error), door.offers(), door, error.code) from None
    except KeyboardInterrupt:
        note("stopped; what was found is kept")
        return found, True
    return found, False
