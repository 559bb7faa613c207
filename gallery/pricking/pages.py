"""The papers of a pricking: its parts laid on pages, beside them what she must know and measures to check by."""

from __future__ import annotations

from collections.abc import Sequence

from constraints.flow import START_LINES
from constraints.forms import QUARTER, WHOLE
from constraints.piece import ROUND
from constraints.thread import wraps_per_cm
from constraints.wording import measures, shown
from constraints.working.work import Work
from gallery import hands
from gallery.order.edges import counted_from
from gallery.paper.layers import Layer, Leaf, Words, gathered, moved
from gallery.paper.page import PageError
from gallery.paper.tiling import SIZES, cross_layer, crosses, page_map, tile, tiling
from gallery.paper.title_block import BAR, FACT, MARGIN, SMALL, STRIP, TitleText, foot, title_block
from gallery.pricking.drawn import DrawnPart, Pricking, PrickingOptions
from gallery.pricking.parts import parts_of

GAP = 5.0
# Nobody joins more.
MOST_PAGES = 400


def told(work: Work, name: str, options: PrickingOptions, part: str) -> TitleText:
    """What she must know of the square beside its pinholes."""
    design = work.design
    passives = f"{design.passives} passive pair{'' if design.passives == 1 else 's'}"
    headside = design.form.headside
    edge = "each footside" if design.form.edges(design.worked) > 1 else "the edge"
    carried = f"{design.pairs} pairs ({2 * design.pairs} bobbins)"
    if design.passives and len(design.piece().headside_edges) < design.form.edges(design.worked):
        carried += f", of them {passives} along {edge if headside is None else 'the footside'}"
    if headside is not None:
        valleys = "" if headside.tells_pairs() else f", {headside.pairs} pairs at the valleys"
        carried += f"; headside: {headside.name}{valleys}"
    round_ = design.worked == ROUND
    way = f"worked round from {_start(work, options)}" if round_ else f"worked {design.form.phrases.way}"
    if round_ or design.form.repeating:
        way += f", {counted_from(design)} on the {options.footside}"
    facts = [
        f"Finished size {measures(design)} between the outer pins; pitch {shown(design.pitch_mm)} mm",
        carried,
        f"Thread: about {wraps_per_cm(design.pitch_mm):.0f} wraps side by side to 1 cm (a rule of thumb)",
        f"{len(work.pins)} pins; {way}",
    ]
    if options.by_stitch:
        facts.append("Dots: finer under half stitch, bolder under cloth")
    marks = [
        *(["bar on a corner line: a pin used from both sides"] if len(work.seams.pins) else []),
        *(["arrow: a worker comes in"] if options.arrows else []),
        *(["small cross: cross-over"] if options.cross_overs else []),
        *(["numbers: order of work"] if options.numbers else []),
    ]
    if marks:
        facts.append("; ".join(marks).capitalize())
    if work.pinned_otherwise:
        facts.append("Older papers of this square have other pins along the corner lines")
    if part != WHOLE:
        drawn = parts_of(design, part)
        facts.append(_joining(drawn[0].copies, len(drawn), part))
        if options.numbers and drawn[0].copies > 1:
            facts.append("Numbers are those of the part at the start; in its copies they go on from there")
    return TitleText(f"Pricking {design.number:02d}, {name}", tuple(facts))


def _start(work: Work, options: PrickingOptions) -> str:
    """Where a round begins."""
    start, side = work.design.start, hands.sides(options.footside)
    if work.start_row is None:
        return f"the {hands.corner(start, side).replace('-', ' ')} corner"
    return f"the start line in the {side(hands.QUARTERS[START_LINES[start][1]])} quarter"


def _joining(copies: int, kinds: int, part: str) -> str:
    where = "corner lines" if part == QUARTER else "middle line, pin on pin"
    each = f"{copies} copies" if kinds == 1 else f"{copies} copies of each part" if copies > 1 else "each part once"
    return f"Prick {each}; cut at the dashed line and join along the {where}, cross on cross"


def leaf_of_all(work: Work, name: str, options: PrickingOptions, part: str) -> Leaf:
    """All parts on one paper as large as they need: for the SVG."""
    pricking, said = Pricking(work, options), told(work, name, options, part)
    drawn = [pricking.drawn(each) for each in parts_of(work.design, part)]
    across = sum(each.width + GAP for each in drawn) - GAP
    block = title_block(said, wide=True, room=max(across, 190.0))
    layers: list[Layer] = []
    left = MARGIN + max(0.0, (block.width - across) / 2)
    for each in drawn:
        layers += moved(each.layers, left, MARGIN)
        left += each.width + GAP
    tall = max(each.height for each in drawn)
    layers += moved(block.layers, MARGIN, MARGIN + tall + GAP)
    width = 2 * MARGIN + max(across, block.width)
    return Leaf(width, 2 * MARGIN + tall + GAP + block.height, gathered(layers), said.title)


def pages(work: Work, name: str, options: PrickingOptions, part: str, paper: str) -> list[Leaf]:
    """The pages of the PDF. KeyError if the paper or the part is unknown; PageError if there would be too many."""
    said, size = told(work, name, options, part), SIZES[paper]
    first, plans, count = _planned(work, options, said, part, paper)
    if count > MOST_PAGES:
        raise PageError(f"{count} pages of {paper}, {MOST_PAGES} at most")
    found = [] if first is None else [first]
    at = 2
    numbered = []
    for plan in plans:
        numbered.append([at + number if number >= 0 else 0 for number in plan.numbers])
        at += plan.pages
    if first is None:
        found.append(_title_page(said, plans, numbered, size))
    for plan, numbers in zip(plans, numbered, strict=True):
        found += plan.leaves(said.title, numbers, count)
    return found


