"""Diagonals, valleys, roses, spiders and corner pins, followed on the board."""

from __future__ import annotations

from collections.abc import Collection

from player.board import Board
from player.fault import must
from player.pricking import Place
from player.steps import Corner, Figure, Line, Over

# Pinholes along the side of a spider.
_SIZE = {8: 2, 12: 3, 16: 4}


def cross_over(board: Board, over: tuple[Over, ...], pin: int | None, places: Collection[Place]) -> None:
    """The cross-overs that are told before a pin, or before a row, which lie at the places. One of two pairs goes there
    next: told before a pin that takes neither, the lace would be the same, and she would look for them in vain."""
    for each in over:
        if each.before == pin:
            board.pillow.cross_over(each.pair)
            ends = {board.pillow.pair(number).to for number in (each.pair, each.pair + 1)}
            must(not ends.isdisjoint(places), f"pairs {each.pair} and {each.pair + 1} do not go there")


def follow_line(board: Board, line: Line) -> None:
    """The pins of a diagonal, each with the pairs told by the rule of its first ones."""
    pricking, pairs = board.pricking, line.pairs
    known = (None, *line.pins[1:])
    must(all(each.before in known for each in line.over), "a cross-over before another pin")
    before: Place | None = None
    for pin in line.pins:
        place = board.pinhole(pin)
        cross_over(board, line.over, None if before is None else pin, {place})
        lean = 1 if line.right else -1
        must(before is None or place == pricking.below(before, lean), f"pin {pin} does not lie on the diagonal")
        edge = pricking.edge_of.get(place)
        valley = edge is not None and _by_headside(board, place)
        must((pin in line.edges) == (edge is not None and not valley), f"pin {pin} is marked wrongly")
        must((pin in line.valleys) == valley, f"pin {pin} is marked wrongly")
        told = [name for each, name in line.grounds if each == pin]
        shown = [pricking.grounds[place]] if place in pricking.grounds else []
        must(told == shown, f"pin {pin} is told in {told or 'ground'}")
        if before is not None:
            pairs = _next(board, pairs, lean, edge)
        board.pillow.ground(place, pairs)
        before = place
    must(line.edges | line.valleys <= {line.pins[0], line.pins[-1]}, "a mark where no edge can be")


def _next(board: Board, pairs: tuple[int, int], lean: int, edge: int | None) -> tuple[int, int]:
    """The pairs of the next pin: one farther; at an edge the edge pair and the one that comes out to it."""
    inner = pairs[1] if lean > 0 else pairs[0]
    one = (inner, inner + 1) if lean > 0 else (inner - 1, inner)
    if edge is None:
        return one
    return (1, one[1]) if edge == 0 else (one[0], board.head.pairs)


def _by_headside(board: Board, place: Place) -> bool:
    """Whether a pin of an edge stands between blocks of a headside: it has one of them before it or after it."""
    pricking = board.pricking
    near = [(place[0] + dx, place[1] + dy) for dx in (-1, 1) for dy in (-1, 1)]
    blocks = {pricking.block_of[each] for each in near if each in pricking.block_of} & pricking.edging
    return any(pricking.nearest_edge(pricking.blocks[each]) == pricking.edge_of[place] for each in blocks)


def follow_figure(board: Board, figure: Figure) -> None:
    must(all(each.before is None for each in figure.over), "a cross-over before another pin")
    if figure.legs:
        _spider(board, figure)
    else:
        _rose(board, figure)


