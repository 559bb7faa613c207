"""The corners and turnovers of one strip, in lines and on a sheet."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from constraints.mirrors import through_pinholes
from explore.comparing import numbered, whole_number
from explore.keeping.study import Study, open_study
from explore.mirroring.offers import CornerOffer, Mirrored, TurnoverOffer
from explore.refused import Refused
from gallery.paper import page
from gallery.sheets.mirror import Piece, sheet


@dataclass(frozen=True, eq=False)
class Listing:
    """What is to be listed. picture: the sheet's PNG."""

    study: Study
    mirrored: Mirrored
    picture: Path

    @property
    def steps(self) -> int:
        return 2 * self.mirrored.form.rows

    def run(self, watch: Callable[[int, int], None]) -> Listed:
        """Work out all corners, then the turnovers with the best of them. watch: told steps done and in all."""
        done = 0

        def step() -> None:
            nonlocal done
            done += 1
            watch(done, self.steps)

        corners = self.mirrored.corners(step)
        turnovers = self.mirrored.turnovers(corners[0].corner, step) if corners else []
        return Listed(self, tuple(corners), tuple(turnovers))


@dataclass(frozen=True, eq=False)
class Listed:
    """corners, turnovers: in the order of their numbers."""

    listing: Listing
    corners: tuple[CornerOffer, ...]
    turnovers: tuple[TurnoverOffer, ...]

    def lines(self) -> list[str]:
        """A table of the corners, and one of the turnovers."""
        pairs = self.corners[0].shown.pairs
        found = [f"corners, {pairs} pairs each", "number  row  from there  changed  splits"]
        for number, offer in enumerate(self.corners, 1):
            way = "up" if offer.corner.up else "down"
            found.append(
                f"{number:<6}  {offer.corner.row:<3}  {way:<10}  {_changed(offer):<7}  {offer.shown.splits}"
            )
        found += [f"turnovers, {pairs} pairs each", "number  row  changed  splits"]
        found += [
            f"{number:<6}  {offer.row:<3}  {_changed(offer):<7}  {offer.shown.splits}"
            for number, offer in enumerate(self.turnovers, 1)
        ]
        return found

    def notes(self) -> list[str]:
        """What the study says, and the rows that are listed apart."""
        rows = ", ".join(map(str, through_pinholes(self.listing.mirrored.form)))
        apart = f"a corner line from row {rows} would run through pinholes: a pair added and left out at each corner"
        offers: list[CornerOffer | TurnoverOffer] = [*self.corners, *self.turnovers]
        unproven = [offer for offer in offers if offer.changed and not offer.fewest]
        most = ["<12 stands for 12 or perhaps fewer: the effort ended before it was proven"] if unproven else []
        return [*self.listing.study.notes, apart, *most]


def _changed(offer: CornerOffer | TurnoverOffer) -> str:
    """How many pinholes change: "12", or "<12" where fewer might do."""
    return f"{'' if offer.fewest or not offer.changed else '<'}{offer.changed}"


def listed(folder: Path, number: str, out: Path | None, force: bool, cores: int | None) -> Listing:
    """What is to be listed of a strip. Raises Refused."""
    study = open_study(folder)
    strip = numbered(study, whole_number("NUMBER", number))
    picture = out or study.folder / f"mirror-{strip.number:02d}.png"
    if picture.exists() and not force:
        raise Refused(f"{picture} is there already: --force replaces it, --out names another file")
    return Listing(study, Mirrored(strip, study.brief, cores), picture)


def write_sheet(done: Listed) -> Path:
    """Write the sheet as PNG and PDF; the PNG's path. Raises OSError."""
    corners = [
        Piece(f"corner {number}", f"{offer.changed} changed", offer.shown, True)
        for number, offer in enumerate(done.corners, 1)
    ]
    turnovers = [
        Piece(f"turnover {number}", f"{offer.changed} changed", offer.shown, False)
        for number, offer in enumerate(done.turnovers, 1)
    ]
    strip = done.listing.mirrored.strip
    pages = sheet(f"Strip {strip.number} and the mirror", [*corners, *turnovers])
    picture = done.listing.picture
    for number, figure in enumerate(pages, 1):
        name = picture if number == 1 else picture.with_stem(f"{picture.stem}-{number}")
        page.write([figure], name)
    page.write(pages, picture.with_suffix(".pdf"))
    return picture
