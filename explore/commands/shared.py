"""What several commands share: options, and the end of a run that fills a study."""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NamedTuple

import typer

from explore import asking
from explore.asking.kinds import Whole
from explore.asking.names import Choice
from explore.asking.several import Wholes
from explore.bad_input import BadInput
from explore.exits import IMPOSSIBLE, NOTHING_FOUND, CommandEnd, Outcome
from explore.terminal import bar, note_each, say, say_each

if TYPE_CHECKING:
    from constraints.brief import Brief
    from constraints.design import Design
    from explore.mending.briefs import BriefDoor
    from explore.mending.trying import Door, MendOffer
    from explore.storage.request import StudyRequest
    from explore.storage.session import Session

# Papers of sheets, and those that the pillow takes.
LOOK, PAPER, LEAF = Choice(("drawing", "lace")), Choice(("a4", "a3", "screen")), Choice(("a4", "a3", "letter"))
SQUARE_NUMBER = Whole(1, 10**9 - 1, "the number of a square, such as 3")

Cores = Annotated[
    int | None,
    typer.Option(metavar="VALUE", help="How many cores work; what is found is the same on any number."),
    Whole(1, 1024),
]
Look = Annotated[str, typer.Option(metavar="VALUE", help=f"The sheet's look: {LOOK.allowed}."), LOOK]
Paper = Annotated[str, typer.Option(metavar="VALUE", help=f"Size of the sheet: {PAPER.allowed}."), PAPER]
BriefFile = Annotated[
    Path | None, typer.Option(help="A TOML file with the same keys, such as pairs = 30; options win.")
]
NoStamp = Annotated[bool, typer.Option("--no-stamp", help="Patterns from the rules alone.")]
StampName = Annotated[
    str | None,
    typer.Argument(metavar="STAMP", help=f"{asking.NAMED['stamp'].meaning} Default: {asking.BUILT_IN}."),
]
StampNames = Annotated[
    list[str] | None,
    typer.Argument(
        metavar="STAMP",
        help=f"{asking.NAMED['stamp'].meaning} Several lie in one piece. Default: {asking.BUILT_IN}.",
    ),
]
# What the papers for the pillow have in common.
StudyFolder = Annotated[Path, typer.Argument(metavar="STUDY", help="The study folder.")]
SquareNumbers = Annotated[list[int], typer.Argument(metavar="NUMBER...", help="Squares of the study."), SQUARE_NUMBER]
PapersFolder = Annotated[Path | None, typer.Option(help="Folder of the files. Default: papers in the study.")]
ReplaceFiles = Annotated[bool, typer.Option("--force", help="Replace files that are there.")]
ReplaceStudy = Annotated[bool, typer.Option("--force", help="Replace the study that is there.")]
StripNumber = Annotated[int, typer.Argument(metavar="NUMBER", help="A strip of the study."), SQUARE_NUMBER]
# How you work, told to all papers alike.
_OPEN = Choice(("closed", "open"))
FOOTSIDE, FINISH = Choice(("left", "right")), Choice(("knots", "plaits", "fringe", "sewings"))
Footside = Annotated[
    str, typer.Option(metavar="VALUE", help=f"Where the footside lies as it is worked: {FOOTSIDE.allowed}."), FOOTSIDE
]
Finish = Annotated[
    str,
    typer.Option(metavar="VALUE", help=f"On a last edge: {FINISH.allowed} (sewings join a strip to its beginning)."),
    FINISH,
]
Method = Annotated[
    str, typer.Option(metavar="VALUE", help="Pins of the ground: closed (CT pin CT) or open (TC pin TC)."), _OPEN
]
StartLine = Annotated[
    str,
    typer.Option(
        metavar="VALUE",
        help="Where a round begins: along the corner line (corner); horizontal, two pairs a pin above a row of the "
        "first quarter that cuts nothing if there is one; or as suits, along the corner line unless that cuts blocks.",
    ),
    Choice(("suits", "corner", "horizontal")),
]
CornerPins = Annotated[
    bool, typer.Option("--corner-pins", help="A pin at each corner, round which edge pair and passives turn.")
]
Seam = Annotated[
    str,
    typer.Option(
        metavar="VALUE",
        help="Where a block meets a corner line: closed, one row of pins on the line, or open, a row on either side.",
    ),
    _OPEN,
]
Gimp = Annotated[
    tuple[int, ...] | None,
    typer.Option(
        metavar="BLOCKS",
        help="Blocks that a gimp pair goes round, such as 2,5: their numbers in the order of work from that start.",
    ),
    Wholes(Whole(1, 9999)),
]
Turn = Annotated[
    float | None, typer.Option(help="Degrees clockwise to set the print upright, instead of the tilt found.")
]


