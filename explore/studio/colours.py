"""Her thread and her cloth: the colours in which lace is drawn for her, and whether one stands out from the other."""

from __future__ import annotations

import re
from typing import NamedTuple

from explore.bad_input import BadInput
from gallery.looks.palette import THREAD, VELVET, contrast

# What is offered; any other colour may be taken too (common practice, no source).
THREADS = {
    "white": "#ffffff",
    "ivory": THREAD,
    "ecru": "#dcc9a0",
    "grey": "#9aa0a6",
    "red": "#b3262e",
    "black": "#16161a",
}
CLOTHS = {
    "dark blue": VELVET, "blue": "#2f5d8c", "green": "#2f5a45", "wine red": "#6d1f2f", "black": "#141414",
    "linen": "#c9b591", "white": "#ffffff",
}  # fmt: skip
# The least at which what is drawn is told apart (WCAG 2.2, 1.4.11 Non-text Contrast).
_LEAST = 3.0


class Colours(NamedTuple):
    """Both as "#rrggbb"."""

    thread: str = THREAD
    cloth: str = VELVET

    @property
    def words(self) -> str:
        """What is amiss with them; "" if nothing."""
        ratio = contrast(self.thread, self.cloth)
        if ratio >= _LEAST:
            return ""
        return (
            f"They are hard to tell apart: their contrast is {ratio:.1f}, and to see the print well takes {_LEAST:g}."
        )

    @property
    def told(self) -> dict[str, str]:
        """What the page is told."""
        return {**self._asdict(), "words": self.words, "ink": self.ink}

    @property
    def ink(self) -> str:
        """Both in the address of a drawing."""
        return f"{self.thread[1:]}-{self.cloth[1:]}"


# Those of the look.
USUAL = Colours()


def colours_of(thread: object, cloth: object) -> Colours:
    """Those that a page sends. Raises BadInput."""
    given = [
        each.lower() for each in (thread, cloth) if isinstance(each, str) and re.fullmatch("#[0-9a-fA-F]{6}", each)
    ]
    if len(given) < 2:
        raise BadInput('a colour is written as "#rrggbb"')
    return Colours(*given)


def inked(ink: str) -> Colours:
    """Those in the address of a drawing; the usual ones where it has none. Raises BadInput."""
    if not ink:
        return USUAL
    thread, _, cloth = ink.partition("-")
    return colours_of(f"#{thread}", f"#{cloth}")
