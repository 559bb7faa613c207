"""Squares and a search that cost nothing, to try folders and the command line on.

The squares are plain ground, which can always be worked: half-size N takes N + 2 pairs with one passive.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from shapely.geometry import MultiPolygon, Polygon

from constraints import forms
from constraints.brief import Brief
from constraints.design import Design, Print
from constraints.stamp import Stamp
from explore.search.accepting import JobResult
from explore.search.search import Impossible
from explore.search.sizing import SIZING
from explore.storage.study import Study, create

HALF_SIZE = 4


def plain_square(number: int, seed: int = 1) -> Design:
    return Design(
        number=number,
        form=forms.Square(HALF_SIZE),
        pitch_mm=5.0,
        worked="round",
        symmetry="full",
        passives=1,
        pairs=HALF_SIZE + 2,
        splits=0,
        blocks=(),
        fillings=(),
        prints=(),
        seed=seed,
    )


def petal() -> Stamp:
    """A stamp with awkward digits, a hole and two parts."""
    outer = [(0.1, 0.2), (1 / 3, 10.0), (10.7, 10.1), (9.9, 0.3)]
    hole = [(3.0, 3.0), (4.0, 3.1), (4.0, 4.7)]
    leaf = [(20.0, 0.0), (21.0, 2.0 / 7), (20.5, 3.0)]
    return Stamp("petal", MultiPolygon([Polygon(outer, [hole]), Polygon(leaf)]), ("2 specks cleaned away",), 1.5)


class FakeSearch:
    """Stands in for explore.search.search.search: every job of `fails` finds nothing, every other one a square.

    `stop_at` presses Ctrl-C in that job. `calls` holds what each search was given.
    """

    def __init__(self, jobs: int = 100, fails: Sequence[int] = (), stop_at: int = -1) -> None:
        self.jobs, self.fails, self.stop_at = jobs, fails, stop_at
        self.impossible = ""
        self.stamp_size = 9.0  # pitches, as it is laid in every square
        self.calls: list[dict[str, object]] = []

    def __call__(
        self,
        brief: Brief,
        *stamps: Stamp,
        kept: Sequence[Design] = (),
        first_job: int = 0,
        first_number: int = 1,
        count: int | None = None,
        cores: int | None = None,
        laying: object = None,
        hasty: bool = False,
    ) -> Iterator[JobResult]:
        self.calls.append({"brief": brief, "stamps": stamps, "kept": kept, "first_job": first_job, "cores": cores})
        conflict = self.impossible or SIZING[brief.piece.form].conflict(brief)
        if conflict:
            raise Impossible(conflict)
        number, wanted = first_number, brief.run.count if count is None else count
        for job in range(first_job, self.jobs):
            if number - first_number == wanted:
                return
            if job == self.stop_at:
                raise KeyboardInterrupt
            if job in self.fails:
                yield JobResult(job, None, "too like another")
                continue
            design = plain_square(number, brief.run.seed)
            prints = tuple(Print(each.name, self.stamp_size, 45.0, (), 0.75) for each in stamps)
            design = replace(design, prints=prints)
            yield JobResult(job, design)
            number += 1


BRIEF = Brief.of(stamp="petal", match=0.65)
PNG = b"\x89PNG\r\n\x1a\n and so on"


def new_study(folder: Path, designs: int = 0, force: bool = False) -> Study:
    study = create(folder, BRIEF, (petal(),), (PNG,), force)
    for number in range(1, designs + 1):
        study = study.keep(plain_square(number), job=2 * number)
    return study
