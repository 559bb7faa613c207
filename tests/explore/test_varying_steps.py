"""Small steps say what changed, and it is true: recomputed from the squares' files alone."""

from __future__ import annotations

import json
import re

import pytest
from asked import file_of
from varied import Data, Point, blocks, components, exact, kinds, units, width

from constraints.brief import Brief
from constraints.check import check
from constraints.design import Design
from constraints.piece import ACROSS, ROUND
from constraints.stamp import Stamp
from explore.editing.varying.kept import kept
from explore.editing.varying.setting import VaryingContext
from explore.editing.varying.steps import SmallStep, steps
from explore.editing.varying.telling import told_apart
from explore.reading import built_in, read
from explore.search.search import search

# What the description of squares in `varied` knows.
TOLD = ("cloth", "half", "whole", "rose", "spider", "double-ground")

TULIP = read(built_in("tulip"))
BRIEFS: dict[str, tuple[Brief, tuple[Stamp, ...]]] = {
    "plain": (Brief.of(half_size=(16, 16), solid=(0.1, 0.6), stitches=TOLD, seed=3), ()),
    "across": (
        Brief.of(half_size=(12, 12), pairs=60, worked=ACROSS, symmetry="upright-mirror", solid=(0.05, 0.6), seed=2),
        (),
    ),
    "tulips": (Brief.of(stamp="tulip", half_size=(20, 20), solid=(0.1, 0.6), symmetry="quarter-turn"), (TULIP,)),
    "no symmetry": (Brief.of(half_size=(12, 12), symmetry="none", worked=ROUND, solid=(0.1, 0.6)), ()),
}  # fmt: skip


@pytest.fixture(scope="module", params=BRIEFS)
def made(request: pytest.FixtureRequest) -> list[tuple[Design, list[SmallStep]]]:
    """Some squares with all their steps."""
    brief, stamps = BRIEFS[request.param]
    found = []
    for step in search(brief, *stamps, count=3, cores=1):
        if step.design is not None:
            setting = VaryingContext(step.design, brief, stamps, kept(step.design, []))
            found.append((step.design, told_apart(setting, list(steps(setting)))))
    return found


def valid(made: list[tuple[Design, list[SmallStep]]]) -> list[tuple[Data, str, Data]]:
    return [
        (file_of(chosen), step.words, file_of(step.design))
        for chosen, found in made
        for step in found
        if step.design is not None
    ]


def test_every_step_stays_valid_and_leads_to_another_square(made: list[tuple[Design, list[SmallStep]]]) -> None:
    for chosen, found in made:
        designs = [step.design for step in found if step.design is not None]
        assert designs
        assert all(check(design) == [] for design in designs)
        texts = [json.dumps(exact(file_of(design)).__repr__()) for design in (chosen, *designs)]
        assert len(set(texts)) == len(texts)
        assert [bool(step.reason) for step in found] == [step.design is None for step in found]


def test_no_two_steps_of_a_square_say_the_same(made: list[tuple[Design, list[SmallStep]]]) -> None:
    for _, found in made:
        words = [step.words for step in found if step.design is not None]
        assert len(set(words)) == len(words)


def test_blocks_change_exactly_as_told(made: list[tuple[Design, list[SmallStep]]]) -> None:
    for before, words, after in valid(made):
        old, new = blocks(before), blocks(after)
        if " removed" in words:
            assert new < old
            gone = components(old - new)
            assert all(each in components(old) for each in gone)
            assert words.split(" ")[0].endswith("s") == (len(gone) > 1)
        elif " added " in words:
            assert old < new
            side = int(re.findall(r"of (\d+) pinholes a side", words)[0])
            come = components(new - old)
            assert all(len(each) == side**2 and width(each) == side for each in come)
            assert all(each in components(new) for each in come)
        elif widths := re.findall(r"(\d+) to (\d+) pinholes", words):
            was, now = map(int, widths[0])
            left = [each for each in components(old) if each not in components(new)]
            come = [each for each in components(new) if each not in components(old)]
            assert {width(each) for each in left} == {was}
            assert {width(each) for each in come} == {now}
            assert len(left) == len(come)
        else:
            assert old == new


