"""When a stamp finds no place, the mends told have been worked out: following one of them finds squares."""

import re

from constraints.brief import Brief
from explore.reading import built_in, read
from explore.search import search

TULIP = read(built_in("tulip"))


def note(brief: Brief) -> str:
    (step,) = search(brief, TULIP, cores=1)
    assert step.square is None
    return step.note


def finds(brief: Brief) -> bool:
    return any(step.square is not None for step in search(brief, TULIP, cores=1, count=1))


def test_too_few_pairs_for_whole_copies_name_the_pairs_that_suffice() -> None:
    told = note(Brief(pairs=12))
    pairs = re.search(r"take (\d+) pairs", told)
    assert pairs, told
    assert finds(Brief(pairs=int(pairs[1]), match=0.4, solid=(0.0, 0.6)))
    assert note(Brief(pairs=int(pairs[1]) - 1))  # one pair fewer finds no place either


def test_too_high_a_match_names_the_one_that_is_reached() -> None:
    brief = Brief(half_size=(14, 14), match=0.99, symmetry="upright-mirror")
    told = note(brief)
    lower = re.search(r"lower match to ([\d.]+)", told)
    assert lower, told
    assert finds(Brief(half_size=(14, 14), match=float(lower[1]), symmetry="upright-mirror"))
