"""Prickings as pictures: every pinhole is found, pitch and tilt are measured, and what is doubtful is marked.

The pinholes are those of two figures of 1886 (see redrafting_cards). How badly they are drawn is made up.
"""

from __future__ import annotations

import io

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image
from redrafting_cards import EDGING, GROUND, Card, Places, repeated

from explore.bad_input import BadInput
from explore.editing.redrafting.dots import find_dots
from explore.editing.redrafting.draft import Draft
from explore.editing.redrafting.marks import view
from explore.editing.redrafting.repeat import broken, find_repeat
from explore.editing.redrafting.settling import numbered, settled
from explore.editing.redrafting.snapping import Seat, snap
from explore.reading.picture import open_picture

STRIP = repeated(EDGING, 6, 4)


def found(card: Card, places: Places, footside: str | None = None) -> tuple[Draft, Seat, np.ndarray]:
    """The draft of a picture of the places, how it lies, and where the dots were drawn."""
    data, at = card.picture(places)
    seen = view(open_picture(data))
    draft, seat = snap(find_dots(seen), seen.scale, footside)
    return draft, seat, at


@settings(max_examples=25)
@given(
    tilt=st.floats(-10, 10),
    pitch=st.floats(18, 55),
    size=st.floats(0.08, 0.15),
    noise=st.floats(0, 10),
    gradient=st.floats(0, 0.6),
    smudges=st.integers(0, 4),
    light=st.booleans(),
    quality=st.sampled_from((0, 50, 80)),
    seed=st.integers(0, 99),
)
def test_all_pinholes_of_the_ground_are_found_with_pitch_and_tilt(
    tilt: float,
    pitch: float,
    size: float,
    noise: float,
    gradient: float,
    smudges: int,
    light: bool,
    quality: int,
    seed: int,
) -> None:
    card = Card(
        pitch=pitch, radius=size * pitch, tilt=tilt, jitter=0.01, noise=noise, gradient=gradient, smudges=smudges,
        light=light, quality=quality, seed=seed,
    )  # fmt: skip
    draft, seat, at = found(card, GROUND)
    repeat = find_repeat(draft)
    assert repeat is not None
    assert repeat.rows == 2
    assert set(broken(draft, repeat).taken) == set(GROUND)
    assert seat.net.tilt == pytest.approx(tilt, abs=0.2)
    assert seat.pitch == pytest.approx(pitch, rel=0.01)
    drawn = seat.pixels(np.array(GROUND, dtype=float))
    assert np.linalg.norm(drawn - at, axis=1).max() < 0.06 * pitch


@pytest.mark.parametrize(
    "card",
    [
        Card(tilt=7, gradient=0.6, noise=6, smudges=8, lines=True, numbers=40, quality=60, seed=2),
        Card(lines=True, numbers=49, tilt=-3),
        Card(light=True, numbers=30, noise=10, tilt=11),
        Card(pitch=14, radius=1.5, tilt=2, quality=70),
        Card(pitch=90, radius=9, tilt=-8, smudges=10, noise=12),
        Card(specks=25, radius=3.2, seed=5),
    ],
    ids=["photograph", "lines and numbers", "held against the light", "tiny", "large", "specks"],
)
def test_lines_numbers_smudges_and_specks_are_read_over(card: Card) -> None:
    draft, seat, _ = found(card, STRIP)
    repeat = find_repeat(draft)
    assert repeat is not None
    settled_draft = broken(draft, repeat)
    assert set(settled_draft.taken) == set(STRIP)
    assert not settled_draft.headside
    assert repeat.rows == 6
    assert seat.net.tilt == pytest.approx(card.tilt, abs=0.2)


def test_unequal_scales_are_measured() -> None:
    _, seat, _ = found(Card(stretch=1.04, tilt=4), GROUND)
    assert seat.net.stretch == pytest.approx(1.04, abs=0.005)
    assert seat.net.tilt == pytest.approx(4, abs=0.2)


def test_a_strip_of_hundreds_of_pinholes_is_read_to_its_ends() -> None:
    long = repeated(EDGING, 6, 60)
    draft, _, _ = found(Card(pitch=20, radius=2.2, tilt=1.5, noise=5), long)
    assert len(long) == 721
    assert draft.taken == long


def test_a_dot_left_out_and_a_dot_too_many_break_the_repeat_and_are_for_her_to_settle() -> None:
    left_out = STRIP.index((2, 9))
    draft, _, _ = found(Card(missing=(left_out,), more=((4.0, 13.0),)), STRIP)
    repeat = find_repeat(draft)
    assert repeat is not None
    doubtful = numbered(broken(draft, repeat))
    told = [(each.number, each.place, each.taken) for each in doubtful.doubts]
    assert told == [(1, (2, 9), True), (2, (4, 13), False)]
    assert set(doubtful.taken) == set(STRIP)
    her_way = settled(doubtful, take=(2,), drop=(1,))
    assert set(her_way.taken) == set(STRIP) - {(2, 9)} | {(4, 13)}
    with pytest.raises(BadInput, match="the doubtful dots are 1 to 2"):
        settled(doubtful, take=(3,), drop=())
    with pytest.raises(BadInput, match="taken and dropped"):
        settled(doubtful, take=(1,), drop=(1,))