def test_fields_are_filled_as_told(made: list[tuple[Design, list[SmallStep]]]) -> None:
    for before, words, after in valid(made):
        told = re.match(r"(roses|spiders of (\d+) legs|plain ground|double ground) in the ", words)
        if told is None:
            continue
        first, second = exact(before), exact(after)
        differ = {point for point in first if first[point] != second[point]}
        assert differ
        wanted = {
            "roses": {"rose"}, "plain ground": {"plain"}, "double ground": {"double"},
        }.get(told[1], {f"spider {told[2]}"})  # fmt: skip
        new = {second[point].split(" at ")[0] for point in differ}
        assert new <= wanted | {"plain"}
        assert new & wanted


FIGURES = r"(\d+) (rose|spider)s?(?: of (\d+) legs)? (gone|new)"
GROUND = r"double ground (gone|new) at (\d+) pinhole"


def figures(found: Data) -> set[str]:
    return set(units(found).values())


def test_a_step_changes_what_it_says_and_nothing_else(made: list[tuple[Design, list[SmallStep]]]) -> None:
    """Every pinhole that is worked otherwise lies in a block that went or came, in a figure that is counted among
    those gone or new, or in double ground that is."""
    for before, words, after in valid(made):
        first, second = exact(before), exact(after)
        differ = {point for point in first if first[point] != second[point]}
        if " in the " in words and not re.search(r" removed| added | to \d+ pinholes", words):
            continue  # a field filled otherwise
        differ -= blocks(before) ^ blocks(after)
        counted: dict[tuple[str, str, str], int] = {}
        for count, name, legs, what in re.findall(FIGURES, words):
            counted[name, legs, what] = int(count)
        told: dict[tuple[str, str, str], int] = {}
        for gone, what in ((figures(before) - figures(after), "gone"), (figures(after) - figures(before), "new")):
            for each in gone:
                name, _, legs = each.partition(" at ")[0].partition(" ")
                told[name, legs, what] = told.get((name, legs, what), 0) + 1
        assert counted == told, words
        double = {what: int(count) for what, count in re.findall(GROUND, words)}
        open_now = {point for point in second if not second[point].startswith("block")}
        lost = {p for p in open_now if first[p] == "double" != second[p]}
        came = {p for p in open_now if second[p] == "double" != first[p]}
        assert double == {what: len(each) for what, each in (("gone", lost), ("new", came)) if each}, words
        ends = {each for each in (first[p] for p in differ) if " at " in each} | {
            each for each in (second[p] for p in differ) if " at " in each}  # fmt: skip
        assert ends <= figures(before) ^ figures(after), words
        assert all(" at " in first[p] + second[p] or p in lost | came for p in differ), words


def test_a_block_that_comes_takes_only_figures_away_on_which_it_lies(
    made: list[tuple[Design, list[SmallStep]]],
) -> None:
    for before, words, after in valid(made):
        if blocks(before) < blocks(after) and "new" not in words:
            came = blocks(after) - blocks(before)
            near = {(x + a, y + b) for x, y in came for a in range(-2, 3) for b in range(-2, 3)}
            gone = figures(before) - figures(after)
            first = units(before)
            assert all(any(p in near for p in first if first[p] == each) for each in gone), words


def test_what_is_made_wider_is_still_called_what_it_is(made: list[tuple[Design, list[SmallStep]]]) -> None:
    """A diamond of so many pinholes a side has the square of that, a bar that times its length."""
    for before, words, after in valid(made):
        if widths := re.match(r"(diamond|bar)s? .*?(\d+) to (\d+) pinholes", words):
            come = [each for each in components(blocks(after)) if each not in components(blocks(before))]
            for each in come:
                falling, rising = ({x + y for x, y in each}, {y - x for x, y in each})
                assert len(each) == len(falling) * len(rising), words
                assert (len(falling) == len(rising)) == (widths[1] == "diamond")
                assert min(len(falling), len(rising)) == int(widths[3])


