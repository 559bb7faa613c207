"""Two squares of studies, and where they differ."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from constraints.design import Design
from constraints.difference import comparable
from constraints.differing import Differences, differences
from constraints.wording import measure
from explore.bad_input import BadInput
from explore.storage.study import Study, open_study


@dataclass(frozen=True)
class Pair:
    """Two squares to compare. designs: as they are in their studies; in found one may be turned or mirrored.

    names: what they are called; their numbers, with the study if there are two.
    """

    studies: tuple[Study, Study]
    designs: tuple[Design, Design]
    names: tuple[str, str]
    found: Differences


def pair_of(folder: Path, first: int, second: int, other: Path | None) -> Pair:
    """The squares of those numbers, the second from the other study if there is one. Raises BadInput."""
    study = open_study(folder)
    beside = study if other is None else open_study(other)
    if other is None and first == second:
        raise BadInput(f"{first} and {second} are one square; give two numbers, or another study for the second")
    designs = study.numbered(first), beside.numbered(second)
    names = (f"{first:02d}", f"{second:02d}")
    if other is not None:
        names = (f"{study.folder.name} {names[0]}", f"{beside.folder.name} {names[1]}")
    if not comparable(*designs):
        said = [f"{name} is a {each.form.name} of {measure(each)}" for name, each in zip(names, designs, strict=True)]
        raise BadInput(
            f"{', '.join(said)}: squares are compared with squares, strips with strips of the same repeat, others with "
            "pieces of the same outline"
        )
    return Pair((study, beside), designs, names, differences(*designs))
