"""`stampwork stamp`: how a stamp falls on the grid."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from constraints.brief import HARDLY
from constraints.forms import USUAL
from constraints.piece import ROUND
from explore import asking
from explore.asking.keys import Key
from explore.commands.shared import Cores, StampName, Turn, refused
from explore.ending import opens
from explore.exits import NOTHING_FOUND, Outcome
from explore.options import option_words, takes_a_brief
from explore.terminal import bar, note_each, say, say_each

if TYPE_CHECKING:
    from constraints.brief import Brief
    from explore.search.laying.falls import Fall

_OF_THE_STAMP_ALONE = (
    "passives", "narrowest", "widest", "narrowest_ground", "margin", "splits", "stamp_size", "turns", "effort"
)  # fmt: skip


def _lays(key: Key) -> bool:
    return key.name in _OF_THE_STAMP_ALONE


@opens
@takes_a_brief(_lays)
def fall_of_stamp(
    stamp: StampName = None,
    turn: Turn = None,
    out: Annotated[
        Path | None,
        typer.Option(
            help="Folder of the sheet. Default: called after the stamp, such as tulip-stamp, with a number if taken."
        ),
    ] = None,
    force: Annotated[bool, typer.Option("--force", help="Replace the sheet that is there.")] = False,
    cores: Cores = None,
    **flags: str,
) -> Outcome:
    """See how a stamp falls on the grid.

    Blocks the stamp alone at each sensible size, without splits of its blocks and with them, says how surely an eye
    knows it, and suggests the smallest size at which it is known.

    \b
    Example:
      stampwork stamp beetle.jpg

    Writes a sheet of all of them (grid.png, grid.svg, grid.pdf).
    """
    from explore.mending.searching import Falling
    from explore.papers import falls as papers
    from explore.search.laying.falls import EFFORT, falls, suggested
    from explore.storage import request
    from explore.storage.free import Output

    given = flags if stamp is None else {**flags, "stamp": stamp}
    asked = asking.read(None, given)
    shape = request.one_stamp(asked, turn)
    folder, told = Output(out, force).files(request.default_folder([shape.name], "stamp"), papers.FILES)
    note_each((*told, *papers.notes(shape, asked.brief)))
    with bar() as show:
        watch = partial(show, "sizes at which the print is looked at")
        found = list(falls(shape, asked.brief, cores, watch))
    if not found:
        door = Falling(None, given, shape, cores)
        nothing = f"{shape.name}: nothing of it is shown at any size in the effort given"
        raise refused(NOTHING_FOUND, nothing, door.offers(asked.brief), door)
    choice = suggested(found)
    picture = papers.write(folder, shape, found, choice)
    sizes, lost = papers.table(found, choice), papers.losses(shape, asked.brief, found, choice)
    say_each((*sizes.lines(), *lost))
    say(f"each the best found in {EFFORT * asked.brief.run.effort:g} units of deterministic time; sheet: {picture}")
    then = _explored(stamp, turn, flags, choice or _least_known(found), asked.brief)
    return Outcome(to_see=[picture], told={"sizes": sizes.rows, "lost": lost}, then=then)


def _least_known(found: Sequence[Fall]) -> Fall | None:
    """The smallest size at which the print is hardly known; None if at none."""
    return min((each for each in found if each.seen.known == HARDLY), key=lambda each: each.size, default=None)


def _explored(
    stamp: str | None, turn: float | None, flags: Mapping[str, str], choice: Fall | None, brief: Brief
) -> tuple[object, ...]:
    """The words that find squares for the stamp by the same keys, with pairs enough for the size to take, of a
    square, and where the print is but hardly known at it, in squares of such; none if there is no size to take."""
    if choice is None:
        return ()
    turned = () if turn is None else ("--turn", f"{turn:g}")
    # Sizes of the print that are named to look at are no wish for the squares.
    keys = {name: text for name, text in flags.items() if name != "stamp_size"}
    if choice.seen.known == HARDLY:
        keys["known"] = HARDLY
    if brief.piece.form == USUAL and choice.pairs_worked(ROUND) > brief.rules.pairs:
        keys["pairs"] = str(choice.pairs_worked(ROUND))
    return ("explore", stamp or asking.BUILT_IN, *turned, *option_words(keys))
