"""What was worked out before in a process is not worked out again, and is the same."""

import pytest

from constraints.brief import Brief, BriefValues
from constraints.design import Design
from explore.reading import built_in, read
from explore.search import memory, workshop
from explore.search.attempt import attempt
from explore.search.kinds import KindsWorkshop
from explore.search.laying.falls import look, looks
from explore.search.laying.placement import Laid, depends_on, lay
from explore.search.memory import Memory
from explore.search.workers import WorkerPool
from explore.search.workshops import workshop as workshop_of

LEAF = read(built_in("leaf"))


def double(worked: list[int], _: int, task: int) -> int:
    worked.append(task)
    return 2 * task


def doubled(kept: Memory[str, int], tasks: dict[str, int]) -> tuple[list[tuple[int, int]], list[int]]:
    """What tasks come to, by their keys, and those that were worked out."""
    worked: list[int] = []
    with WorkerPool(list, (), 1, own=worked) as workers:
        return list(kept.in_order(workers, double, list(enumerate(tasks.values())), list(tasks))), worked


def test_each_task_is_worked_out_once_and_all_come_in_their_order() -> None:
    kept: Memory[str, int] = Memory(kept=8)
    assert doubled(kept, {"b": 2, "d": 4}) == ([(0, 4), (1, 8)], [2, 4])
    assert doubled(kept, {"a": 1, "b": 2, "c": 3, "d": 4}) == ([(0, 2), (1, 4), (2, 6), (3, 8)], [1, 3])


def test_the_first_are_forgotten_first_and_all_when_it_is_asked() -> None:
    kept: Memory[str, int] = Memory(kept=2)
    doubled(kept, {"a": 1, "b": 2, "c": 3})
    assert doubled(kept, {"a": 1, "c": 3})[1] == [1]
    memory.forget()
    assert doubled(kept, {"a": 1, "c": 3})[1] == [1, 3]


@pytest.mark.parametrize("brief", [Brief.of(pairs=14), Brief.of(pairs=30, worked="across", solid=(0.3, 0.4), count=3)])
def test_a_stamp_alone_is_the_same_to_briefs_that_differ_in_what_it_does_not_depend_on(brief: Brief) -> None:
    """Those are of the same piece under other limits, which the first knows nothing of."""
    memory.forget()
    with WorkerPool(list, (), 1) as workers:
        first = list(
            looks(
                workers,
                lambda _, number, size: look(LEAF, Brief.of(pairs=20), size),
                [(0, (LEAF, Brief.of(pairs=20), 8.0))],
            )
        )
        again = list(looks(workers, lambda *_: pytest.fail("looked at again"), [(0, (LEAF, brief, 8.0))]))
    assert again[0][1] is first[0][1]
    afresh, before = look(LEAF, brief, 8.0), first[0][1]
    assert afresh is not None
    assert before is not None
    assert afresh.design == before.design
    assert (afresh.worth, afresh.most, afresh.seen) == (before.worth, before.most, before.seen)


@pytest.mark.parametrize("other", [{"narrowest": 3}, {"splits": 2}, {"effort": 2.0}, {"passives": 2}, {"margin": 4}])
def test_a_stamp_alone_is_looked_at_again_where_what_it_depends_on_differs(other: dict[str, float]) -> None:
    memory.forget()
    looked: list[float] = []

    def looking(_: object, number: int, size: float) -> None:
        looked.append(size)

    with WorkerPool(list, (), 1) as workers:
        for brief in (Brief.of(pairs=20), Brief.of(pairs=20).changed(**other), Brief.of(pairs=20)):
            list(looks(workers, looking, [(0, (LEAF, brief, 8.0))]))
    assert looked == [8.0, 8.0]


STRIP = Brief.of(form="strip", stamp="leaf", worked="across", symmetry="none", rows=(20, 20), pairs=20)


def laid_on(brief: Brief) -> tuple[object, Laid | None]:
    """What laying at the first place depends on, and what it comes to."""
    made = workshop_of(brief, LEAF)
    assert isinstance(made, KindsWorkshop)
    number, placement = made.stages.ranks(made.stages.every)[0][0]
    at = brief, made.kinds[number].context, placement
    return depends_on(*at), lay(*at)


def test_what_a_stamp_laid_on_a_strip_depends_on_is_all_that_changes_it() -> None:
    """Share of solid and stitches say nothing of how it is laid, and effort, splits and the least ground do."""
    before, first = laid_on(STRIP)
    assert first is not None
    assert first.blocking is not None
    alike = STRIP.changed(solid=(0.3, 0.4), stitches=("half", "rose"), count=2, least={"rose": 1})
    again, second = laid_on(alike)
    assert again == before
    assert second is not None
    assert second.blocking is not None
    assert second.blocking.block.tolist() == first.blocking.block.tolist()
    assert (second.seen, second.splits, second.placement) == (first.seen, first.splits, first.placement)
    others: list[BriefValues] = [{"effort": 2.0}, {"own_splits": 2}, {"narrowest_ground": 3}, {"match": 0.8}]
    assert before not in [laid_on(STRIP.changed(**each))[0] for each in others]


def test_a_composition_that_comes_again_is_attempted_once(monkeypatch: pytest.MonkeyPatch) -> None:
    tried: list[str] = []

    def noted(*given: object) -> tuple[Design | None, str]:
        tried.append(given[3].what)
        return attempt(*given)

    monkeypatch.setattr(workshop, "attempt", noted)
    own = workshop_of(Brief.of(pairs=14, symmetry="full"))
    first, other, again = own.run(0, None), own.run(1, None), own.run(0, None)
    assert len(tried) == 2
    assert again[0] is first[0] is not None
    assert other[0] != first[0]