def _rose(board: Board, rose: Figure) -> None:
    """Four pins: the upper one with the middle pairs, those to either side, the lower one with the middle ones."""
    must(len(rose.pins) == 4 and rose.last - rose.first == 3, "a rose has four pins and four pairs")
    a = rose.first
    places = [board.pinhole(pin) for pin in rose.pins]
    cross_over(board, rose.over, None, places)
    coming = tuple(board.pillow.pair(number) for number in range(a, a + 4))
    pricking = board.pricking
    upper = places[0]
    left, right = pricking.below(upper, -1), pricking.below(upper, 1)
    must(set(places[1:3]) == {left, right}, "the pins to either side of a rose")
    must(places[3] == pricking.below(left, 1), "the lower pin of a rose")
    middle = ((upper[0] + places[3][0]) / 2, (upper[1] + places[3][1]) / 2)
    _crossed(board, middle, coming)
    told = {upper: (a + 1, a + 2), left: (a, a + 1), right: (a + 2, a + 3), places[3]: (a + 1, a + 2)}
    for place in places:
        board.pillow.ground(place, told[place])
    board.pillow.leave_rose(a)
    board.pillow.leave_rose(a + 2)
    board.roses.append((tuple(places), coming))


def _crossed(board: Board, middle: Place, coming: tuple[object, ...]) -> None:
    """The two pairs from either side have crossed over on their way to a rose, where two run side by side."""
    pairs = [pair for pair in board.pillow.pairs if pair in coming]
    for one, other in (pairs[:2], pairs[2:]):
        if one.at is None or other.at is None or one.to is None or other.to is None:
            continue
        alike = (one.to[0] - one.at[0], one.to[1] - one.at[1]) == (other.to[0] - other.at[0], other.to[1] - other.at[1])
        must(not alike or one.crossed or other.crossed, f"the rose at {middle}: pairs that did not cross over")


def _spider(board: Board, spider: Figure) -> None:
    """Its pin in the middle; every leg comes from outside it and goes on from its lower side."""
    pricking, size = board.pricking, _SIZE[spider.legs]
    must(len(spider.pins) == 1 and spider.last - spider.first + 1 == 2 * size, f"{spider.legs} legs, {2 * size} pairs")
    middle = board.put_up(spider.pins[0])
    reach = range(-size + 1, size)
    body = [(middle[0] + x, middle[1] + y) for x in reach for y in reach if abs(x) + abs(y) < size]
    body = [place for place in body if (abs(place[0] - middle[0]) + abs(place[1] - middle[1]) + size) % 2]
    must(len(body) == size * size and pricking.pinholes.issuperset(body), "a spider lies on pinholes")
    must({*body, middle} & set(pricking.number) == {middle}, "no pin stands in a spider but its own")
    for place in body:
        board.here(place)
        must(place not in pricking.block_of, "a spider lies in no block")
    inside = set(body)
    board.spiders.update(dict.fromkeys(body, spider.pins[0]))
    cross_over(board, spider.over, None, inside)
    legs = range(spider.first, spider.last + 1)
    for number in legs:
        pair = board.pillow.pair(number)
        must(pair.to in inside and pair.at not in inside, f"pair {number} does not come to the spider")
    for place in sorted(body, key=lambda each: pricking.along(each, board.quarter)):
        coming = board.pillow.heading(place)
        must(len(coming) == 2 and coming[1] == coming[0] + 1, f"two pairs come to {place} in a spider")
        must(coming[0] in legs and coming[1] in legs, f"pairs {coming} are not told for the spider")
        board.pillow.worked(place, *coming)


def follow_corner(board: Board, corner: Corner) -> None:
    """A corner pin: between the last pin before the corner and the first one after it."""
    place = board.put_up(corner.pin)
    edge, passives = board.pillow.pairs[0], board.head.passives[0]
    words = "the edge pair" + ("" if not passives else " and its passive" if passives == 1 else " and its passives")
    must(corner.passives == words, f"{corner.passives!r} is told, {words} turn")
    must(edge.at in board.pricking.corners and board.pricking.corners[edge.at] == place, "no corner is turned here")
    must(corner.hung == (corner.pin == 1), "hung round the first corner alone")
    must(edge.to is not None and board.pricking.edge_of.get(edge.to) == 0, "the edge pair turns a corner")
    if not corner.hung:
        must(board.pricking.quarter(edge.at) == board.quarter, "a corner of another quarter")