def typed(flag: str, text: str | None) -> str | None:
    """Words as they were typed, also where the locale knows no more than plain letters. Raises BadInput."""
    if text is None or text.isascii() or not any(0xD800 <= ord(letter) <= 0xDFFF for letter in text):
        return text
    # Bytes that the locale cannot read come as halves of surrogate pairs (PEP 383); terminals send UTF-8.
    try:
        return os.fsencode(text).decode("utf-8")
    except UnicodeDecodeError:
        shown = "".join("?" if 0xD800 <= ord(letter) <= 0xDFFF else letter for letter in text)
        wrong = f'{flag} is "{shown}", whose ? are no letters in UTF-8'
        raise BadInput(f"{wrong}; type it on a terminal set to UTF-8") from None


class Papers(NamedTuple):
    """Papers to be made. name: of the study. each: every square with its files."""

    name: str
    each: list[tuple[Design, list[Path]]]

    @property
    def told(self) -> dict[str, object]:
        """For a program: the squares, and the files of each that are there."""
        made = [
            {"number": design.number, "files": [path for path in files if path.exists()]} for design, files in self.each
        ]
        return {"papers": made}


def papers_asked(
    study: Path, numbers: Sequence[int], out: Path | None, force: bool, endings: Mapping[str, Sequence[str]]
) -> Papers:
    """The papers of chosen squares, what is amiss in the study noted. endings: of the files of each kind of paper,
    such as {"work": [".txt", ".pdf"]}. Raises BadInput."""
    from constraints.check import check
    from explore.storage.free import Output
    from explore.storage.study import open_study

    opened = open_study(study)
    designs = [opened.numbered(number) for number in dict.fromkeys(numbers)]
    for design in designs:
        if findings := check(design):
            line = f"{study} {design.number:02d} fails the check, so it cannot be worked: {findings[0]}"
            raise BadInput(line, "fails-check", number=design.number)
    kinds = [f"{kind}{ending}" for kind, ends in endings.items() for ending in ends]
    names = [[f"{design.number:02d}-{kind}" for kind in kinds] for design in designs]
    folder = Output(out, force).within(opened.folder / "papers", (name for each in names for name in each))
    files = [[folder / name for name in each] for each in names]
    note_each(opened.notes)
    return Papers(opened.name, list(zip(designs, files, strict=True)))


def finish_study(request: StudyRequest, session: Session, look: str, paper: str, cores: int | None = None) -> Outcome:
    """Draw the sheets, list the squares, and say what is missing. Raises CommandEnd if nothing was found."""
    from explore.storage.listing import shortfall, single_prints, small_print, table
    from explore.storage.sheets import write_sheets

    missing = shortfall(session, request.count)
    if session.study is None or not session.found:
        raise CommandEnd(NOTHING_FOUND, missing)
    with bar() as show:
        show("the squares are drawn", 0, 1)
        sheets = write_sheets(session.study, look, paper, cores)
    squares = table(session.study.designs, session.study.stamps)
    say_each(squares.lines())
    pages = [sheet for sheet in sheets if sheet.suffix == sheets[0].suffix]
    to_last = f" to {pages[-1].name}" if len(pages) > 1 else ""
    say(f"{session.found} found with seed {request.brief.run.seed}; sheet: {pages[0]}{to_last} (also .pdf and .svg)")
    begun = () if request.study else session.study.notes
    single = single_prints(session.study.designs, request.brief, request.stamps)
    note_each((*begun, small_print(session.study.designs), single, missing and f"{missing}; --more goes on from here"))
    told = {
        "study": session.study.folder,
        "found": session.found,
        "wanted": request.count,
        "seed": request.brief.run.seed,
        "squares": squares.rows,
    }
    sheet = pages[0] if len(pages) == 1 else pages[0].with_suffix(".pdf")
    return Outcome(to_see=[sheet], study=session.study.folder, told=told, then=("page", session.study.folder, "--open"))


def refused_brief(
    status: int, why: str, brief: Brief, near: Sequence[Brief], door: BriefDoor, code: str = ""
) -> CommandEnd:
    """The end of a command whose brief gave nothing, with what mends it. near: as `changes` takes them. code: what is
    proven."""
    from explore.mending.changes import offers

    return refused(status, why, offers(brief, near, status == IMPOSSIBLE, door.flags.get("width", "")), door, code)


def refused(status: int, why: str, offers: Iterable[MendOffer], door: Door, code: str = "") -> CommandEnd:
    """The end of a command that gave nothing, with what mends it: changes run through its door."""
    from explore.mending.trying import tried

    with bar() as show:
        found = tried(offers, door, lambda done, most: show("changes of the command", done, most))
    return CommandEnd(status, f"{why}; {found.sentence()}", {"mends": found.mends}, code)
