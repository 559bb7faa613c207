"""Every paper of the stored pieces, as she asks for it and with her own way of working."""

from __future__ import annotations

import json
import shlex
from pathlib import Path

from record import Task

HERE = Path(__file__).parent
PIECES = HERE / "pieces"
# Of each piece a block that a gimp can be laid round, if there is one.
GIMPS: dict[str, int] = json.loads((HERE / "given" / "gimps.json").read_text(encoding="utf-8"))
EVERY = {
    "check": "check study",
    "pricking": "pricking study 1 --numbers --arrows --cross-overs",
    "diagram": "diagram study 1 --numbers",
    "work": "work study 1",
    "materials": "materials study 1 --cores 1",
    "show": "show study 1",
}
# Of `--quick` a piece has one of these lots.
LOTS = (
    {
        "pricking in parts": "pricking study 1 --part PART --by-stitch --paper letter "
        "--footside right --out parts HABITS",
        "diagram of habits": "diagram study 1 --footside right --method open --scale 3 --out evening HABITS",
        "work of habits": "work study 1 --method open --footside right --finish plaits --out evening HABITS",
    },
    {
        "diagram with gimp": "diagram study 1 --gimp GIMP --out gimp",
        "work with gimp": "work study 1 --gimp GIMP --finish sewings --out gimp",
        "show threads": "show study 1 --look lace --colour 3a=crimson --size 90mm --plain --out threads",
    },
    {
        "compare": "compare study 1 2",
        "page": "page study --cores 1",
        "pick": "pick study 1 --note 'for the door'",
    },
)
PACK, EDGINGS = "pack study 1 --title 'Garden at Dusk' --cores 1", "edgings study 1"
OPEN, HABITS = "--seam open", "--start-line horizontal --corner-pins"
# What takes long, of pieces that stand for the others.
PACKED = ("square-stamp-full", "across-stamp", "rectangle-half-turn", "frame-cloth-fan", "strip-half-scallop")
TRIED = ("square-none", "frame-quarter-turn", "strip-level-mirror")


def paper_tasks(quick: bool = False) -> list[Task]:
    """A task for each piece; its neighbour in the folder lies beside it to be compared."""
    names = sorted(path.stem for path in PIECES.glob("*.json"))
    neighbours = zip(names, [*names[1:], names[0]], strict=True)
    return [
        _task(name, after, LOTS[number % 3 :][:1] if quick else LOTS) for number, (name, after) in enumerate(neighbours)
    ]


def _task(name: str, after: str, lots: tuple[dict[str, str], ...]) -> Task:
    piece = json.loads((PIECES / f"{name}.json").read_text(encoding="utf-8"))
    worked_round = piece["worked"] == "round"
    part = "whole" if piece["form"] == "strip" else "quarter" if worked_round else "half"
    lines = EVERY | {called: line for lot in lots for called, line in lot.items()}
    lines |= {"pack": PACK} if name in PACKED else {}
    lines |= {"edgings": EDGINGS} if name in TRIED else {}
    lines = {called: line for called, line in lines.items() if name in GIMPS or "GIMP" not in line}
    # A headside leaves no row for a start line off the corners.
    habits = "" if not worked_round else OPEN if "headside" in piece else f"{OPEN} {HABITS}"
    put = {"HABITS": habits, "PART": part, "GIMP": str(GIMPS.get(name, 0))}
    for word, words in put.items():
        lines = {called: line.replace(word, words) for called, line in lines.items()}
    return Task(name, {called: tuple(shlex.split(line)) for called, line in lines.items()}, (name, after))
