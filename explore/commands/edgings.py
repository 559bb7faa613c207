"""`stampwork edgings`: other edgings for a chosen piece."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from explore.commands.shared import SQUARE_NUMBER, ReplaceFiles, StudyFolder
from explore.ending import opens
from explore.exits import Outcome
from explore.terminal import note_each, say, say_each, status


@opens
def other_edgings(
    study: StudyFolder,
    number: Annotated[
        int, typer.Argument(metavar="NUMBER", help="A square, strip or frame of the study."), SQUARE_NUMBER
    ],
    apply: Annotated[
        str | None, typer.Option(metavar="EDGING", help="Make the piece with this edging, a new number of the study.")
    ] = None,
    out: Annotated[Path | None, typer.Option(help="The sheet's PNG. Default: edgings-NN.png in the study.")] = None,
    force: ReplaceFiles = False,
) -> Outcome:
    """Try every edging of the catalogue.

    Footsides, fans and scallops. A piece keeps its blocks; where fans need room it grows, as little as may be.

    \b
    Examples:
      stampwork edgings garden-society 7
      stampwork edgings garden-society 7 --apply "cloth fan 4"
    """
    from constraints.catalogue import edging_of
    from explore.editing.edgings.trying import Trying
    from explore.storage.free import Output

    trying = Trying(study, number)
    note_each(trying.study.notes)
    if apply is not None:
        say(trying.apply(apply))
        made = trying.study.next_number
        return Outcome(told={"made": [made]}, then=("show", study, made))
    picture = Output(out, force).picture(trying.study.folder / f"edgings-{trying.piece.number:02d}.png")
    with status() as told:
        told("edgings are tried")
        tried = trying.all()
    edgings = trying.table(tried)
    say_each(edgings.lines())
    trying.picture(tried, picture)
    say(f"sheet: {picture} (also .pdf)")
    own = edging_of(trying.piece)
    fitting = [wanted.called for wanted, offer in tried if offer is not None and wanted != own]
    then = ("edgings", study, number, "--apply", fitting[0]) if fitting else ("page", study, "--open")
    return Outcome(to_see=[picture], told={"edgings": edgings.rows}, then=then)
