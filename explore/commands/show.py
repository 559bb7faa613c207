"""`stampwork show`: one square large."""

from __future__ import annotations

from typing import Annotated

import typer

from explore.asking.kinds import LENGTH, Number
from explore.asking.names import Choice, Colouring, ThreadColour
from explore.commands.going_on import after_papers
from explore.commands.shared import PapersFolder, ReplaceFiles, SquareNumbers, StudyFolder, papers_asked
from explore.ending import opens
from explore.exits import Outcome
from explore.terminal import say

_LOOK = Choice(("drawing", "lace", "both"))
_SIZE = Number(30.0, 1000.0, "a length from 30 to 1000 mm, such as 180mm", LENGTH, "mm")


@opens
def show_large(
    study: StudyFolder,
    numbers: SquareNumbers,
    look: Annotated[str, typer.Option(metavar="VALUE", help=f"The look: {_LOOK.allowed}."), _LOOK] = "both",
    size: Annotated[
        float, typer.Option(metavar="VALUE", help=f"Longer side of the picture: {_SIZE.allowed}."), _SIZE
    ] = 180.0,
    colour: Annotated[
        list[ThreadColour] | None,
        typer.Option(
            metavar="THREAD=COLOUR", help="Colour a thread of the lace look, such as 7a=crimson; may be given again."
        ),
        Colouring(),
    ] = None,
    plain: Annotated[bool, typer.Option("--plain", help="Nothing written below the square.")] = False,
    out: PapersFolder = None,
    force: ReplaceFiles = False,
) -> Outcome:
    """Show a square large.

    For a wall or a catalogue: as a PNG, as an SVG for vector editors and as a PDF. With a thread coloured, the
    lace look draws every thread on its own course, over and under the others as it is worked.

    \b
    Example:
      stampwork show garden-society 7 --look lace --size 240mm --colour 7a=crimson

    Writes 07-lace.png, .svg and .pdf, and the same as 07-drawing.
    """
    from explore.papers import showing

    looks = ("drawing", "lace") if look == "both" else (look,)
    endings = (".png", ".pdf", ".svg")
    asked = papers_asked(study, numbers, out, force, dict.fromkeys(looks, endings))
    for design, _ in asked.each:
        showing.check_colours(design, colour or [])
    for design, files in asked.each:
        for number, name in enumerate(looks):
            paths = files[len(endings) * number :][: len(endings)]
            showing.write(design, name, size, plain, colour or [], paths)
            say(f"{design.number:02d} in the look {name}: {paths[0]} (also .pdf and .svg)")
    pictures = [path for _, files in asked.each for path in files if path.suffix == endings[0]]
    return Outcome(to_see=pictures, told=asked.told, then=after_papers("show", study, asked, out, {}))
