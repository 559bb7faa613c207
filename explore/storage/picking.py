"""Picking: what is asked of the picks of a study, what becomes of them, and their sheet."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from constraints.design import Design
from explore.bad_input import BadInput
from explore.lines import RowTable
from explore.storage.free import Output
from explore.storage.leavings import PICKS, PICKS_SHEET
from explore.storage.listing import FIGURES, figures
from explore.storage.picks import Picks, picks_in, read_picks, refuse_other_study, tidy
from explore.storage.study import Study
from gallery.seeing.knowing import known_as


@dataclass(frozen=True)
class PickRequest:
    """What she asks for.

    numbers: to pick. dropped: to pick no longer. note: on the numbers given, None for none. source: a file of picks.
    force: take picks of another study.
    """

    numbers: tuple[int, ...]
    dropped: tuple[int, ...]
    note: str | None
    source: Path | None
    force: bool

    @property
    def changes(self) -> bool:
        return bool(self.numbers or self.dropped or self.source)


@dataclass(frozen=True)
class Sheets:
    """Where the sheet goes, in which look, on which paper."""

    folder: Path
    look: str
    paper: str


def picked(study: Study, folder: Path, asked: PickRequest) -> tuple[Picks, Picks]:
    """The picks as they were and as they become. Raises BadInput; nothing is written.

    folder: the study as she named it.
    """
    name = study.name
    both = set(asked.numbers) & set(asked.dropped)
    if both:
        raise BadInput(f"{min(both)} is both picked and dropped; leave one out")
    if asked.note is not None and not asked.numbers:
        raise BadInput("note goes with squares, and none is named; give their numbers too", of="note")
    for number in asked.numbers:
        study.numbered(number)
    before = after = read_picks(study.folder, name)
    refuse_unpicked(asked.dropped, before, folder)
    if asked.source is not None:
        taken = picks_in(asked.source)
        if not asked.force:
            refuse_other_study(taken, name, asked.source)
        for number in (*taken.numbers, *taken.notes):
            if lacks := study.lacks(number):
                raise BadInput(f"{asked.source} names {number}, but {lacks}")
        after = after.joined(taken)
    after = after.with_numbers(asked.numbers).without(asked.dropped)
    if asked.note is not None:
        after = after.noted(dict.fromkeys(asked.numbers, tidy(asked.note)))
    return before, Picks(name, after.numbers, after.notes)


def refuse_unpicked(numbers: tuple[int, ...], picks: Picks, folder: Path) -> None:
    """Refused if a number to drop is not picked."""
    for number in numbers:
        if number not in picks.numbers:
            there = " ".join(map(str, picks.numbers)) or "none"
            raise BadInput(f"drop is {number}, which is not picked in {folder}; picked: {there}", of="drop")


def refuse_sheets(sheets: Sheets, study: Study, force: bool) -> None:
    """Refused if a picture in the way may be hers: beside a picks.json of the study it is the last sheet of ours."""
    ours = sheets.folder.resolve() == study.folder.resolve() and (study.folder / PICKS).exists()
    Output(force=force or ours).within(sheets.folder, PICKS_SHEET)


def notes(before: Picks, after: Picks, asked: PickRequest, study: Study) -> list[str]:
    """What she should know of the change, one line each."""
    said = before.lost(after)
    noted = [number for number in asked.dropped if number in after.notes]
    said += [f"{number} is picked no more; the note on it is kept" for number in noted]
    if asked.source is not None:
        taken = picks_in(asked.source).numbers
        besides = [str(number) for number in before.numbers if number in after.numbers and number not in taken]
        if besides:
            said.append(f"picked before and not in {asked.source}: {' '.join(besides)}; they stay until dropped")
    return said + _gone(after, study)


def _gone(picks: Picks, study: Study) -> list[str]:
    known = {design.number for design in study.designs}
    return [f"{number} is picked, but its square is there no more" for number in picks.numbers if number not in known]


def chosen(study: Study, picks: Picks) -> list[Design]:
    """The squares picked, by number."""
    return [design for design in study.designs if design.number in picks.numbers]


def unpacked(study: Study, picks: Picks) -> list[int]:
    """The numbers of the squares picked that have no booklet in the study."""
    numbers = [design.number for design in chosen(study, picks)]
    return [number for number in numbers if not (study.folder / "papers" / f"{number:02d}-booklet.pdf").exists()]


def draw(study: Study, picks: Picks, sheets: Sheets) -> list[Path]:
    """Draw the squares picked on sheets of their own, and take away the last ones if none is picked. Raises OSError."""
    paths = [sheets.folder / name for name in PICKS_SHEET]
    designs = chosen(study, picks)
    if not designs:
        for path in paths if sheets.folder.resolve() == study.folder.resolve() else ():
            path.unlink(missing_ok=True)
        return []
    from gallery.paper import page
    from gallery.sheets import sheet  # loads matplotlib, which takes longer than all else here

    sheets.folder.mkdir(parents=True, exist_ok=True)
    figures = sheet.sheet(
        designs,
        title=f"Picks of {study.name}",
        look=sheets.look,
        paper=sheets.paper,
        note=f"{len(designs)} of {len(study.designs)} squares",
        stamps=study.stamps,
        below=[picks.notes.get(design.number, "").splitlines() for design in designs],
    )
    for path in paths:
        page.write(figures, path)
    return paths


_TOLD = {
    **FIGURES,
    "the print is": lambda row: row["known"] or "-",
    "note": lambda row: " / ".join(row["note"].splitlines()),
}


def table(study: Study, picks: Picks) -> RowTable:
    """A row a square picked."""
    return RowTable(
        _TOLD,
        [
            {**figures(design), "known": known_as(design) or None, "note": picks.notes.get(design.number, "")}
            for design in chosen(study, picks)
        ],
    )


def told(before: Picks, after: Picks, written: list[Path]) -> str:
    """The last line: how many are picked, what changed, where the sheet is."""
    added = len(set(after.numbers) - set(before.numbers))
    dropped = len(set(before.numbers) - set(after.numbers))
    changes = [f"{count} {word}" for count, word in ((added, "added"), (dropped, "dropped")) if count]
    counted = f"{len(after.numbers)} picked" + (f" ({', '.join(changes)})" if changes else "")
    return f"{counted}; sheet: {written[0]} (also .pdf)" if written else counted
