"""The studio opened: on a print, a study or a folder, until Ctrl-C."""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import quote

from explore.bad_input import BadInput
from explore.pictures import is_picture
from explore.reading import built_in_names
from explore.storage.state import is_study
from explore.studio.app import app
from explore.studio.browser import browser
from explore.studio.server import LOOPBACK, bound, serve
from explore.studio.threshold import ENTRANCE, Threshold
from explore.studio.workroom import Workroom


@dataclass(frozen=True)
class Opened:
    """folder: what the studio may read and write. first: the page that is shown first. named: a print that lies
    elsewhere."""

    folder: Path
    first: str = "/"
    named: Path | None = None


def opened(what: Path | None, folder: Path | None) -> Opened:
    """What is meant by the word of the command, and where studies go: `folder`, else the current one, or that which a
    study lies in. Raises BadInput."""
    if folder is not None and not folder.is_dir():
        raise BadInput(f"folder is {folder}, which is no folder", of="folder")
    here = folder or Path()
    if what is None:
        return Opened(here)
    if is_study(what):
        study = what.resolve()
        if folder is not None and study.parent != folder.resolve():
            raise BadInput(f"folder is {folder}, but {what} does not lie in it", of="folder")
        return Opened(study.parent, f"/study/{quote(study.name)}")
    if what.is_dir():
        if folder is not None:
            raise BadInput(f"folder is {folder} and {what} is a folder too; give one of them", of="folder")
        return Opened(what)
    if what.is_file() and is_picture(what.name):
        return Opened(here, "print", what)
    if str(what) in built_in_names():
        return Opened(here, f"/print?of={what}")
    there = "is no picture of a print" if what.exists() else "does not exist"
    raise BadInput(f"{what} {there}; allowed: a print, a study, a folder, or one of {', '.join(built_in_names())}")


def work(asked: Opened, port: int, cores: int | None, browse: bool, tell: Callable[[str], None]) -> str:
    """Serve until it is ended; the address without its key. browse: in a browser, if one can be opened. tell: told the
    address once it answers."""
    at = bound(port)
    own = f"http://{LOOPBACK}:{at.getsockname()[1]}"
    with at, Workroom(asked.folder, asked.named, cores) as room:
        first = f"/print?of={quote(room.prints.named, safe='')}" if asked.first == "print" else asked.first
        threshold = Threshold(app(room), at.getsockname()[1], first)
        address = f"{own}{ENTRANCE}?key={threshold.key}"

        def ready() -> None:
            tell(address)
            threading.Thread(target=room.warm, daemon=True).start()
            if browse and (found := browser()):
                threading.Thread(target=found.open, args=(address,), daemon=True).start()

        serve(threshold, at, ready, room.hush)
    return own