def test_a_field_filled_otherwise_leaves_all_other_fields(made: list[tuple[Design, list[SmallStep]]]) -> None:
    for before, words, after in valid(made):
        if blocks(before) == blocks(after):
            first, second = exact(before), exact(after)
            differ = {point for point in first if first[point] != second[point]}
            kind = {"roses": "rose", "plain": "plain", "double": "double"}.get(words.split(" ")[0], "spider")
            assert all(second[p].startswith((kind, "plain")) for p in differ), words
            gone = {first[p] for p in differ if " at " in first[p]}
            assert all(second[p] != first[p] for p in first if first[p] in gone), words


def places(words: str, n: int, point: tuple[float, float]) -> bool:
    """Whether the middle of a part may be called as the words say; only words that name a direction are held."""
    far, near = max(map(abs, point)), min(map(abs, point))
    if "in the corners" in words or " corner fields" in words:
        return far >= 0.3 * n and near >= 0.3 * far
    if "at the sides" in words or " side fields" in words:
        return near <= 0.6 * far
    if "in the centre" in words:
        return far <= 0.3 * n
    return True


def test_steps_lie_where_they_say(made: list[tuple[Design, list[SmallStep]]]) -> None:
    for before, words, after in valid(made):
        if " removed" in words or " added " in words:
            for part in components(blocks(before) ^ blocks(after)):
                middle = sum(x for x, _ in part) / len(part), sum(y for _, y in part) / len(part)
                assert places(words, before["half_size"], middle), words


def test_what_a_step_does_not_touch_stays(made: list[tuple[Design, list[SmallStep]]]) -> None:
    """Units in fields that no changed block borders on, and that are not refilled, stay where they were."""
    for before, words, after in valid(made):
        if " removed" not in words and " added " not in words:
            continue
        touched = fields_near(before, after)
        first, second = units(before), units(after)
        for point in first:
            if point not in touched:
                assert second.get(point) == first[point], words


def fields_near(before: Data, after: Data) -> set[Point]:
    """The open pinholes of fields, of either square, that a changed block borders on."""
    near: set[Point] = set()
    moved = blocks(before) ^ blocks(after)
    for each in (before, after):
        n, solid = each["half_size"], blocks(each)
        open_holes = {
            (x, y)
            for x in range(-n, n + 1)
            for y in range(-n, n + 1)
            if (x + y) % 2 == 0 and max(abs(x), abs(y)) <= n - 2
            and not {(x, y - 1), (x, y + 1), (x - 1, y), (x + 1, y)} & solid
        }  # fmt: skip
        for field in components(open_holes):
            corners = {p for x, y in field for p in ((x, y - 1), (x, y + 1), (x - 1, y), (x + 1, y))}
            if any((x + a, y + b) in moved for x, y in corners for a in (-1, 0, 1) for b in (-1, 0, 1)):
                near |= corners
    return near


def test_steps_are_the_same_every_time() -> None:
    brief, stamps = BRIEFS["plain"]
    chosen = next(step.design for step in search(brief, *stamps, count=1, cores=1) if step.design is not None)
    runs = [list(steps(VaryingContext(chosen, brief, stamps, kept(chosen, [])))) for _ in range(2)]
    assert runs[0] == runs[1]


def test_kept_places_take_no_step(made: list[tuple[Design, list[SmallStep]]]) -> None:
    chosen, _ = made[0]
    brief = Brief.of(half_size=(chosen.half_size,) * 2, symmetry=chosen.symmetry, worked=chosen.worked,
        pairs=60, stitches=TOLD, solid=(0.0, 1.0), match=0.0,
    )  # fmt: skip
    setting = VaryingContext(chosen, brief, (), kept(chosen, ["centre"]))
    half = chosen.half_size / 2
    for step in steps(setting):
        if step.design is not None:
            first, second = exact(file_of(chosen)), exact(file_of(step.design))
            assert all(first[x, y] == second[x, y] for x, y in first if max(abs(x), abs(y)) <= half)
            assert kinds(file_of(step.design)).keys() == kinds(file_of(chosen)).keys()
