"""How blocks cross the corner lines of what is worked round."""

from __future__ import annotations

from collections.abc import Iterator

from constraints.check.limits import Limits
from constraints.check.listing import Fault
from constraints.corners import CLEAR, SWINGING, SWUNG
from constraints.lattice import Point
from constraints.layout import Layout


def corners(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """Blocks cross corner lines as the brief says: not at all, or as trails of few pairs, none of them round the
    middle."""
    if limits.corners not in (SWUNG, CLEAR):
        return
    crossing = [each for each in crossings_of_lines(layout) if len(each) > (SWINGING if limits.corners == SWUNG else 0)]
    if crossing:
        wide = sorted({point for each in crossing for pair in each for point in pair}, key=lambda p: (p[1], p[0]))
        yield "blocks cross a corner line" + (" too wide to swing" if limits.corners == SWUNG else ""), tuple(wide)
    if limits.corners == SWUNG:
        middle = [(x, y) for x, y in layout.points(layout.inside) if abs(x) + abs(y) == 1]
        if len(middle) > 2 and len({layout.block[layout.piece.index[point]] for point in middle}) == 1:
            yield "a block turns round the middle", tuple(middle)


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
