"""A taste in a brief, and how a search follows it."""

from __future__ import annotations

import pytest
from designs import ring_of_diamonds, trail_and_spiders

from explore.asking.kinds import Unfit
from explore.asking.tastes import TASTES, TasteWords
from explore.search.accepting import JobOutcome
from explore.search.favouring import POOL, favoured, liked
from gallery.seeing.traits import TRAITS


@pytest.mark.parametrize("text", [*TASTES, "closed:1,roses:-0.5", "calm,roses:-1", "open,bold"])
def test_a_taste_reads_back_as_it_was_written(text: str) -> None:
    kind = TasteWords()
    value = kind.from_text(text)
    assert kind.from_text(kind.to_toml(value)) == value
    assert [name for name, _ in value] == [name for name in TRAITS if name in dict(value)]
    assert all(weight and abs(weight) <= 3 for _, weight in value)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("clam", "did you mean calm?"),
        ("rose:1", "did you mean roses?"),
        ("closed:4", ""),
        ("closed", ""),
        ("calm:1", ""),
        ("closed:1,closed:-1", ""),
        ("xyzzy:1", "there are blocks, filled"),
    ],
)
def test_what_is_no_taste_is_refused(text: str, said: str) -> None:
    with pytest.raises(Unfit) as refused:
        TasteWords().from_text(text)
    assert said in str(refused.value)


def test_of_each_group_of_jobs_the_one_liked_best_is_offered_first_and_the_search_goes_on_after_it() -> None:
    ring, trail = ring_of_diamonds(), trail_and_spiders()
    tried = [JobOutcome(job, (design,)) for job, design in enumerate([ring, ring, trail, ring, ring, trail])]
    first, second = favoured(tried, (("closed", 1.0),))
    assert (first.job, second.job) == (POOL - 1, len(tried) - 1)
    assert first.designs[0] is trail
    assert len(first.designs) == POOL
    assert next(iter(favoured(tried, (("closed", -1.0),)))).designs[0] is ring
    assert liked(trail, (("closed", 1.0),)) > liked(ring, (("closed", 1.0),))


def test_a_group_in_vain_says_why() -> None:
    (only,) = favoured([JobOutcome(job, (), "no place") for job in range(POOL)], (("closed", 1.0),))
    assert (only.job, only.designs, only.note) == (POOL - 1, [], "no place")
