"""Prickings: marks on demand, and parts that are joined to the whole."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from examples import diamond, gallery_of, make
from pricked import ALL, LONELY, MIXED, circles, uncovered

from constraints.design import Design
from constraints.pins import pins
from constraints.working.work import work
from gallery.paper.layers import Dots, Lines, Words
from gallery.pricking.drawn import Pricking, PrickingOptions
from gallery.pricking.entries import cross_overs, entries
from gallery.pricking.pages import leaf_of_all
from gallery.pricking.parts import parts_of

# --- marks ----------------------------------------------------------------------------------------------


def test_dots_are_finer_under_half_stitch_and_bolder_under_cloth() -> None:
    assert set(circles(MIXED, PrickingOptions(pen=0.4))[:, 2].round(3)) == {0.4}
    widths, counts = np.unique(circles(MIXED, PrickingOptions(by_stitch=True))[:, 2].round(3), return_counts=True)
    # Diamonds of 3 pinholes a side have 4 (3 - 1) = 8 pins (teaching pages of Jo Edkins); four images of each.
    blocks = {stitch: sum(each.stitch == stitch for each in MIXED.blocks) for stitch in ("half", "cloth")}
    assert widths.tolist() == [0.35, 0.5, 0.65]
    assert counts.tolist() == [8 * blocks["half"], pins(MIXED) - 8 * len(MIXED.blocks), 8 * blocks["cloth"]]
    for pen in (0.3, 0.5, 0.7):
        options = PrickingOptions(pen=pen, by_stitch=True)
        assert 0.3 <= options.dot("half") <= options.dot("") == pen <= options.dot("cloth") <= 0.7


def test_each_block_has_one_arrow_clear_of_all_pins() -> None:
    pricking = Pricking(work(MIXED), PrickingOptions())
    found = entries(pricking.work)
    assert len(found) == 3 * len(MIXED.blocks)  # a shaft and two barbs
    away = np.hypot(*(found.reshape(-1, 1, 2) - pricking.places).transpose(2, 0, 1))
    assert away.min() * MIXED.pitch_mm / 2 > 0.7 / 2 + 0.2


def test_a_lone_rose_unit_has_four_cross_overs() -> None:
    """Four pins, and a cross-over at each corner (teaching pages of Jo Edkins)."""
    design = make(9, [], symmetry="none", rose=lambda x, y: (x == -4) & (y == 0))
    (filling,) = design.fillings
    assert len(filling.places) == 1
    assert len(cross_overs(work(design))) == 2 * 4


def test_marks_on_demand_have_layers_of_their_own() -> None:
    def names(options: PrickingOptions) -> list[str]:
        return [layer.name for layer in leaf_of_all(work(MIXED), "a", options, "whole").layers]

    plain = names(PrickingOptions())
    assert {"guides", "pinholes", "text", "measures"} == set(plain)
    assert set(names(ALL)) - set(plain) == {"arrows", "cross-overs", "numbers"}


def test_worked_round_both_corner_lines_are_drawn_and_the_start_line_is_bold() -> None:
    drawn = Pricking(work(LONELY), PrickingOptions()).drawn(parts_of(LONELY, "whole")[0])
    (guides,) = [layer for layer in drawn.layers if layer.name == "guides"]
    strokes = [
        (points, mark.width)
        for mark in guides.marks if isinstance(mark, Lines)
        for points in map(np.asarray, mark.path.to_polygons(closed_only=False))
    ]  # fmt: skip
    lengths = [(float(np.hypot(*np.ptp(points, axis=0))), width) for points, width in strokes]
    diagonal = LONELY.width_mm * 2**0.5
    widest = max(width for _, width in lengths)
    assert sum(length == pytest.approx(diagonal) and width < widest for length, width in lengths) >= 2
    assert [length for length, width in lengths if width == widest] == pytest.approx([diagonal / 2])


def luminance(colour: str) -> float:
    """Relative luminance (W3C, Web Content Accessibility Guidelines 2.1, 2018)."""
    share = np.array([int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)])
    linear = np.where(share <= 0.03928, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)
    return float(linear @ (0.2126, 0.7152, 0.0722))


def test_bars_and_dots_on_the_start_line_stand_out_from_it_and_it_from_the_paper() -> None:
    """Contrasts of 4.5 to 1 for what is as small as text, 3 to 1 for lines (the same guidelines, 1.4.3 and 1.4.11)."""
    design = make(12, [("cloth", diamond(-7, -7, 5))], symmetry="none")
    pricking = Pricking(work(design), PrickingOptions())
    assert len(pricking.work.seams.pins)  # all on the line from the top left corner, where the work begins
    assert (pricking.work.seams.pins[:, 0] == pricking.work.seams.pins[:, 1]).all()
    drawn = pricking.drawn(parts_of(design, "whole")[0])
    layers = [layer.name for layer in drawn.layers]
    assert layers.index("guides") < layers.index("seams")
    guides, seams = (next(layer for layer in drawn.layers if layer.name == name) for name in ("guides", "seams"))
    start = max((mark for mark in guides.marks if isinstance(mark, Lines)), key=lambda mark: mark.width)
    (bars,) = [mark for mark in seams.marks if isinstance(mark, Lines)]
    assert bars.width < start.width
    assert luminance(start.colour) + 0.05 >= 4.5 * (luminance(bars.colour) + 0.05)
    assert 3 * (luminance(start.colour) + 0.05) <= 1.05


# --- parts ----------------------------------------------------------------------------------------------


def joined(design: Design, part: str) -> np.ndarray:
    """(n, 2) the pins of all copies of all parts, brought back to where they belong, mm from the middle."""
    found = []
    pricking = Pricking(work(design), PrickingOptions())
    for each in parts_of(design, part):
        drawn = pricking.drawn(each)
        # Its outline says where it lies on paper.
        at = each.shape @ pricking.matrix(each)
        place = drawn.pins - (drawn.outline - at)[0]
        for copy in range(each.copies):
            turn = np.linalg.matrix_power(np.array([[0, 1], [-1, 0]]), copy * 4 // each.copies)
            found.append(place @ np.linalg.inv(each.turn) @ turn)
    return np.concatenate(found)


@pytest.mark.parametrize(("symmetry", "quarters", "halves"), [("full", 1, 1), ("half-turn", 2, 1), ("none", 4, 2)])
def test_parts_join_to_the_whole(symmetry: str, quarters: int, halves: int) -> None:
    design = make(9, [("half", diamond(-3, -2, 3))], symmetry=symmetry)
    for part, count in (("quarter", quarters), ("half", halves)):
        assert len(parts_of(design, part)) == count
        points, times = np.unique(joined(design, part).round(2) + 0.0, axis=0, return_counts=True)
        assert len(points) == pins(design)
        # The pins of the middle line stand on both halves; those of seams, on corner lines, on both quarters.
        x, y = points[times > 1].T
        assert (np.abs(y) < 0.01).all() if part == "half" else np.abs(np.abs(x) - np.abs(y)).max(initial=0.0) < 0.01
        assert (len(x) > 0) == (part == "half" or symmetry == "full")


def test_quarters_worked_round_are_worked_towards_her() -> None:
    """The footside lies on the lacemaker's left, or right, in every quarter."""
    for side in ("left", "right"):
        pricking = Pricking(work(LONELY), PrickingOptions(footside=side))
        for part in parts_of(LONELY, "quarter"):
            corners = part.shape @ pricking.matrix(part)
            outer = corners[1:, 0]
            assert outer == pytest.approx((-1 if side == "left" else 1) * LONELY.width_mm / 2)