def test_a_dot_between_places_is_doubtful_and_counts_only_if_taken() -> None:
    draft, _, _ = found(Card(more=((3.5, 7.3),)), GROUND)
    (doubt,) = draft.doubts
    assert "off the grid" in doubt.why
    assert doubt.at == pytest.approx((3.5, 7.3), abs=0.1)
    assert not doubt.taken


def test_pins_beyond_the_headside_and_in_the_middle_of_holes_are_kept_apart() -> None:
    # Six scallop pins, and the pin of a spider of 8 legs whose four pinholes are not pricked.
    scallop = tuple((5.2 + dx, y + 6.0 * k) for k in range(4) for dx, y in ((-0.7, 0.4), (0.4, 1.4), (0.8, 2.6)))
    draft, _, _ = found(Card(more=scallop), STRIP)
    assert draft.taken == STRIP
    assert len(draft.headside) == len(scallop)
    assert np.allclose(sorted(draft.headside), sorted(scallop), atol=0.1)
    spider = tuple(place for place in GROUND if place not in {(4, 5), (3, 6), (5, 6), (4, 7)})
    draft, _, _ = found(Card(more=((4.0, 6.0),)), spider)
    assert draft.taken == spider
    assert draft.centres == ((4, 6),)


def test_pinholes_pricked_twice_count_once_and_are_told() -> None:
    draft, _, _ = found(Card(pitch=50, radius=2.5, more=((4.22, 5.0),)), GROUND)
    assert draft.taken == GROUND
    assert draft.doubled == 1


@pytest.mark.parametrize("side", ["left", "right", "top", "bottom"])
def test_the_footside_comes_to_the_left_wherever_it_lies(side: str) -> None:
    turned = {
        "left": STRIP,
        "right": tuple((-x, y) for x, y in STRIP),
        "top": tuple((-y, x) for x, y in STRIP),
        "bottom": tuple((y, -x) for x, y in STRIP),
    }[side]
    draft, seat, at = found(Card(tilt=2), turned)
    assert seat.side == side
    repeat = find_repeat(draft)
    assert repeat is not None
    assert (repeat.rows, len(repeat.pinholes), repeat.columns) == (6, 12, 5)
    drawn = seat.pixels(np.array(draft.taken, dtype=float))
    assert np.linalg.norm(drawn[:, None] - at[None], axis=2).min(axis=1).max() < 1.5
    assert found(Card(), STRIP, footside="right")[1].side == "right"


@pytest.mark.parametrize("side", ["left", "right", "top", "bottom"])
def test_a_card_turned_is_not_read_mirrored(side: str) -> None:
    """Of a strip that is not its own mirror image: unpinned places that lean down to the right. A card with its
    footside at the top or the bottom has been turned; on the right it is pricked for those who work that way, and
    comes to the left mirrored."""
    leaning = {(3, 2), (4, 3), (5, 4), (6, 5), (3, 4)}
    plain = tuple((x, y) for y in range(8) for x in range((y + 1) % 2, 10, 2) if (x, y) not in leaning)
    strip = repeated(plain, 8, 4)
    assert {(x, -y % 8) for x, y in plain} != set(plain)
    turned = {
        "left": strip,
        "right": tuple((-x, y) for x, y in strip),
        "top": tuple((-y, x) for x, y in strip),  # a quarter turn clockwise
        "bottom": tuple((y, -x) for x, y in strip),
    }[side]
    draft, _, _ = found(Card(tilt=2), turned, footside=side)
    assert draft.taken == strip


@pytest.mark.parametrize(
    ("values", "words"),
    [
        (np.full((300, 200), 255), "no dots"),
        (np.tile(np.linspace(0, 255, 400), (300, 1)), "dots"),
        (np.random.default_rng(1).uniform(0, 255, (240, 320)), "dots"),
        (np.kron(np.indices((8, 8)).sum(axis=0) % 2 * 255, np.ones((40, 40))), "dots"),
    ],
    ids=["blank", "shaded", "noise", "chequered"],
)
def test_a_picture_without_pinholes_is_refused_in_one_line(values: np.ndarray, words: str) -> None:
    out = io.BytesIO()
    Image.fromarray(values.astype(np.uint8)).save(out, "PNG")
    seen = view(open_picture(out.getvalue()))
    with pytest.raises(BadInput, match=words) as refused:
        snap(find_dots(seen), seen.scale)
    assert "\n" not in str(refused.value)


def test_two_dots_are_too_few() -> None:
    data, _ = Card().picture(((0, 1), (1, 2)))
    seen = view(open_picture(data))
    with pytest.raises(BadInput, match="2 dots"):
        find_dots(seen)
