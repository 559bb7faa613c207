"""Wishes in the studio: what they come to at once, what cannot be had, and what mends it."""

from __future__ import annotations

import json

import pytest
from fakes import petal
from studios import Visited, ended, told

from explore.reading import built_in, read
from explore.studio import rooms, wishes

# Squares of few pairs, however well the print is known in them.
EASY = {"pairs": "12", "symmetry": "none", "known": "no", "count": "2"}


def test_what_cannot_be_had_is_told_with_what_mends_it_and_leaves_nothing(house: Visited) -> None:
    before = sorted(house.room.folder.path.iterdir())
    flags = {**EASY, "pairs": "28", "pitch": "4-5mm", "width": "140mm"}
    status, told_at_once = house.post("/wishes", json.dumps({"of": "kite.svg", "flags": flags}))
    assert status == 200
    # README's own example of what cannot be had, and its mends.
    assert told_at_once["why"] == "28 pairs at a 4-5 mm pitch give at most 130 mm, 140 mm is asked for."
    _, offered = house.post("/wishes/mends", json.dumps({"of": "kite.svg", "flags": flags}))
    assert {each["words"] for each in offered["mends"]} == {"30 pairs", "130mm wide"}
    flags = {**EASY, "pitch": "4-5mm", "width": "55mm"}
    _, answer = house.post("/find", json.dumps({"of": "kite.svg", "turn": None, "flags": flags}))
    events = told(house, str(answer["study"]), ended)
    assert events[-1]["words"].startswith("It cannot be had. 12 pairs at a 4-5 mm pitch give at most 50 mm, 55 mm is")
    assert {each["words"] for each in events[-1]["mends"]} == {"13 pairs", "50mm wide"}
    assert sorted(house.room.folder.path.iterdir()) == before


@pytest.mark.parametrize("flags", [{"margin": "9"}, {"out": "/tmp"}, {"pairs": 30}, {"pairs": "x" * 500}, ["pairs"]])
def test_no_wish_but_those_of_the_page_is_taken(house: Visited, flags: object) -> None:
    status, answer = house.post("/find", json.dumps({"of": "kite.svg", "flags": flags}))
    assert (status, set(answer)) == (422, {"why"})


def test_the_sentence_names_size_print_and_verdict() -> None:
    stamp = petal()
    brief = wishes.brief_of("tulip", {"pairs": "28", "known": "no"})
    found = rooms.room_for(stamp, brief)
    assert 0 < found.size <= 28
    # 28 pairs worked round with one passive: 26 pitches (README: a square of N pitches takes N pairs, the edge pair
    # and the passives).
    words = wishes.measured(wishes.brief_of("tulip", {"pairs": "28"}))["words"]
    assert words.startswith("28 pairs: 130 mm wide, 26 pitches of 5 mm")
    words = rooms.in_it("moth", found, 14.0, "known", "known")["words"]
    assert words == f"Your moth: up to {found.size:g} pitches, known."
    small = rooms.in_it("moth", rooms.Room(8.0, {}), 12.0, "not known", "known")
    assert small["why"] == "Your moth: up to 8 pitches, not known: it begins to be known at 12."


def test_the_pairs_that_are_offered_are_the_fewest_that_give_the_print_room() -> None:
    """One by one, as README's own refusal names them: the watering can, known from 12 pitches, with 12 pairs."""
    stamp, brief = read(built_in("watering-can")), wishes.brief_of("watering-can", {"pairs": "12"})
    assert rooms.wider_for(stamp, brief, 12.0) == {"pairs": "16"}
    assert rooms.room_for(stamp, brief.changed(pairs=15)).size < 12
    assert rooms.room_for(stamp, brief.changed(pairs=16)).size >= 12
    assert rooms.wider_for(stamp, brief, 500.0) == {}
    offered = rooms.mends_of_room({"pairs": "16"}, "known")
    assert [(each["words"], each["flags"]) for each in offered] == [
        ("16 pairs", {"pairs": "16"}),
        ("take it all the same", {"known": "no"}),
    ]
