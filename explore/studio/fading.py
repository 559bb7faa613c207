"""Wishes of a study that change while it lies on the table, and which of its squares they no longer hold of."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any, cast

from constraints.brief import Brief, BriefValues
from constraints.design import Design
from constraints.fillings import ALLOWED
from constraints.forms import USUAL
from explore import asking
from explore.asking.keys import MOST_PAIRS
from explore.bad_input import BadInput
from explore.files import write_whole
from explore.search.sizing import SIZING
from explore.storage.free import BRIEF
from explore.storage.state import text_of
from explore.storage.study import read_square

# What may be changed: keys of a brief, as flags.
KEYS = ("pairs", "stitches", "solid")
# Squares that are kept in mind, each under the wishes that it was held against.
_MOST = 8192


def brief_in(folder: Path) -> Brief:
    """The brief of a study. Raises BadInput, OSError."""
    return asking.from_toml(text_of(folder / BRIEF), str(folder / BRIEF))


def told(brief: Brief) -> dict[str, Any]:
    """Those of KEYS as the page shows them."""
    rules = brief.rules
    stitches = [
        {"name": name, "words": name.replace("-", " "), "on": name in rules.stitches, "least": rules.least.get(name, 0)}
        for name in ALLOWED
    ]
    solid = [round(100 * share) for share in rules.solid]
    return {"pairs": rules.pairs, "most": MOST_PAIRS, "stitches": stitches, "solid": solid}


def changed(brief: Brief, given: object) -> Brief:
    """A brief with other wishes. given: texts by KEYS, as flags. Raises BadInput."""
    if not isinstance(given, Mapping) or any(name not in KEYS or not isinstance(given[name], str) for name in given):
        raise BadInput(f"of a study there can be changed: {', '.join(KEYS)}")
    values: dict[str, Any] = {
        name: asking.read_option(asking.NAMED[name].flag, text, asking.NAMED[name].kind) for name, text in given.items()
    }
    if "stitches" in values:
        least = values["stitches"]
        values.update(stitches=tuple(least), least={name: number for name, number in least.items() if number})
    after = brief.changed(**cast(BriefValues, values))
    if why := SIZING[after.piece.form].conflict(after):
        raise BadInput(why)
    return after


def write(folder: Path, brief: Brief) -> None:
    """The brief of a study from now on. Raises OSError."""
    write_whole(folder / BRIEF, asking.to_toml(brief))


def faded(squares: tuple[tuple[str, int], ...], brief: str) -> dict[str, str]:
    """Runs in the easel's process: of the squares that do not hold of a brief, as TOML, why, by number. squares: paths,
    each with the time of its last change, ns."""
    whys = {str(int(Path(path).stem)): _why(path, at, brief) for path, at in squares}
    return {number: why for number, why in whys.items() if why}


@lru_cache(maxsize=_MOST)
def _why(path: str, at: int, brief: str) -> str:
    from constraints.reader import DesignFileError

    try:
        return why_not(read_square(Path(path)), _brief(brief))
    except DesignFileError:
        return ""


@lru_cache(maxsize=8)
def _brief(text: str) -> Brief:
    return asking.from_toml(text, BRIEF)


def why_not(design: Design, brief: Brief) -> str:
    """Why a square is not as a brief wishes in its KEYS, in words; "" if it is."""
    from constraints.check import RULES, WHOLE
    from constraints.check.limits import read
    from constraints.layout import lay
    from constraints.repeats import repeat_of

    sizing = SIZING[brief.piece.form]
    sizes = {form.width for way in brief.piece.ways for form in sizing.allowed(brief.changed(worked=way))}
    if brief.piece.form == USUAL and not sizing.named(brief) and design.form.width not in sizes:
        return f"it has {design.pairs} pairs"
    limits, _ = read({**brief.rules.told(), "match": None})
    layout = lay(design)
    faults = [*WHOLE["pairs"](layout, limits)]
    layout = repeat_of(design) if design.form.repeating else layout
    for name in ("stitches", "least", "solid"):
        faults += RULES[name](layout, limits)
    words = faults[0][0] if faults else ""
    return words.replace("the brief does not allow", "you left out").replace("the brief wants", "you want")
