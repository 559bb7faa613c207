"""What is learnt of what she keeps of a study, in words, as `stampwork taste` learns it."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import Any

import numpy as np

from constraints.lattice import FloatArray
from explore.asking.tastes import TasteWords
from explore.storage.study import read_square

# Squares whose traits are kept in mind.
_MOST = 4096


def learnt_of(squares: tuple[tuple[str, int], ...], kept: frozenset[int]) -> dict[str, Any]:
    """Runs in the easel's process. squares: paths, each with the time of its last change, ns. kept: numbers.

    words: what she likes, in a sentence. taste: as --taste takes it, "" where nothing is learnt. Squares that cannot
    be read are left out.
    """
    from explore.editing.liking import Learnt, learn
    from gallery.seeing.traits import TRAITS

    if not kept:
        return {"words": "", "taste": ""}
    every = [(int(Path(path).stem), _traits(path, at)) for path, at in squares]
    sound = [(number, traits) for number, traits in every if traits is not None]
    measured = np.array([traits for _, traits in sound]).reshape(len(sound), len(TRAITS))
    learnt: Learnt = learn(measured, np.array([number in kept for number, _ in sound], dtype=np.bool_))
    return {"words": _sentence(learnt.told(clear=True), learnt.told(clear=False), learnt.kept, learnt.seen),
            "taste": TasteWords().to_toml(learnt.taste)}  # fmt: skip


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