def pages_taken(work: Work, name: str, options: PrickingOptions, part: str, paper: str) -> int:
    """How many pages the PDF would have, also where they are too many. KeyError as for `pages`."""
    return _planned(work, options, told(work, name, options, part), part, paper)[2]


def _planned(
    work: Work, options: PrickingOptions, said: TitleText, part: str, paper: str
) -> tuple[Leaf | None, list[_Plan], int]:
    """The first part and the title on one page, None if they do not go on one; the tiles of the other parts; how many
    pages there are in all."""
    pricking, size = Pricking(work, options), SIZES[paper]
    drawn = [pricking.drawn(each) for each in parts_of(work.design, part)]
    first = _with_title(drawn[0], said, size)
    plans = [_Plan(each, size) for each in drawn[first is not None :]]
    return first, plans, 1 + sum(plan.pages for plan in plans)


def _with_title(drawn: DrawnPart, said: TitleText, size: tuple[float, float]) -> Leaf | None:
    """Part and title block on one page, None if they do not go on one."""
    for width, height in (size, size[::-1]):
        room, high = width - 2 * MARGIN, height - 2 * MARGIN
        below = title_block(said, wide=True, room=room)
        if drawn.width <= room and drawn.height + GAP + below.height <= high:
            above = (high - below.height - GAP - drawn.height) / 2
            layers = moved(drawn.layers, (width - drawn.width) / 2, MARGIN + above)
            at = MARGIN, height - MARGIN - below.height
            return Leaf(width, height, gathered([*layers, *moved(below.layers, *at)]), said.title)
        beside = title_block(said, wide=False, room=max(BAR, room - drawn.width - GAP))
        if drawn.width + GAP + beside.width <= room and max(drawn.height, beside.height) <= high:
            layers = moved(drawn.layers, MARGIN, MARGIN)
            at = MARGIN + drawn.width + GAP, MARGIN
            return Leaf(width, height, gathered([*layers, *moved(beside.layers, *at)]), said.title)
    return None


def _title_page(
    said: TitleText, plans: Sequence[_Plan], numbers: Sequence[list[int]], size: tuple[float, float]
) -> Leaf:
    """Title block and, for what is cut into tiles, a map of the pages."""
    width, height = size
    room = width - 2 * MARGIN
    block = title_block(said, wide=True, room=room)
    layers = [*moved(block.layers, MARGIN, MARGIN)]
    top = MARGIN + block.height + 2 * GAP
    cell = (room - GAP) / 2 if len(plans) > 1 else room
    high = (height - top - MARGIN - 12) / (2 if len(plans) > 2 else 1) - 8.0
    words = "Map of the pages; lay them cross on cross" if any(plan.pages > 1 for plan in plans) else "Map of the pages"
    layers.append(Layer("text", (Words(MARGIN, top, words, FACT),)))
    for place, (plan, told_numbers) in enumerate(zip(plans, numbers, strict=True)):
        x, y = MARGIN + (place % 2) * (cell + GAP), top + 4.0 + (place // 2) * (high + 8.0)
        small, _, deep = page_map(plan.tiled, told_numbers, plan.drawn.outline, (min(cell, 120.0), min(high, 120.0)))
        layers += moved(small, x, y)
        if len(plans) > 1:
            layers.append(Layer("text", (Words(x, y + deep + 4.5, plan.drawn.part.name, SMALL),)))
    return Leaf(width, height, gathered(layers), said.title)


class _Plan:
    """How one part goes on pages: on one, upright or across, or in tiles.

    numbers: for each window, row by row, the place of its page among those of the part, -1 if it is empty.
    """

    def __init__(self, drawn: DrawnPart, size: tuple[float, float]) -> None:
        self.drawn = drawn
        offers = []
        for paper in (size, size[::-1]):
            room = paper[0] - 2 * MARGIN, paper[1] - 2 * MARGIN - STRIP
            tiled = tiling(drawn.width, drawn.height, room)
            full = [self._holds(window) for window in tiled.windows]
            offers.append((sum(full), paper, tiled, full))
        self.pages, self.paper, self.tiled, full = min(offers, key=lambda offer: offer[0])
        self.numbers = [sum(full[:place]) if kept else -1 for place, kept in enumerate(full)]

    def _holds(self, window: tuple[float, float, float, float]) -> bool:
        """Whether any pinhole lies in a window."""
        x, y = self.drawn.pins.T
        left, top, right, bottom = window
        return bool(((x >= left) & (x <= right) & (y >= top) & (y <= bottom)).any())

    def leaves(self, title: str, numbers: Sequence[int], count: int) -> list[Leaf]:
        """Its pages. numbers: the page of each window."""
        width, height = self.paper
        layers = list(self.drawn.layers)
        if self.pages > 1:
            layers.append(cross_layer(crosses(self.tiled, self.drawn.keep_off)))
        found = []
        for place, window in enumerate(self.tiled.windows):
            if not numbers[place]:
                continue
            at = (width - self.tiled.width) / 2, MARGIN
            drawn = tile(layers, window, at) if self.pages > 1 else moved(layers, *at)
            words = f"{title}, page {numbers[place]} of {count}"
            if self.drawn.part.name != WHOLE:
                words += f", {self.drawn.part.name}"
            found.append(Leaf(width, height, gathered([*drawn, *foot(width, height, words)]), title))
        return found
