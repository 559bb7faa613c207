"""The step from pinhole to pinhole, voted for by the marks that stand nearest to each other, and the marks it links."""

from __future__ import annotations

import numpy as np

from constraints.lattice import FloatArray, IntArray

# Neighbours looked at, steps tried, and how far off a step may be, as a share of it.
NEAREST, STEPS_TRIED, SLACK = 8, 6, 0.3
# Marks needed before a grid is believed.
FEWEST = 6
_SIZES, _TURNS = 48, 45
# Steps about alike are counted together: of pinholes printed, and of those pricked by hand (cells around).
WIDTHS = (1, 4)


def neighbours(at: FloatArray) -> tuple[IntArray, FloatArray]:
    """The nearest points of each, (n, k), and the offsets to them, (n, k, 2)."""
    count = min(NEAREST, len(at) - 1)
    x, y = at.T
    rows = []
    for start in range(0, len(at), 512):
        squared = (x[start : start + 512, None] - x) ** 2
        squared += (y[start : start + 512, None] - y) ** 2
        squared[np.arange(len(squared)), start + np.arange(len(squared))] = np.inf
        close = np.argpartition(squared, count - 1, axis=1)[:, :count]
        order = np.argsort(np.take_along_axis(squared, close, axis=1), axis=1, kind="stable")
        rows.append(np.take_along_axis(close, order, axis=1))
    beside = np.concatenate(rows)
    return beside, at[beside] - at[:, None, :]


def likely_steps(offsets: FloatArray) -> list[FloatArray]:
    """The steps that most marks take to a near one, turned to point down-right: (2,) each, likeliest first."""
    flat = offsets[_crossed(offsets)]
    if len(flat) < FEWEST:
        return []
    length = np.hypot(flat[:, 0], flat[:, 1])
    angle = np.degrees(np.arctan2(flat[:, 1], flat[:, 0])) % 90.0
    low, high = np.log(np.quantile(length, 0.01) + 1e-9), np.log(np.quantile(length, 0.9) + 1e-9)
    span = max(high - low, 0.1)
    size = (np.log(length + 1e-9) - low) / span * (_SIZES - 1)
    steps = []
    for wide in WIDTHS:
        counts = _votes(size, angle / 90 * _TURNS, wide)
        for _ in range(STEPS_TRIED):
            i, j = np.unravel_index(int(np.argmax(counts)), counts.shape)
            if counts[i, j] < FEWEST / 2:
                break
            turned = (angle / 90 * _TURNS - j + _TURNS / 2) % _TURNS - _TURNS / 2
            near = (np.abs(size - i) < wide + 1) & (np.abs(turned) < wide + 1)
            bearing = np.radians((j + float(np.median(turned[near]))) * 90 / _TURNS)
            steps.append(float(np.median(length[near])) * np.array([np.cos(bearing), np.sin(bearing)]))
            around = [(j + k) % _TURNS for k in range(-wide - 1, wide + 2)]
            counts[max(0, i - wide - 1) : i + wide + 2, around] = 0
    return steps


def _crossed(offsets: FloatArray) -> np.ndarray:
    """(n, k) the offsets that have two others about at right angles and opposite to them, as those of pinholes have and
    those of letters seldom."""
    step = offsets[..., 0] + 1j * offsets[..., 1]
    near = SLACK * np.abs(step)[:, :, None]
    turned = [(np.abs(step[:, None, :] - turn * step[:, :, None]) < near).any(axis=2) for turn in (1j, -1, -1j)]
    found: np.ndarray = np.sum(turned, axis=0) >= 2
    return found


def _votes(size: FloatArray, turn: FloatArray, wide: int) -> FloatArray:
    """How many steps are about as long and as turned as each cell says: (sizes, turns); turns go round. wide: cells."""
    counts = np.zeros((_SIZES, _TURNS))
    row, column = np.rint(size).astype(int), np.rint(turn).astype(int) % _TURNS
    inside = (row >= 0) & (row < _SIZES)
    np.add.at(counts, (row[inside], column[inside]), 1.0)
    turns = sum(np.roll(counts, shift, axis=1) for shift in range(-wide, wide + 1))
    padded = np.pad(turns, [(wide, wide), (0, 0)])
    votes: FloatArray = np.sum([padded[shift : shift + _SIZES] for shift in range(2 * wide + 1)], axis=0)
    return votes


def grown(beside: IntArray, offsets: FloatArray, step: FloatArray) -> tuple[IntArray, IntArray]:
    """The largest net of points linked by the step and the one across: their indices and places, column + row even."""
    down_right, down_left = step, _across(offsets, step)
    links = []
    for offset in (down_right, down_left, -down_right, -down_left):
        off = np.linalg.norm(offsets - offset, axis=-1)
        best = np.argmin(off, axis=1)
        near = off[np.arange(len(off)), best] < SLACK * np.linalg.norm(offset)
        links.append(np.where(near, beside[np.arange(len(off)), best], -1))
    table = np.stack(links, axis=1).tolist()
    place: list[tuple[int, int] | None] = [None] * len(table)
    largest: list[int] = []
    for seed in range(len(table)):
        if place[seed] is None:
            members = _component(seed, table, place)
            largest = members if len(members) > len(largest) else largest
    chosen = np.array(largest, dtype=np.int64)
    return chosen, np.array([place[i] for i in largest], dtype=np.int64).reshape(-1, 2)


def _across(offsets: FloatArray, step: FloatArray) -> FloatArray:
    """The other step of the grid: that of most marks near a right angle to the first, which a card seen aslant has not
    quite."""
    square: FloatArray = np.array([-step[1], step[0]])
    flat, found = offsets.reshape(-1, 2), square
    for slack in (0.4, 0.2, 0.2):
        near = flat[np.linalg.norm(flat - found, axis=1) < slack * np.linalg.norm(step)]
        if len(near) < FEWEST / 2:
            return square
        found = np.median(near, axis=0)
    return found


def _component(seed: int, table: list[list[int]], place: list[tuple[int, int] | None]) -> list[int]:
    place[seed] = (0, 0)
    members = [seed]
    for each in members:
        x, y = place[each] or (0, 0)
        for other, (dx, dy) in zip(table[each], ((1, 1), (-1, 1), (-1, -1), (1, -1)), strict=True):
            if other >= 0 and place[other] is None:
                place[other] = (x + dx, y + dy)
                members.append(other)
    return members
