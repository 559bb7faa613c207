"""What goes on from papers for the pillow: the next of them that is not there yet."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from explore.asking import settings
from explore.commands.shared import Papers

if TYPE_CHECKING:
    from constraints.working.habits import Habits


class _Paper(NamedTuple):
    """files: the ends of their names. options: of those that say how you work, the ones that it takes."""

    files: tuple[str, ...]
    options: tuple[str, ...]


_ROUND = ("start_line", "seam", "corner_pins")
# In the order in which they are needed. Options are called like the parameters of their commands.
_PAPERS = {
    "pricking": _Paper(("pricking.pdf", "pricking.svg"), ("footside", *_ROUND)),
    "diagram": _Paper(("diagram.pdf", "diagram.svg"), ("footside", "method", *_ROUND, "gimp")),
    "work": _Paper(("work.txt", "work.pdf"), ("footside", "method", *_ROUND, "gimp", "finish")),
    "materials": _Paper(("materials.txt", "materials.pdf", "swatch.json"), ("method", *_ROUND, "gimp")),
    "pack": _Paper(("booklet.pdf",), ("footside", "method", *_ROUND, "gimp", "finish")),
    "show": _Paper(tuple(f"{look}.{end}" for look in ("drawing", "lace") for end in ("png", "pdf", "svg")), ()),
}
_USUAL = {"footside": "left", "method": "closed", "start_line": "suits", "seam": "closed", "finish": "knots"}


def ways(habits: Habits, footside: str = "left", finish: str = "knots") -> dict[str, object]:
    """How you work, as options by the names of their parameters."""
    corners = {"start_line": habits.start_line, "seam": habits.seam, "corner_pins": habits.corner_pins}
    return {"footside": footside, "method": habits.ground, **corners, "gimp": habits.gimp, "finish": finish}


def after_papers(
    done: str, study: Path, papers: Papers, out: Path | None, worked: Mapping[str, object]
) -> tuple[object, ...]:
    """The words of a command that makes the next papers of the same squares, in the same way and place.

    done: the command that made these. worked: its options, as `ways` has them. If no paper is left to make, the
    study is shown.
    """
    names = list(_PAPERS)
    place = names.index(done) + 1
    folder = papers.each[0][1][0].parent
    numbers = [design.number for design, _ in papers.each]
    for name in (*names[place:], *names[:place]):
        paper = _PAPERS[name]
        if not any((folder / f"{number:02d}-{file}").exists() for number in numbers for file in paper.files):
            placed = ("--out", out) if out else ()
            return (name, study, *numbers, *_given(worked, paper.options), *placed)
    return ("page", study, "--open")


def _given(worked: Mapping[str, object], taken: tuple[str, ...]) -> list[object]:
    """The options that were given and that a paper takes, as words."""
    words: list[object] = []
    usual = {**_USUAL, **settings.in_force().values}
    for name, value in worked.items():
        if name in taken and value and value != usual.get(name):
            words.append(f"--{name.replace('_', '-')}")
            if isinstance(value, tuple):
                words.append(",".join(map(str, value)))
            elif value is not True:
                words.append(value)
    return words