def test_joining_crosses_of_a_quarter_fall_on_each_other() -> None:
    (part,) = parts_of(MIXED, "quarter")
    away = np.hypot(*part.join_marks.T).reshape(2, -1)
    assert away[0] == pytest.approx(away[1])


def test_parts_are_called_by_name_beside_them() -> None:
    leaf = leaf_of_all(work(LONELY), "a", PrickingOptions(), "quarter")
    words = [mark.text for layer in leaf.layers for mark in layer.marks if isinstance(mark, Words)]
    assert [each for each in words if each.startswith("quarter ")] == [f"quarter {k}" for k in (1, 2, 3, 4)]


@pytest.mark.parametrize("worked", ["round", "across"])
@pytest.mark.parametrize("footside", ["left", "right"])
def test_squares_of_all_kinds_show_and_number_their_pins(worked: str, footside: str) -> None:
    for design in gallery_of(8, 14, worked):
        leaf = leaf_of_all(work(design), "a", replace(ALL, footside=footside), "whole")
        marks = {layer.name: layer.marks for layer in leaf.layers}
        assert sum(len(mark.centres) for mark in marks["pinholes"] if isinstance(mark, Dots)) == pins(design)
        numbers = [int(mark.text) for mark in marks["numbers"] if isinstance(mark, Words)]
        assert sorted(numbers) == list(range(1, pins(design) + 1))
        assert uncovered(leaf)
