"""What is learnt of what she keeps of a study, in words, as `stampwork taste` learns it."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import Any

import numpy as np

from constraints.lattice import BoolArray, FloatArray
from explore.asking.tastes import TasteWords
from explore.storage.study import read_square

# So many more kept are tried, where nothing is learnt yet.
MORE = (1, 2, 3, 5)
# Squares whose traits are kept in mind.
_MOST = 4096


def learnt_of(squares: tuple[tuple[str, int], ...], kept: frozenset[int]) -> dict[str, Any]:
    """Runs in the easel's process. squares: paths, each with the time of its last change, ns. kept: numbers.

    words: what she likes, in a sentence. taste: as --taste takes it, "" where nothing is learnt. open: whether more
    that she keeps may tell. Squares that cannot be read are left out.
    """
    from explore.editing.liking import Learnt, learn

    if not kept:
        return {"words": "", "taste": "", "open": False}
    learnt: Learnt = learn(*_measured(squares, kept))
    clear, perhaps = learnt.told(clear=True), learnt.told(clear=False)
    words = _sentence(clear, perhaps, learnt.kept, learnt.seen)
    still = not clear and not perhaps and learnt.kept < learnt.seen
    return {"words": words, "taste": TasteWords().to_toml(learnt.taste), "open": still}


def learnt_with(squares: tuple[tuple[str, int], ...], kept: frozenset[int], more: int) -> bool:
    """Runs in the easel's process: whether something would be learnt if she kept so many more of the kind; not, where
    so many are not left. squares, kept: as above, some of them kept."""
    from explore.editing.liking import certain_with

    traits, hers = _measured(squares, kept)
    return bool(hers.any()) and more < int((~hers).sum()) and certain_with(traits, hers, more)


def wanting(more: int) -> str:
    """What is said where nothing is learnt yet. more: so many more would do, as was tried; 0 if all that were tried do
    not."""
    if not more:
        return f"Even {MORE[-1]} more like them would not tell."
    return f"Keep {more} more like them, and it can tell."


def _measured(squares: tuple[tuple[str, int], ...], kept: frozenset[int]) -> tuple[FloatArray, BoolArray]:
    from gallery.seeing.traits import TRAITS

    every = [(int(Path(path).stem), _traits(path, at)) for path, at in squares]
    sound = [(number, traits) for number, traits in every if traits is not None]
    measured = np.array([traits for _, traits in sound]).reshape(len(sound), len(TRAITS))
    return measured, np.array([number in kept for number, _ in sound], dtype=np.bool_)


@lru_cache(maxsize=_MOST)
def _traits(path: str, at: int) -> FloatArray | None:
    from constraints.reader import DesignFileError
    from gallery.seeing.traits import measured

    try:
        return measured(read_square(Path(path)))
    except DesignFileError:
        return None


def _sentence(likes: list[str], perhaps: list[str], kept: int, seen: int) -> str:
    if kept == seen:
        return "You kept every square: put some away, and it learns what you like."
    if not likes and not perhaps:
        return f"The {kept} that you kept of {seen} say nothing of your taste yet; any {kept} might fit as well."
    told = [f"You like {', '.join(likes)}"] if likes else []
    told += [f"{'perhaps' if told else 'Perhaps you like'} {', '.join(perhaps)}"] if perhaps else []
    return "; ".join(told) + "."
