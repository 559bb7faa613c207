"""Squares of the search followed to their end: `python tests/bench/searched.py FOLDER [--minutes 30] [--least 2000]`.

Small studies of every symmetry, with prints and without, all edgings, ways over corner lines, widths and splits, by
the search itself; each square is begun at a corner drawn for it, worked with habits drawn for it, and goes through the
second check, the check of its working and the player of its words. Frames and mats are among them.

FOLDER keeps a line a study and the squares; begun again, it goes on after the last study that is whole. At the end a
table: squares by symmetry and by what they have, the seams they have, seconds a square, and every fault with the file
of its square. Exit code 1 if there is a fault. `--prints PATH ...` adds prints of one's own to the built-in ones.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections import Counter
from dataclasses import replace
from pathlib import Path
from random import Random
from time import perf_counter
from typing import Any

sys.path.append(str(Path(__file__).parents[1] / "gallery"))

from before_her import pricking_of, text_of
from player.fault import Fault
from player.following import follow

from constraints import forms
from constraints.brief import Brief
from constraints.check import check
from constraints.corners import CORNERS, HALVES
from constraints.design import Design
from constraints.design_file import from_text, to_text
from constraints.edgings import EDGINGS, FOOTSIDE, Headside
from constraints.flow import START_LINES
from constraints.layout import lay
from constraints.seams import seams_of
from constraints.square_sizes import sizes
from constraints.stitches import CLOTH, HALF
from constraints.symmetry import SYMMETRIES
from constraints.working.check import faults
from constraints.working.habits import CLOSED, HORIZONTAL, OPEN, Habits
from constraints.working.work import Work, work
from explore.reading import built_in, built_in_names, read
from explore.search.search import Impossible, search
from gallery.order.words import Telling

# Squares asked of a study; more of one brief say little more.
_A_STUDY = 12
_STITCHES = (
    ("cloth", "half", "rose", "spider"),
    ("cloth", "whole", "half", "double-ground"),
    ("cloth", "spider"),
    ("cloth",),
)


def study_of(number: int, prints: list[Path]) -> tuple[Brief, Path | None]:
    """The brief of a study, and its print."""
    random = Random(f"study {number}")
    symmetry = list(SYMMETRIES)[number % len(SYMMETRIES)]
    printed = random.choice(prints) if random.random() < 0.6 else None
    half_size = random.randint(11, 20) if printed is None else random.randint(14, 24)
    kind = random.choice([FOOTSIDE, FOOTSIDE, *EDGINGS])
    brief = Brief.of(
        half_size=(half_size, half_size),
        pairs=3 * half_size,
        pitch_mm=(random.choice([3.0, 4.0, 5.0, 6.0]),) * 2,
        symmetry=symmetry,
        passives=random.randint(0, 2),
        headside=_headside(kind, random),
        stitches=random.choice(_STITCHES),
        narrowest=random.choice([2, 2, 2, 3]),
        narrowest_ground=random.choice([2, 2, 1]),
        splits=random.choice([0, 0, 8]),
        corners=random.choice([HALVES, HALVES, *CORNERS]),
        copies=random.choice([1, 1, 1, 2]) if printed else 1,
        match=0.5 if printed else None,
        solid=(0.1, 0.6),
        count=_A_STUDY,
        seed=number + 1,
        effort=0.5,
    )
    if number % 8 == 7:
        brief = _frame(brief, random)
    elif not sizes(brief):
        brief = brief.changed(headside=None)
    return brief, printed


def _headside(name: str, random: Random) -> Headside | None:
    if name == FOOTSIDE:
        return None
    kind = EDGINGS[name]
    depth, stitch = random.choice(kind.depths), random.choice((CLOTH, HALF))
    pairs = random.randint(3, 6) if kind.tells_pairs() else kind.at_valley[0]
    return kind(stitch if stitch in kind.stitches else "", depth, pairs)


def _frame(brief: Brief, random: Random) -> Brief:
    """A frame in place of a square, with unequal sides where the symmetry allows it."""
    width = random.randint(18, 24)
    turned = brief.piece.symmetry in ("full", "quarter-turn", "diagonal-mirrors", "diagonal-mirror")
    height = width if turned else random.randint(18, 26)
    band = random.randint(9, 12)
    return brief.changed(form=forms.Frame.name, half_size=(width, width), half_height=height, band=band, copies=1)


def found(brief: Brief, printed: Path | None) -> list[Design]:
    """The squares of a study; none where its brief is proven impossible."""
    stamps = () if printed is None else (read(printed),)
    brief = brief.changed(stamp=stamps[0].name if stamps else "")
    try:
        return [step.design for step in search(brief, *stamps, cores=1, explain=False) if step.design is not None]
    except Impossible:
        return []


def worked(design: Design, random: Random) -> tuple[Design, Work, Telling]:
    """A square begun, worked and told as drawn for it, as far as it allows that."""
    begun = replace(design, start=random.choice(sorted(START_LINES)))
    design = begun if check(begun) == [] else design
    plain_edge = design.form.headside is None or not design.form.headside.solid
    habits = Habits(
        ground=random.choice([CLOSED, OPEN]),
        at_pins=random.choice([1, 1, 2]),
        seam=random.choice([CLOSED, CLOSED, CLOSED, OPEN]),
        corner_pins=plain_edge and random.random() < 0.3,
    )
    wishes: list[dict[str, Any]] = []
    if random.random() < 0.4:
        wishes.append({"start_line": HORIZONTAL})
    if design.blocks and random.random() < 0.4:
        wishes.append({"gimp": tuple(random.sample(range(1, len(design.blocks) + 1), min(2, len(design.blocks))))})
    done = work(design, habits)
    for wish in wishes:
        try:
            done = work(design, replace(habits, **wish))
        except ValueError:
            continue
        habits = done.habits
    return design, done, Telling("Order of work 07, greenhouse", mirrored=random.random() < 0.4)


def faults_of(design: Design, done: Work, telling: Telling) -> list[str]:
    """What the second check, the check of the working and the player find."""
    told = [f"check: {each}" for each in check(design)]
    if from_text(to_text(design)) != design:
        told.append("file: reads otherwise than it was written")
    told += [f"working: {each}" for each in faults(done)]
    try:
        follow(text_of(done, telling), pricking_of(done, telling.mirrored))
    except Fault as fault:
        told.append(f"player: {fault}")
    return told


def had(design: Design, done: Work, telling: Telling) -> list[str]:
    """What a square has, for the table."""
    headside, habits = design.form.headside, done.habits
    found = {
        f"symmetry {design.symmetry}": True,
        f"form {design.form.name}": True,
        f"edging {'footside' if headside is None else headside.kind}": True,
        f"corners {design.brief.get('corners', '')}": True,
        "with a print": design.prints,
        "level start": habits.start_line == HORIZONTAL,
        "open seams": habits.seam == OPEN,
        "corner pins": habits.corner_pins,
        "gimp": bool(habits.gimp),
        "footside on the right": telling.mirrored,
        f"start {design.start}": True,
    }
    return [name for name, true in found.items() if true]


def tried(number: int, folder: Path, prints: list[Path]) -> dict[str, Any]:
    """A study found, and each of its squares followed; its squares are kept."""
    brief, printed = study_of(number, prints)
    begin = perf_counter()
    designs = found(brief, printed)
    line: dict[str, Any] = {"study": number, "seconds": round(perf_counter() - begin, 2), "squares": []}
    for design in designs:
        random = Random(f"study {number} square {design.number}")
        design, done, telling = worked(design, random)
        name = f"{number:05}-{design.number:02}.json"
        (folder / name).write_text(to_text(design), encoding="utf-8")
        seams = seams_of(lay(design))
        told = {
            "file": name,
            "had": had(design, done, telling),
            "habits": str(done.habits),
            "seams": seams.number,
            "seam pins": len(seams.pins),
            "faults": faults_of(design, done, telling),
        }
        line["squares"].append(told)
    return line


def table(lines: list[dict[str, Any]]) -> list[str]:
    """What the studies come to."""
    designs = [design for line in lines for design in line["squares"]]
    counts = Counter(name for design in designs for name in design["had"])
    seams = sorted(design["seams"] for design in designs) or [0]
    pins = sorted(design["seam pins"] for design in designs) or [0]
    seconds = sum(line["seconds"] for line in lines)
    bad = [design for design in designs if design["faults"]]
    rows = [f"{name:28} {count:5}" for name, count in sorted(counts.items())]
    rows += [
        f"seams a square: median {seams[len(seams) // 2]}, most {seams[-1]}; pins on corner lines: median "
        f"{pins[len(pins) // 2]}, most {pins[-1]}",
        f"{len(lines)} studies, {sum(not line['squares'] for line in lines)} without a square, "
        f"{seconds / max(len(designs), 1):.2f} s a square",
    ]
    rows += [f"FAULT {design['file']}: {fault}\n    {design['habits']}" for design in bad for fault in design["faults"]]
    return [*rows, f"{len(designs)} squares followed, {len(bad)} with a fault"]


def main() -> int:
    words = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    words.add_argument("folder", type=Path)
    words.add_argument("--minutes", type=float, default=30.0)
    words.add_argument("--least", type=int, default=2000, help="squares; no study is begun once there are so many")
    words.add_argument("--prints", type=Path, nargs="*", default=[])
    asked = words.parse_args()
    asked.folder.mkdir(parents=True, exist_ok=True)
    kept = asked.folder / "studies.jsonl"
    lines = [json.loads(text) for text in kept.read_text("utf-8").splitlines()] if kept.exists() else []
    prints = [*(built_in(name) for name in built_in_names()), *asked.prints]
    begin = perf_counter()
    while perf_counter() - begin < 60 * asked.minutes and sum(len(line["squares"]) for line in lines) < asked.least:
        lines.append(tried(len(lines), asked.folder, prints))
        with kept.open("a", encoding="utf-8") as file:
            print(json.dumps(lines[-1]), file=file)
        for design in lines[-1]["squares"]:
            for fault in design["faults"]:
                print(f"FAULT {design['file']}: {fault}", flush=True)
    print("\n".join(table(lines)))
    return 1 if any(design["faults"] for line in lines for design in line["squares"]) else 0


if __name__ == "__main__":
    sys.exit(main())
