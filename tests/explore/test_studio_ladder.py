"""A print at rising numbers of pairs: coarse first, then the pieces that `stampwork budget` shows."""

from __future__ import annotations

from typing import Any

import pytest
from studios import Visited, broken_off, heard

from constraints.brief import UNKNOWN
from explore.editing.budget.survey import survey
from explore.studio.easel import drawn
from explore.studio.ladder import PrintLadder, brief_of_budgets

_RUNGS = (10, 12)


def told_of(worked_out: PrintLadder) -> list[dict[str, Any]]:
    """All that is told, up to the end."""
    return heard(worked_out.stream, "ladder", "failed")


def test_every_rung_comes_coarse_and_then_as_the_command_has_it(
    house: Visited, monkeypatch: pytest.MonkeyPatch
) -> None:
    for module in ("ladder", "of_ladders"):
        monkeypatch.setattr(f"explore.studio.{module}.RUNGS", _RUNGS)
    # A triangle is known in no square so small.
    brief = brief_of_budgets(house.room.prints.word("kite.svg")).changed(known=UNKNOWN, stitches=("cloth",))
    monkeypatch.setattr("explore.studio.workroom.brief_of_budgets", lambda word: brief)
    events = told_of(house.room.ladder("kite.svg", None))
    rungs = [(each["state"], each["pairs"]) for each in events[:-1]]
    assert rungs == [(state, pairs) for state in ("coarse", "full") for pairs in _RUNGS]
    # Half-size N takes N + 2 pairs with one passive (`fakes`): 8 and 10 pitches of 5 mm.
    assert [each["width"] for each in events[:2]] == ["40 mm wide", "50 mm wide"]
    stamp = house.room.prints.stamp("kite.svg", None)
    done = survey(brief, (stamp,), (10, 12), _RUNGS, 1, lambda what, part, of: None)
    for pairs in _RUNGS:
        shown = done.shown(pairs)
        page = house.client.get(f"/ladder/drawing?of=kite.svg&pairs={pairs}&state=full")
        if shown is None or not shown.designs:
            assert page.status_code == 422
        else:
            assert page.text == drawn(shown.designs[0], "drawing")
    assert any(each["drawn"] for each in events[:2])
    assert any(each["drawn"] for each in events[2:-1])
    # Whoever comes again is told all of it at once, and nothing is worked out anew.
    assert told_of(house.room.ladder("kite.svg", None)) == events
    text = house.client.get("/ladder?of=kite.svg").text
    assert "budget kite.svg --pairs 10-12 --every 2" in text
    assert "/print?of=kite.svg&amp;pairs=12" in text


@pytest.mark.filterwarnings("ignore::pytest.PytestUnhandledThreadExceptionWarning")
def test_a_defect_is_told_and_not_taken_for_the_end_of_the_studio(
    house: Visited, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("explore.studio.ladder.RUNGS", (10,))
    broken_off(monkeypatch, "explore.studio.ladder.falls", lambda: house.room.ladder("kite.svg", 45.0).stream)


@pytest.mark.filterwarnings("ignore::pytest.PytestUnhandledThreadExceptionWarning")
def test_a_defect_amid_the_ribbon_of_sizes_is_told_too(house: Visited, monkeypatch: pytest.MonkeyPatch) -> None:
    broken_off(monkeypatch, "explore.studio.ribbon.WorkerPool", lambda: house.room.ribbon("kite.svg", 30.0).stream)


@pytest.mark.parametrize("what", ["of=none.svg", "of=../kite.svg", "of=kite.svg&turn=x", "of=kite.svg&turn=999"])
def test_what_is_no_print_has_no_ladder(house: Visited, what: str) -> None:
    for path in ("/ladder", "/ladder/told", "/ladder/drawing"):
        assert house.client.get(f"{path}?{what}&pairs=16&state=full").status_code in (404, 422)
