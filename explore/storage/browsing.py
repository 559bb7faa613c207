"""The page of a study: its squares, its stamp and its picks, written into one file."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from pathlib import Path

from constraints.design import Design
from explore import asking
from explore.bad_input import BadInput, WayOut
from explore.files import write_whole
from explore.search.workers import WorkerPool
from explore.storage.leavings import GENERATOR, PAGE, is_page
from explore.storage.outlines import stamp_text
from explore.storage.picks import read_picks
from explore.storage.study import Study
from gallery.paper.placing import unfit
from gallery.web import browse
from gallery.web.telling import told_of_brief


def refuse_page(path: Path, force: bool) -> None:
    """Refused unless a page may be written there: over nothing, or over an earlier page."""
    if path.is_dir():
        raise BadInput(f"{path} is a folder; a page is a file, such as {path / PAGE}", "file-name", path=path)
    elsewhere = (WayOut.ELSEWHERE,)
    if why := unfit(path):
        raise BadInput(f"{path} {why}", "taken", elsewhere, path=path, named="file")
    if path.exists() and not force and not is_page(path):
        ways = (WayOut.REPLACE, *elsewhere)
        raise BadInput(f"{path} is not a page of this program", "taken", ways, path=path, named="file")


def write_page(
    study: Study, named: tuple[str, str], path: Path, look: str, cores: int | None, show: Callable[[int, int], None]
) -> int:
    """Draw a study's squares and write its page; how many bytes it has. Raises BadInput, OSError.

    named: program and study as a shell knows them in any folder, quoted, for the commands on the page. show: told how
    many squares are drawn.
    """
    picks = read_picks(study.folder, study.name)
    marks = {
        number: browse.Marked(number in picks.numbers, picks.notes.get(number, ""))
        for number in (*picks.numbers, *picks.notes)
    }
    drawings = []
    with WorkerPool(_squares, (study.designs,), cores if len(study.designs) > 1 else 1) as workers:
        for place, drawn in workers.in_order(_draw, ((place, None) for place in range(len(study.designs)))):
            drawings.append(drawn)
            show(place + 1, len(study.designs))
    content = browse.Browsed(
        generator=GENERATOR,
        study=study.name,
        program=named[0],
        folder=named[1],
        key=f"stampwork {study.name} {_mark(study)}",
        brief=told_of_brief(study.brief),
        stamps=study.stamps,
        designs=study.designs,
        drawings=drawings,
        marks=marks,
        look=look,
    )
    text = browse.page(content)
    write_whole(path, text)
    return len(text.encode("utf-8"))


def _mark(study: Study) -> str:
    """Tells a study from another one of the same name: ticks of the one must not show on the other."""
    text = asking.to_toml(study.brief) + repr(sorted(study.made_by.items()))
    text += "".join(map(stamp_text, study.stamps))
    return hashlib.sha256(text.encode("utf-8")).hexdigest()[:12]


def _squares(designs: tuple[Design, ...]) -> tuple[Design, ...]:
    return designs


def _draw(designs: tuple[Design, ...], place: int, _: None) -> browse.Drawings:
    return browse.drawings_of(designs[place])
