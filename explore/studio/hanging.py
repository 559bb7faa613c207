"""A wall: squares of a study in frames, the rest chosen or found so that all belong together, and its papers.

What hangs is kept with the marks of the study: `frames` the numbers of its squares, 0 for an empty one; `share` what
makes them a family; `title`; `titles` of single squares, by their numbers.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

from constraints.design import Design
from explore.bad_input import BadInput
from explore.editing.series import FEWEST, MOST, making
from explore.editing.series.contrast import LEAST
from explore.editing.series.family import SHARES, STAMP, family
from explore.editing.series.order import NAMED
from explore.editing.series.pool import Member, SeriesRequest, gather, wanted
from explore.lines import one_line
from explore.search.accepting import JobResult
from explore.search.crew import Share
from explore.search.diversity import Collection
from explore.storage.state import is_study, state_of
from explore.storage.study import Study, open_study
from explore.studio.folder import OpenedFolder
from explore.studio.hunt import Filled, Hunt

EMPTY: Mapping[str, Any] = {"frames": [0] * 9, "share": STAMP, "title": "", "titles": {}}
PAPERS = ("exhibition.png", "exhibition.pdf", "labels.pdf", "catalogue.pdf")
# A choice of so many is made while she waits.
_MOST_CHOSEN_FROM = 80
_LONGEST = 120


def wall_of(given: Mapping[str, Any], held: set[int]) -> dict[str, Any]:
    """A wall as the page sends it. held: the numbers that the study has. Raises BadInput."""
    frames, share, title = given.get("frames"), given.get("share"), given.get("title")
    if not isinstance(frames, list) or not FEWEST <= len(frames) <= MOST:
        raise BadInput(f"from {FEWEST} to {MOST} frames hang on a wall")
    if any(not isinstance(each, int) or isinstance(each, bool) or (each and each not in held) for each in frames):
        raise BadInput("a frame holds a square of the study, or none")
    hung = [each for each in frames if each]
    if len(set(hung)) < len(hung):
        raise BadInput("a square hangs once")
    if share not in SHARES or not isinstance(title, str) or len(title) > _LONGEST:
        raise BadInput(f"what they share is one of {', '.join(SHARES)}, and a title has at most {_LONGEST} letters")
    titles = given.get("titles", {})
    if not isinstance(titles, dict) or not all(
        isinstance(each, str) and len(each) <= _LONGEST and number in map(str, held) for number, each in titles.items()
    ):
        raise BadInput(f"a title is of a square of the study, and has at most {_LONGEST} letters")
    tidy = {number: one_line(each) for number, each in titles.items()}
    return {
        "frames": frames,
        "share": share,
        "title": one_line(title),
        "titles": {number: each for number, each in sorted(tidy.items()) if each},
    }


def titles_of(wall: Mapping[str, Any]) -> list[str]:
    """The titles of the squares that hang, in their order; "" for one that has none."""
    titles = wall.get("titles", {})  # a wall of an older file has none
    return [titles.get(str(number), "") for number in wall["frames"] if number]


def _asked(study: Study, wall: Mapping[str, Any], without: set[int]) -> SeriesRequest:
    """What a series of it is asked for. without: squares that are not to hang. Raises BadInput."""
    hung = [number for number in wall["frames"] if number]
    if not hung:
        raise BadInput("put a square into a frame first: the others are found to belong to it")
    chosen = making.chosen(study, hung, len(wall["frames"]))
    others = [design for design in study.designs if design.number not in without]
    together = family(wall["share"], chosen)
    return SeriesRequest(study.brief, study.stamps, others, chosen, together, NAMED, len(wall["frames"]))


def _hung(wall: Mapping[str, Any], numbers: Sequence[int]) -> dict[str, Any]:
    """The wall with these in its empty frames."""
    left = iter(numbers)
    return {**wall, "frames": [each or next(left, 0) for each in wall["frames"]]}


def _chosen(asked: SeriesRequest, members: Sequence[Member]) -> list[tuple[Design, int]]:
    """Those that fill the frames, each with its number in the study, 0 for a new one."""
    count = min(asked.count, len(members))
    made = making.choose(members, len(asked.chosen), asked.family, NAMED, count, asked.brief.run.seed)
    return list(zip(made.designs, made.sources, strict=True))[len(asked.chosen) :]


def filled(folder: str, wall: Mapping[str, Any], kept: Sequence[int], without: Sequence[int]) -> dict[str, Any]:
    """Runs in the easel's process: the wall with squares of the study in its empty frames, the most different that
    belong; of very many those that are kept and then the first. Raises BadInput, OSError."""
    asked = _asked(open_study(Path(folder)), wall, set(without))
    hers = Collection(LEAST, asked.chosen)
    first = sorted(asked.study, key=lambda design: design.number not in kept)
    for design in first:
        if len(hers.designs) == _MOST_CHOSEN_FROM:
            break
        if design.number not in wall["frames"] and asked.family.holds(design):
            hers.takes(design)
    members = [Member(design, design.number) for design in hers.designs]
    return _hung(wall, [number for _, number in _chosen(asked, members)])


class WallHunt(Hunt):
    """New squares for the empty frames, as `series` finds them: those that hang are squares of the study from then
    on. hang: told the wall that comes of it."""

    def __init__(
        self,
        board: Filled,
        folder: Path,
        wall: Mapping[str, Any],
        without: set[int],
        share: Share,
        hang: Callable[[Mapping[str, Any]], object],
    ) -> None:
        self._study, self._wall, self._share, self._hang = open_study(folder), wall, share, hang
        self._asked = _asked(self._study, wall, without)
        super().__init__(board, wanted(self._asked), self._asked.chosen[0].form.name)

    def _end(self) -> None:
        self._share.stop()

    def watch(self, step: JobResult) -> None:
        """A square more, or none, to choose from."""
        if step.design is not None:
            self.found += 1
            self.tell("looking", f"Found {self.told} to choose from.")

    def _hunt(self) -> None:
        members = gather(self._asked, self._share, self.watch)
        study, numbers = self._study, []
        for design, number in _chosen(self._asked, members):
            if not number:
                number = study.next_number
                study = study.keep(design.numbered(number), -1)
            numbers.append(number)
        self._hang(_hung(self._wall, numbers))
        self.board.refresh()
        missing = self._asked.count - len(self._asked.chosen) - len(numbers)
        self.tell(
            "ended", f"{missing} of the frames stay empty: no more were found." if missing else "Every frame is filled."
        )


def place_of(folder: OpenedFolder, study: str) -> Path:
    """Where the papers of a study's wall go: where they are, else where nothing is. Raises BadInput."""
    for number in range(1, 1000):
        path = folder.within(f"{study.removesuffix('-study')}-series" + (f"-{number}" if number > 1 else ""))
        if not path.exists() or (is_study(path) and _of(path, study)):
            return path
    raise BadInput("there is no name left for a series")


def _of(path: Path, study: str) -> bool:
    made_by = state_of(path).get("made_by", {})
    return bool(made_by.get("command") == "series" and made_by.get("study") == study)


def write_wall(tell: Callable[..., None], folder: str, wall: Mapping[str, Any], into: str) -> dict[str, Any]:
    """Runs in a scribe's process: the series as a study, its exhibition sheet, labels and catalogue. Raises BadInput,
    OSError."""
    from explore.editing.series import keeping, telling

    study = open_study(Path(folder))
    asked = _asked(study, wall, set())
    tell(kind="part", part="choosing")
    made = making.make(asked, 1, lambda step: None)
    title = wall["title"] or telling.default_title(study.brief.called)
    tell(kind="part", part="drawing")
    keeping.write(Path(into), study, made, title, telling.numbered(titles_of(wall)), "a3", Path(into).exists())
    return {"study": Path(into).name}
