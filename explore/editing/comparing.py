"""Two squares of studies compared: what is told of them, and the page that shows it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from constraints.design import Design
from constraints.difference import comparable, difference
from constraints.differing import Differences, PinholeChange, differences
from constraints.layout import lay
from constraints.pins import pins
from constraints.seams import seams_of
from constraints.wording import measure, shown
from explore.bad_input import BadInput
from explore.lines import columns
from explore.storage.free import refuse_files
from explore.storage.study import Study, open_study

ENDINGS = (".png", ".svg", ".pdf")


@dataclass(frozen=True)
class Pair:
    """Two squares to compare. names: what they are called; their numbers, with the study if there are two."""

    studies: tuple[Study, Study]
    names: tuple[str, str]
    found: Differences


def pair(folder: Path, first: int, second: int, other: Path | None) -> Pair:
    """The squares of those numbers, the second from the other study if there is one. Raises BadInput."""
    study = open_study(folder)
    beside = study if other is None else open_study(other)
    if other is None and first == second:
        raise BadInput(f"{first} and {second} are one square; give two numbers, or --with another study")
    designs = study.numbered(first), beside.numbered(second)
    names = (f"{first:02d}", f"{second:02d}")
    if other is not None:
        names = (f"{study.folder.name} {names[0]}", f"{beside.folder.name} {names[1]}")
    if not comparable(*designs):
        said = [f"{name} is a {each.form.name} of {measure(each)}" for name, each in zip(names, designs, strict=True)]
        raise BadInput(
            f"{', '.join(said)}: squares are compared with squares, strips with strips of the same repeat, others with "
            "pieces of the same outline"
        )
    return Pair((study, beside), names, differences(*designs))


# --- in words -------------------------------------------------------------------------------------------


def compared(pair: Pair) -> list[tuple[str, str, str]]:
    """What holds for each of the two, a heading first in every row."""
    first, second = pair.found.first, pair.found.second
    one_side = first.form.one_side and second.form.one_side
    return [(head, tell(first), tell(second)) for head, tell in _FIGURES.items() if head != "height" or not one_side]


def _stitches(design: Design) -> str:
    from gallery.sheets.captions import stitches_used

    return ", ".join(stitches_used(design)) or "-"


_FIGURES = {
    "pairs": lambda design: str(design.pairs),
    "width": lambda design: f"{shown(design.width_mm)} mm",
    "height": lambda design: f"{shown(design.height_mm)} mm",
    "pitch": lambda design: f"{shown(design.pitch_mm)} mm",
    "pins": lambda design: str(pins(design)),
    "match": lambda design: f"{design.stamp.match:.2f}" if design.stamp else "-",
    "splits": lambda design: str(design.splits),
    "seams": lambda design: str(seams_of(lay(design)).number),
    "in blocks": lambda design: f"{100 * lay(design).solid:.1f}%",
    "stitches": _stitches,
}


def changes(pair: Pair) -> list[tuple[PinholeChange, str, int]]:
    """The ways in which pinholes differ that occur, each with its words and how many."""
    first, second = pair.names
    words = {
        PinholeChange.GAINED: f"block in {second} only",
        PinholeChange.LOST: f"block in {first} only",
        PinholeChange.FILLING: "other filling of the ground",
        PinholeChange.ALIKE: "alike, in another stitch or with other legs",
    }
    found = [(change, told, pair.found.count(change)) for change, told in words.items()]
    return [each for each in found if each[2]]


def amount(pair: Pair, count: int) -> str:
    """Such as "120 pinholes, 7.4%"."""
    return f"{count} pinhole{'' if count == 1 else 's'}, {100 * count / len(pair.found.change):.1f}%"


def lie(pair: Pair) -> str:
    """How the second lies on the first, and which pinholes were compared."""
    found, second = pair.found, pair.names[1]
    words = f"{second} {found.turn}"
    if found.first.half_size != found.second.half_size and found.first.form.repeating:
        words += f"; {len(found.change)} pinholes of the shorter one compared"
    elif found.first.half_size != found.second.half_size:
        words += f"; half-sizes {found.first.half_size} and {found.second.half_size}: compared centre on centre"
        words += f" on the {len(found.change)} pinholes of the smaller"
    if found.first.worked != found.second.worked:
        words += f"; worked {found.first.worked} and {found.second.worked}"
    return words


def report(pair: Pair) -> list[str]:
    """The comparison in plain lines."""
    lines = [*columns([("", *pair.names), *compared(pair)]), lie(pair)]
    if not changes(pair):
        return [*lines, "the same, pinhole for pinhole"]
    told = [(words, amount(pair, count)) for _, words, count in changes(pair)]
    told.append(("differ in all", amount(pair, pair.found.differing)))
    if pair.found.first.form.repeating:
        moved = difference(pair.found.first, pair.found.second)
        told.append(("differ, moved along and turned over to lie closest", f"{100 * moved:.1f}%"))
    return [*lines, *columns(told)]


# --- the page -------------------------------------------------------------------------------------------


def page_files(pair: Pair, out: Path | None, force: bool) -> list[Path]:
    """Where the page goes: the study of the first, or `out`. Refused if a file is there and not to be replaced."""
    folder = pair.studies[0].folder if out is None else out
    first, second = (design.number for design in (pair.found.first, pair.found.second))
    other = "" if pair.studies[0] is pair.studies[1] else f"{pair.studies[1].folder.name}-"
    names = [f"compare-{first:02d}-{other}{second:02d}{ending}" for ending in ENDINGS]
    refuse_files(folder, names, force, "page")
    return [folder / name for name in names]


def write_page(pair: Pair, files: Sequence[Path], look: str, paper: str) -> None:
    """Draw both squares and where they differ. Raises OSError."""
    from gallery.paper import page
    from gallery.sheets.captions import facts
    from gallery.sheets.differences import DifferenceLine, draw

    rows = [row for row in compared(pair)[:-1] if row[1] != row[2]]  # the stitches stand in the captions
    legend = [DifferenceLine(change, words, amount(pair, count)) for change, words, count in changes(pair)]
    if pair.found.solid.any():
        legend.append(
            DifferenceLine(PinholeChange.SAME, "block in both, same stitch", amount(pair, int(pair.found.solid.sum())))
        )
    figure = draw(
        pair.found,
        title=_title(pair),
        note=f"{100 * pair.found.share:.1f}% of the pinholes differ; {lie(pair)}",
        names=pair.names,
        captions=(facts(pair.found.first), facts(pair.found.second)),
        legend=legend,
        told=rows,
        look=look,
        paper=paper,
    )
    files[0].parent.mkdir(parents=True, exist_ok=True)
    for path in files:
        page.write([figure], path)


def _title(pair: Pair) -> str:
    words = f"{pair.names[0]} and {pair.names[1]}"
    # Two squares of one study are called by their numbers alone.
    return f"{pair.studies[0].name}: {words}" if pair.studies[0] is pair.studies[1] else words
