"""How a stamp falls on the grid, at each size and turn: a table and a sheet."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from constraints.brief import Brief
from constraints.forms import USUAL
from constraints.piece import ACROSS, ROUND
from constraints.stamp import Stamp
from explore.lines import Row, RowTable
from explore.search.laying.bolder import bolder
from explore.search.laying.falls import Fall, lost_below
from gallery.seeing.knowing import KNOWN_AS

if TYPE_CHECKING:
    from gallery.sheets.ribbon import Ribbon, RibbonPanel

FILES = ("grid.png", "grid.svg", "grid.pdf")


_TOLD: dict[str, Callable[[Row], str]] = {
    "size": lambda row: f"{row['size_pitches']:g} pitches",
    "turn": lambda row: f"{row['turn_degrees']:g}",
    "the print is": lambda row: row["known"],
    "splits": lambda row: str(row["splits"]),
    "round": lambda row: f"from {row['pairs_round']} pairs",
    "across": lambda row: f"from {row['pairs_across']} pairs",
    "": lambda row: "<- suggested" if row["suggested"] else "",
}


def table(found: Sequence[Fall], choice: Fall | None) -> RowTable:
    """A row for each size and turn of a stamp, the suggestion marked."""
    turned = len({fall.turn for fall in found}) > 1
    rows = [
        {
            "size_pitches": fall.size,
            "turn_degrees": fall.turn,
            "known": KNOWN_AS[fall.seen.known],
            "splits": fall.design.splits,
            "pairs_round": fall.pairs_worked(ROUND),
            "pairs_across": fall.pairs_worked(ACROSS),
            "suggested": fall is choice,
        }
        for fall in found
    ]
    return RowTable({head: tell for head, tell in _TOLD.items() if turned or head != "turn"}, rows)


def notes(stamp: Stamp, brief: Brief) -> list[str]:
    """What she should know of how the print was read and is looked at."""
    read = [f"{stamp.name}: {note}" for note in stamp.notes]
    form = brief.piece.form
    if form != USUAL:
        read.append(f"it is looked at on squares: pairs are those of the smallest that holds it, a {form} takes others")
    return read


def losses(stamp: Stamp, brief: Brief, found: Sequence[Fall], choice: Fall | None) -> list[str]:
    """What of a stamp is lost at some of the sizes, in words, one line a part; and what helps at the suggested size."""
    told, below = [], lost_below(found)
    for place, size in below.items():
        until = "at every size" if size == 0 else f"below {size:g} pitches"
        told.append(f"{until} a part {place} is lost: no block shows it")
    return told if choice is None else told + [_mended(choice, below, *each) for each in bolder(stamp, brief, choice)]


def _mended(at: Fall, below: Mapping[str, float], place: str, share: float) -> str:
    """What helps a part that is lost at a size, in words. below: as `lost_below` tells it. share: by how much bolder,
    of the print's longer side."""
    bold = f"{share:.0%} of the print bolder all round"
    # What no size shows is shown nowhere else.
    too = "" if below.get(place) == 0 else " too"
    return f"the part {place} is shown at {at.size:g} pitches{too} if you carve it {bold}"


def write(folder: Path, stamp: Stamp, found: Sequence[Fall], choice: Fall | None) -> Path:
    """Draw how a stamp falls on the grid, the suggestion ringed; the picture written."""
    from gallery.paper import page
    from gallery.sheets.ribbon import ribbons

    note = "the stamp alone, blocked at each size; pairs are those of the smallest square that holds it"
    figure = ribbons(ribbons_of(found, choice), title=f"{stamp.name} on the grid", note=note, stamp=stamp)
    folder.mkdir(parents=True, exist_ok=True)
    for name in FILES:
        page.write([figure], folder / name)
    return folder / FILES[0]


def in_order(found: Sequence[Fall]) -> list[Fall]:
    """The order in which they are drawn: turn by turn, those without splits first."""
    turns = list(dict.fromkeys(fall.turn for fall in found))
    return sorted(found, key=lambda fall: (turns.index(fall.turn), fall.design.splits > 0, fall.size))


def ribbons_of(found: Sequence[Fall], choice: Fall | None) -> list[Ribbon]:
    """What is drawn of a stamp, the suggestion ringed."""
    from gallery.sheets.ribbon import Ribbon

    turned = len({fall.turn for fall in found}) > 1
    every: dict[str, dict[float, RibbonPanel]] = {}
    for fall in in_order(found):
        turn = [f"turned {fall.turn:g}\N{DEGREE SIGN}"] if turned else []
        name = ", ".join([*turn, "with splits of its own blocks" if fall.design.splits else "without splits"])
        every.setdefault(name, {})[fall.size] = _panel(fall, fall is choice)
    return [Ribbon(name, panels) for name, panels in every.items()]


def _panel(fall: Fall, ringed: bool) -> RibbonPanel:
    from gallery.sheets.ribbon import RibbonPanel

    splits = fall.design.splits
    words = [KNOWN_AS[fall.seen.known]]
    if splits:
        words.append(f"{splits} split{'' if splits == 1 else 's'}")
    words += [f"{way}: from {fall.pairs_worked(way)} pairs" for way in (ROUND, ACROSS)]
    return RibbonPanel(f"{fall.size:g} pitches", words, fall.design, fall.shape, fall.plain.kept, fall.lost, ringed)
