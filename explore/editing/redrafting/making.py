"""What a redraft is made into: its pictures, and of a chosen reading a strip in a study or a stamp."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from constraints.brief import Brief
from constraints.fillings import GATHERED, OF_KIND
from constraints.lattice import Point
from explore.bad_input import BadInput
from explore.editing.redrafting import telling, writing
from explore.editing.redrafting.blank import USUAL, StripWorking
from explore.editing.redrafting.draft import Draft
from explore.editing.redrafting.proposals import SHOWN, Proposal, Proposals, chosen, propose
from explore.editing.redrafting.readings import read_blocks
from explore.editing.redrafting.redraft import Redraft
from explore.editing.redrafting.repeat import Repeat, one_repeat
from explore.editing.redrafting.stamps import repeat_draft, stamp_svg, whole_bed
from explore.editing.redrafting.strips import strip_bed, strip_of
from explore.files import write_whole
from explore.storage.free import FreeFolder, Output
from explore.storage.sheets import write_sheets
from explore.storage.study import create

# A reading is shown over at least two repeats and so many rows.
_ROWS_SHOWN = 12
STAMP, STRIP = "stamp", "strip"


@dataclass(frozen=True)
class RedraftRequest:
    """use: strip or stamp. reading: the number of the chosen one, None to see them all first."""

    use: str
    reading: int | None
    pitch_mm: float | None
    out: Path | None
    force: bool
    working: StripWorking


@dataclass(frozen=True)
class Done:
    """Lines, and notes beside them. to_see: the pictures made. told: the readings for a program. made: the strip's
    study or the stamp, None of readings that are only shown."""

    lines: tuple[str, ...]
    notes: tuple[str, ...]
    to_see: tuple[Path, ...]
    told: Mapping[str, object]
    made: Path | None = None


@dataclass(frozen=True, eq=False)
class _Read:
    """Readings as they are shown and chosen from. total: how many there are. proposals: those of strips."""

    shown: list[writing.ShownReading]
    total: int
    notes: tuple[str, ...]
    proposals: Proposals | None = None

    @property
    def told(self) -> dict[str, object]:
        """For a program."""
        shown = [{"reading": number, "told": each.words} for number, each in enumerate(self.shown, 1)]
        return {"readings": shown, "readings_in_all": self.total}


def make(made: Redraft, asked: RedraftRequest) -> Done:
    """Write what is asked for. NoReading, BadInput before anything is written; OSError."""
    pitch = _pitch(made, asked)
    folder, told = _folder(made, asked)
    read = _read(made, replace(asked.working, pitch_mm=pitch), asked)
    notes = (*told, *read.notes)
    if asked.pitch_mm is None and made.pitch_mm is None:
        notes = (*notes, f"the file does not say how large it is; the pitch is taken as {pitch:g} mm")
    if asked.reading is None:
        lines, pictures = _pictures(made, asked, read, folder)
        return Done((*_summary(made, asked), *lines), (*told, *read.notes), pictures, read.told)
    if asked.use == STAMP:
        line, stamp = _stamp(read, asked.reading, pitch, folder)
        return Done((line,), notes, (stamp,), read.told, stamp)
    assert read.proposals is not None
    proposal = chosen(read.proposals.found, asked.reading)
    said, sheet = _strip(made, proposal, asked, folder)
    return Done(tuple(said), notes, (sheet,), read.told, folder)


def _folder(made: Redraft, asked: RedraftRequest) -> FreeFolder:
    """Where it goes. Refused if that is taken."""
    output = Output(asked.out, asked.force)
    if _makes_strip(asked):
        return output.study(Path(f"{made.name}-{STRIP}"))
    files = [_stamp_file(asked.reading)] if asked.reading and asked.use == STAMP else writing.names()
    return output.files(Path(f"{made.name}-redraft"), files)


def try_out(made: Redraft, asked: RedraftRequest) -> None:
    """Read what is asked for, and write nothing. Refused if it cannot be made."""
    pitch = _pitch(made, asked)
    read = _read(made, replace(asked.working, pitch_mm=pitch), asked)
    if asked.reading is not None and asked.use == STAMP:
        shown = chosen(read.shown, asked.reading)
        stamp_svg(shown.reading.blocks, shown.bed, pitch)
    elif asked.reading is not None:
        assert read.proposals is not None
        chosen(read.proposals.found, asked.reading)


def _pitch(made: Redraft, asked: RedraftRequest) -> float:
    return asked.pitch_mm or made.pitch_mm or USUAL.pitch_mm


def _makes_strip(asked: RedraftRequest) -> bool:
    return asked.use == STRIP and asked.reading is not None


def _summary(made: Redraft, asked: RedraftRequest) -> tuple[str, ...]:
    return (*telling.found(made, asked.pitch_mm), *telling.doubts(made))


def _read(made: Redraft, working: StripWorking, asked: RedraftRequest) -> _Read:
    """The readings of a strip's repeat; for a stamp those of all pins, where nothing comes again or it is no strip."""
    most = max(SHOWN, asked.reading or 0)
    if asked.use == STAMP and made.repeat is None:
        return _whole(made.draft, most)
    try:
        return _strips(made.repeat or one_repeat(made.draft), working, most)
    except BadInput:
        if asked.use == STRIP:
            raise
        return _whole(made.draft, most)


