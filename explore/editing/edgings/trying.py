"""Every edging of the catalogue tried on one piece, its sheet, and the one she chose, kept."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from constraints.catalogue import CATALOGUE, Edged, Edging, offers
from constraints.check import check
from constraints.piece import ROUND
from constraints.wording import measures
from explore.asking.names import nearest
from explore.bad_input import BadInput
from explore.lines import Row, RowTable
from explore.storage.study import Study, open_study, square_path
from gallery.paper import page
from gallery.sheets import sheet

_TOLD: dict[str, Callable[[Row], str]] = {
    "edging": lambda row: row["edging"],
    "pairs": lambda row: f"{row['pairs_before']} to {row['pairs']}" if row["fits"] else "-",
    "grows by": lambda row: row["grows_by"] or row["why_not"] or "-",
    "left out": lambda row: row["left_out"] or "-",
    "size": lambda row: row["size"] or "-",
    "at a corner": lambda row: row["at_a_corner"] or "-",
}


class Trying:
    """One piece of a study and the catalogue."""

    def __init__(self, folder: Path, number: int) -> None:
        """Refused if it has no such piece, or one that keeps its edge."""
        self.study: Study = open_study(folder)
        self.piece = self.study.numbered(number)
        try:
            next(offers(self.piece, CATALOGUE[0]), None)
        except ValueError as error:
            raise BadInput(f"{self.piece.number:02d}: {error}") from None

    def smallest(self, wanted: Edging) -> Edged | None:
        """The piece with an edging at the least size at which whole fans fit and no block is in the way."""
        return next((offer for offer in offers(self.piece, wanted) if not check(offer.piece)), None)

    def all(self) -> list[tuple[Edging, Edged | None]]:
        """Every edging of the catalogue with what it takes; None if the piece would have to grow too much."""
        return [(wanted, self.smallest(wanted)) for wanted in CATALOGUE]

    def table(self, tried: Sequence[tuple[Edging, Edged | None]]) -> RowTable:
        """A row an edging: pairs before and after, by how much the piece grows, and which figures go."""
        return RowTable(_TOLD, [self._row(wanted, offer) for wanted, offer in tried])

    def _row(self, wanted: Edging, offer: Edged | None) -> Row:
        row = {"edging": wanted.called, "fits": offer is not None, "pairs_before": self.piece.pairs}
        if offer is None:
            fits = any(True for _ in offers(self.piece, wanted))
            why = "not as it is filled" if fits else "whole fans do not fit"
            return {**row, "why_not": why, **dict.fromkeys(("pairs", "grows_by", "left_out", "size", "at_a_corner"))}
        grown = offer.growth
        strip = self.piece.form.repeating
        if strip and offer.rows != strip.rows:
            grown = f"{grown or '-'}, a repeat has {offer.rows} rows"
        return {
            **row,
            "why_not": None,
            "pairs": offer.piece.pairs,
            "grows_by": grown or None,
            "left_out": offer.lost or None,
            "size": measures(offer.piece),
            "at_a_corner": wanted.corner if self.piece.worked == ROUND else None,
        }

    def picture(self, tried: Sequence[tuple[Edging, Edged | None]], path: Path) -> None:
        """The piece with every edging that fits, numbered as in the list, as PNG and PDF."""
        fitting = [(number, wanted, offer) for number, (wanted, offer) in enumerate(tried, 1) if offer is not None]
        pages = sheet.sheet(
            [offer.piece.numbered(number) for number, _, offer in fitting],
            title=f"Edgings for {self.piece.number}", note="as it is or grown, as little as each edging needs",
            first=[wanted.called for _, wanted, _ in fitting],
            silent=("edging", "size", "form", "stitches"),
        )  # fmt: skip
        page.write_pages(pages, path)

    def apply(self, name: str) -> str:
        """Make the piece with an edging, a new number of the study; a line that says so. Raises BadInput."""
        by_name = {each.called: each for each in CATALOGUE}
        wanted = by_name.get(" ".join(name.split()))
        if wanted is None:
            hint = nearest(name, by_name) or f"some are: {', '.join(list(by_name)[:5])}"
            raise BadInput(f"apply: {name!r} is no edging of the catalogue; {hint}", of="apply")
        offer = self.smallest(wanted)
        if offer is None:
            raise BadInput(f"a {wanted.called} does not fit {self.piece.number:02d}, however it grows")
        made = offer.piece.numbered(self.study.next_number)
        self.study.keep(made, self.study.next_job - 1)
        grown = f", grown by {offer.growth}" if offer.grown else ""
        left_out = f", {offer.lost} left out" if offer.left_out else ""
        what = f"{self.piece.number:02d} with {wanted.called}{grown}{left_out}"
        return (
            f"{made.number:02d}: {what}, {measures(made)}, {made.pairs} pairs; "
            f"{square_path(self.study.folder, made.number)}"
        )
