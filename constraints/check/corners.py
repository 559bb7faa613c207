"""How blocks cross the corner lines of what is worked round."""

from __future__ import annotations

from collections.abc import Iterator

from constraints.check.limits import Limits
from constraints.check.listing import Fault
from constraints.corners import CLEAR, SLANTING, SWINGING, SWUNG
from constraints.lattice import Point, in_order
from constraints.layout import Layout


def corners(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """Blocks cross corner lines as the brief says: not at all, or as trails of few pairs, none of them round the
    middle. Wider ones than swing about one pin come to the line straight, so that their rows can slant."""
    if limits.corners not in (SWUNG, CLEAR):
        return
    crossing = crossings_of_lines(layout)
    if limits.corners == SWUNG:
        splits = layout.design.splits if limits.splits is None else limits.splits
        crossing = [run for run in crossing if len(run) > SWINGING and (splits or not _goes_round(layout, run))]
    if crossing:
        wide = in_order({point for each in crossing for pair in each for point in pair})
        yield "blocks cross a corner line" + (" too wide to swing" if limits.corners == SWUNG else ""), wide
    if limits.corners == SWUNG:
        middle = [(x, y) for x, y in layout.points(layout.inside) if abs(x) + abs(y) == 1]
        if len(middle) > 2 and len({layout.block[layout.piece.index[point]] for point in middle}) == 1:
            yield "a block turns round the middle", tuple(middle)


def _goes_round(layout: Layout, run: list[tuple[Point, Point]]) -> bool:
    """Whether a trail can go round a corner in slanting rows: three to five pairs wide, with clean ends on the line."""
    (first, *_), width = run, len(run)
    number = layout.block[layout.piece.index[first[0]]]
    own = {point for point, i in layout.piece.index.items() if layout.block[i] == number}
    out = _less(run[1][0], first[0])
    if width > SLANTING or any(_on(place, out, end) in own for place in first for end in (-1, width)):
        return False
    return all(
        _comes_straight(layout, own, first[side], _less(first[side], first[1 - side]), out, width) for side in (0, 1)
    )


def _comes_straight(layout: Layout, own: set[Point], first: Point, back: Point, out: Point, width: int) -> bool:
    """Whether on one side of the line the block is a trail of so many lines of pinholes, and nothing beside them, as
    far back as it takes until there were two outer pins for each inner one. first: where the innermost line meets the
    corner line."""
    starts = [_on(first, out, n) for n in range(-1, width + 1)]
    if _on(starts[width], back, 1) in own:  # across the line: each line is longer by one than the one further in
        reach = [width - 1, *range(width - 1, 2 * width - 1), 2 * width - 2]
        lines = [[_on(start, back, k) for k in range(count)] for start, count in zip(starts, reach, strict=True)]
    else:  # along the edge: back to the level of the outer pin with which slanting begins
        step = _less(back, out)
        x, y = layout.piece.directions[layout.piece.zone[layout.piece.index[first]]].tolist()
        sign = (x * step[0] + y * step[1]) // 2
        level = [sign * (x * a + y * b) for a, b in (_on(starts[width], step, 2 * (width // 2) - 1), *starts)]
        reach = [level[0] + (n in (0, width + 1)) - begin for n, begin in enumerate(level[1:])]
        lines = [[_on(start, step, k) for k in range(rows // 2 + 1)] for start, rows in zip(starts, reach, strict=True)]
    inner, *trail, outer = lines
    return all(place in own for line in trail for place in line) and not own & {*inner, *outer}


def _on(place: Point, step: Point, times: int) -> Point:
    return place[0] + times * step[0], place[1] + times * step[1]


def _less(one: Point, other: Point) -> Point:
    return one[0] - other[0], one[1] - other[1]


def crossings_of_lines(layout: Layout) -> list[list[tuple[Point, Point]]]:
    """Where blocks cross corner lines: the pairs that lie side by side over one line, their places before and after it,
    from the middle outwards. Read off the places one by one."""
    piece, block = layout.piece, layout.block
    zone = {(int(x), int(y)): int(z) for (x, y), z in zip(piece.pinholes, piece.zone, strict=True)}
    held = {point: int(block[i]) for point, i in piece.index.items() if block[i] >= 0 and not piece.fan[i]}
    found: list[list[tuple[Point, Point]]] = []
    for (x, y), own in sorted(held.items(), key=lambda each: (abs(each[0][0]) + abs(each[0][1]), each[0])):
        dx, dy = piece.directions[zone[x, y]].tolist()
        for after in ((x + dx - dy, y + dy + dx), (x + dx + dy, y + dy - dx)):
            if held.get(after) == own and zone[after] != zone[x, y]:
                pair = ((x, y), after)
                last = next((run for run in found if _beside(run[-1], pair, zone)), None)
                if last is None:
                    found.append([pair])
                else:
                    last.append(pair)
    return found


def _beside(one: tuple[Point, Point], other: tuple[Point, Point], zone: dict[Point, int]) -> bool:
    """Whether two pairs run over one corner line next to each other."""
    (a, b), (c, d) = one, other
    step = (c[0] - a[0], c[1] - a[1])
    return (
        step == (d[0] - b[0], d[1] - b[1])
        and abs(step[0]) == abs(step[1]) == 1
        and (zone[a], zone[b]) == (zone[c], zone[d])
    )
