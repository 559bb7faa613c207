"""A browser with a window of its own, if one can be opened here. Those that run in the terminal do not count: they
would stand in the place of what it shows, and have none of what the pages are made with."""

from __future__ import annotations

import shutil
import webbrowser
from pathlib import Path

_IN_TERMINAL = {"elinks", "links", "links2", "lynx", "w3m", "www-browser"}


def browser() -> webbrowser.BaseBrowser | None:
    """The one that she has chosen, or that the system opens; None if there is none."""
    try:
        found = webbrowser.get()
    except webbrowser.Error:
        return None
    missing = isinstance(found, webbrowser.GenericBrowser) and shutil.which(found.name) is None
    return None if missing or Path(found.name).stem in _IN_TERMINAL else found
