"""The examples of the README and the guides: read from their fenced blocks, run as they stand, compared with what is
shown.

A ```console block holds commands after "$ " and the lines each one printed. A line "..." stands for lines
left out. A block such as ```toml leaves.toml is a file that the examples use.
"""

import contextlib
import io
import shlex
import shutil
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from explore import cli

ROOT = Path(__file__).parents[2]
README = ROOT / "README.md"
GUIDES = ROOT / "explore" / "guides"
# In the order in which they are read: the examples of one go on from those before.
PAGES = (
    README,
    *(
        GUIDES / f"{name}.md"
        for name in (
            *("choosing", "exhibition", "pillow", "strips", "fitting", "old-prickings"),
            *("brief", "files", "scripts", "searching"),
        )
    ),
)
# Pages whose examples know nothing of those of all others: of strips and what is made of them, and the rest.
OF_STRIPS = tuple(page for page in PAGES if page.stem in ("strips", "fitting", "old-prickings"))
OTHERS = tuple(page for page in PAGES if page not in OF_STRIPS)
PICTURES = ROOT / "gallery" / "pictures"
LEFT_OUT, NEXT = "...", "next: "


@dataclass(frozen=True)
class Block:
    """A fenced block. kind, name: the words after the fence. first: number of its first line, from 0."""

    kind: str
    name: str
    first: int
    lines: tuple[str, ...]


@dataclass(frozen=True)
class Example:
    """One command. shown: what the page says it prints, from line `first` of it on (from 0)."""

    command: str
    first: int
    shown: tuple[str, ...]
    page: Path = README


@dataclass(frozen=True)
class Ran:
    """What became of an example. lines: both streams, in the order in which they were printed, but for the command
    that goes on from there, unless the page shows it."""

    example: Example
    status: int
    lines: tuple[str, ...]


def blocks(text: str) -> list[Block]:
    """The fenced blocks of a Markdown text."""
    found: list[Block] = []
    start, words = -1, ""
    lines = text.splitlines()
    for number, line in enumerate(lines):
        if not line.startswith("```"):
            continue
        if start < 0:
            start, words = number + 1, line[3:].strip()
        else:
            kind, _, name = words.partition(" ")
            found.append(Block(kind, name, start, tuple(lines[start:number])))
            start = -1
    return found


def examples(block: Block, page: Path = README) -> list[Example]:
    """The commands of a console block of a page, each with the lines shown under it."""
    starts = [number for number, line in enumerate(block.lines) if line.startswith("$ ")]
    ends = [*starts[1:], len(block.lines)]
    return [
        Example(block.lines[start][2:], block.first + start + 1, block.lines[start + 1 : end], page)
        for start, end in zip(starts, ends, strict=True)
    ]


def run_all(folder: Path, pages: Sequence[Path] = PAGES) -> Iterator[Ran]:
    """Run every example of pages in their order. `folder`: empty, and the current one."""
    shutil.copytree(PICTURES, folder / PICTURES.relative_to(ROOT))
    found = [(page, block) for page in pages for block in blocks(page.read_text(encoding="utf-8"))]
    for _, block in found:
        if block.name:
            (folder / block.name).write_text("\n".join(block.lines), encoding="utf-8")
    for page, block in found:
        for example in examples(block, page) if block.kind == "console" else []:
            yield _run(example)


def _run(example: Example) -> Ran:
    program, *arguments = shlex.split(example.command)
    if program != "stampwork":
        raise ValueError(f"an example that is no stampwork command: {example.command}")
    said = io.StringIO()
    with contextlib.redirect_stdout(said), contextlib.redirect_stderr(said):
        status = cli.run(arguments)
    lines = said.getvalue().splitlines()
    if lines and lines[-1].startswith(NEXT) and not any(line.startswith(NEXT) for line in example.shown):
        del lines[-1]
    return Ran(example, status, tuple(lines))


def as_shown(ran: Ran) -> list[str]:
    """What a page should show for a run: whole, or as much of its beginning and end as it shows now."""
    shown = list(ran.example.shown)
    if LEFT_OUT not in shown:
        return list(ran.lines)
    head = shown.index(LEFT_OUT)
    tail = len(shown) - head - 1
    return [*ran.lines[:head], LEFT_OUT, *ran.lines[len(ran.lines) - tail :]]