def _strips(repeat: Repeat, working: StripWorking, most: int) -> _Read:
    found = propose(repeat, working, most)
    shown = []
    for each in found.found:
        bed = strip_bed(each.repeat, each.headside)
        repeats = max(2, -(-_ROWS_SHOWN // each.repeat.rows))
        few = strip_of(each.reading, each.repeat, each.headside, replace(working, repeats=repeats))
        shown.append(writing.ShownReading(telling.of_proposal(each), each.reading, bed, repeat_draft(each.repeat), few))
    return _Read(shown, found.total, _assumed(found.assumed, found.loose), found)


def _whole(draft: Draft, most: int) -> _Read:
    bed = whole_bed(draft)
    found = read_blocks(bed)
    shown = [writing.ShownReading(telling.of_blocks(each), each, bed, draft) for each in found.listed[:most]]
    return _Read(shown, found.total, _assumed(found.assumed, found.loose))


def _assumed(assumed: Sequence[Point], loose: Sequence[Point]) -> tuple[str, ...]:
    lines = []
    for places, words in (
        (assumed, "without dots that no block can hold, read as pinholes (is a dot beside lost, add it to rows.txt)"),
        (loose, f"in the middle of a hole that belongs to no {OF_KIND[GATHERED[0].name].one}"),
    ):
        if places:
            where = ", ".join(f"column {column} row {row}" for column, row in places[:4])
            more = f" and {len(places) - 4} more" if len(places) > 4 else ""
            lines.append(f"{len(places)} {'place' if len(places) == 1 else 'places'} {words}: {where}{more}")
    return tuple(lines)


def _pictures(made: Redraft, asked: RedraftRequest, read: _Read, folder: Path) -> tuple[list[str], tuple[Path, Path]]:
    facts = list(telling.found(made, asked.pitch_mm))
    picture = writing.write_beside(made, folder, facts)
    rows = writing.write_rows(made, folder)
    several = f"{read.total} readings" if read.total > 1 else "one reading"
    heading = f"{several}, likeliest first" + (f"; the first {len(read.shown)}" if len(read.shown) < read.total else "")
    sheet = writing.write_readings(read.shown, made.name, [heading], folder)
    lines = [f"{heading}:"] + [f"  {number}: {each.words}" for number, each in enumerate(read.shown, start=1)]
    told = f"pictures: {picture} and {sheet} (also .pdf and .svg); rows: {rows}"
    return [*lines, told], (picture, sheet)


def _stamp_file(number: int | None) -> str:
    return f"stamp-{number}.svg"


def _stamp(read: _Read, number: int, pitch_mm: float, folder: Path) -> tuple[str, Path]:
    shown = chosen(read.shown, number)
    text = stamp_svg(shown.reading.blocks, shown.bed, pitch_mm)
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / _stamp_file(number)
    write_whole(path, text)
    return f"{telling.of_blocks(shown.reading)}: {path}", path


def _strip(made: Redraft, proposal: Proposal, asked: RedraftRequest, folder: Path) -> tuple[list[str], Path]:
    design = proposal.design
    brief = Brief.of(
        **design.form.asked(),
        pairs=design.pairs,
        pitch_mm=(design.pitch_mm, design.pitch_mm),
        symmetry="none",
        worked=design.worked,
        passives=design.passives,
    )
    study = create(folder, brief, (), (), asked.force, {"command": "redraft"})
    study = study.keep(design.numbered(study.next_number), 0)
    facts = list(telling.found(made, asked.pitch_mm))
    writing.write_beside(made, folder, facts)
    writing.write_rows(made, folder)
    sheets = write_sheets(study, "drawing", "a4")
    width, height = round(design.width_mm), round(design.height_mm)
    said = f"{telling.of_proposal(proposal)}; {width} x {height} mm"
    return [f"01: {said}", f"study: {folder}; sheet: {sheets[0]} (also .pdf and .svg)"], sheets[0]
