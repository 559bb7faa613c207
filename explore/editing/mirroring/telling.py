"""The corners and turnovers of one strip, in lines and on a sheet."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from constraints.mirrors import through_pinholes
from explore.editing.mirroring.offers import CornerOffer, Mirrored, Offers, TurnoverOffer, onwards
from explore.editing.mirroring.where import Count
from explore.lines import Row, RowTable
from explore.storage.free import Output
from explore.storage.study import Study, open_study
from gallery.paper import page
from gallery.sheets.mirror import MirrorPanel, sheet

_TURNOVERS: dict[str, Callable[[Row], str]] = {
    "number": lambda row: str(row["number"]),
    "row": lambda row: str(row["row"]),
    "changed": lambda row: Count(row["changed"], row["changed_at_least"]).told,
    "splits": lambda row: str(row["splits"]),
}
_CORNERS = {
    "number": _TURNOVERS["number"],
    "row": _TURNOVERS["row"],
    "from there": lambda row: row["from_there"],
    "changed": _TURNOVERS["changed"],
    "splits": _TURNOVERS["splits"],
}


def _row(number: int, row: int, offer: CornerOffer | TurnoverOffer) -> Row:
    pairs, splits = offer.shown.pairs, offer.shown.splits
    count = {"changed": offer.changed.changed, "changed_at_least": offer.changed.least}
    return {"number": number, "row": row, **count, "splits": splits, "pairs": pairs}


@dataclass(frozen=True, eq=False)
class Listing:
    """What is to be listed. picture: the sheet's PNG."""

    study: Study
    mirrored: Mirrored
    picture: Path

    @property
    def steps(self) -> int:
        return self.mirrored.steps

    def run(self, watch: Callable[[int, int], None]) -> Listed:
        """Work out all corners and turnovers. watch: told steps done and in all."""
        done = 0

        def step(place: object, offer: object) -> None:
            nonlocal done
            done += 1
            watch(done, self.steps)

        return Listed(self, self.mirrored.offers(step))


@dataclass(frozen=True, eq=False)
class Listed:
    """offers: in the order of their numbers."""

    listing: Listing
    offers: Offers

    def lines(self) -> list[str]:
        """A table of the corners, and one each of the turnovers after corners from which the side goes down and up."""
        each = f"{self.offers.corners[0].shown.pairs} pairs each"
        down, up = (f"turnovers of sides that go {way} from their corners" for way in ("down", "up"))
        titles = {"corners": "corners", "turnovers_down": down, "turnovers_up": up}
        found = []
        for name, table in self.tables().items():
            if table.rows:
                found += [f"{titles[name]}, {each}", *table.lines()]
        return found

    def tables(self) -> dict[str, RowTable]:
        """The corners, and the turnovers after those from which the side goes down and up."""
        corners = [
            {**_row(number, each.corner.row, each), "from_there": onwards(each.corner)}
            for number, each in enumerate(self.offers.corners, 1)
        ]
        ways = {"turnovers_down": self.offers.down, "turnovers_up": self.offers.up}
        turned = {
            name: RowTable(_TURNOVERS, [_row(number, each.row, each) for number, each in enumerate(offers, 1)])
            for name, offers in ways.items()
        }
        return {"corners": RowTable(_CORNERS, corners), **turned}

    def notes(self) -> list[str]:
        """What the study says, the rows that are listed apart, and what a count says for which no proof was found."""
        rows = ", ".join(map(str, through_pinholes(self.listing.mirrored.form)))
        apart = f"a corner line from row {rows} would run through pinholes: a pair added and left out at each corner"
        counts = [each.changed for each in self.offers.corners]
        counts += [each.changed for each in (*self.offers.down, *self.offers.up)]
        unproven = [each for each in counts if not each.proven]
        return [*self.listing.study.notes, apart, *(_unproven(each) for each in unproven[:1])]


def _unproven(count: Count) -> str:
    return (
        f"{count.told} says that it can be worked with {count.changed} pinholes changed and cannot with fewer than "
        f"{count.least}; the effort ended before more was proven"
    )


def listed(folder: Path, number: int, out: Path | None, force: bool, cores: int | None) -> Listing:
    """What is to be listed of a strip. Raises BadInput."""
    study = open_study(folder)
    strip = study.numbered(number)
    picture = Output(out, force).picture(study.folder / f"mirror-{strip.number:02d}.png")
    return Listing(study, Mirrored(strip, study.brief, cores), picture)


def write_sheet(done: Listed) -> Path:
    """Write the sheet as PNG and PDF; the PNG's path. Raises OSError."""
    offers = done.offers
    pieces = [
        MirrorPanel(f"corner {number}", f"{each.changed.told} changed", each.shown, True)
        for number, each in enumerate(offers.corners, 1)
    ]
    pieces += [
        MirrorPanel(f"turnover {number} {way}", f"{each.changed.told} changed", each.shown, False)
        for way, turnovers in (("down", offers.down), ("up", offers.up))
        for number, each in enumerate(turnovers, 1)
    ]
    strip = done.listing.mirrored.strip
    pages = sheet(f"Strip {strip.number} and the mirror", pieces)
    picture = done.listing.picture
    page.write_pages(pages, picture)
    return picture
