"""The brief: what she asks for, in one frozen value.

Reading it from TOML and flags is the business of `explore.asking`; here every value is already of its
kind and in its range.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from constraints import edging
from constraints.corners import HALVES
from constraints.edging import FOOTSIDE
from constraints.fillings import USUAL
from constraints.forms import Square
from constraints.outer_side import reach
from constraints.piece import ACROSS, ROUND
from constraints.stitches import CLOTH, HALF, STITCHES

Span = tuple[float, float]
WholeSpan = tuple[int, int]


@dataclass(frozen=True)
class Size:
    """One size a square may have. width_mm = half_size x pitch_mm."""

    half_size: int
    pitch_mm: float
    pairs: int


@dataclass(frozen=True)
class Brief:
    """A brief as the search takes it. Spans are (least, most), both allowed.

    stamp: the name she knows the stamp by; "" for patterns from the rules alone. pairs: the most she
    has. half_size and width_mm: at most one of them; neither means the largest half-size the pairs
    allow. form: square, strip, frame or rectangle. edging: as `constraints.edging.named` reads it. columns,
    rows, repeats, both_sides: of a strip. half_height, height_mm, band: of a frame or rectangle; its half-height
    and its band in half pitches. least: fewest of a stitch (pinholes) or figure (units). solid: share of
    pinholes in blocks.
    corners: how blocks cross corner lines, one of `corners.CORNERS`, or "" for what was found before that was asked.
    match: least match; None means the default of the method. stamp_size: pitches; None means what suits
    the stamp and the square. turns: degrees clockwise on the page; empty means what suits the grid.
    effort: 1 is the usual; it multiplies the deterministic time of each solve and the jobs tried.
    """

    stamp: str = ""
    form: str = "square"
    pairs: int = 30
    half_size: WholeSpan | None = None
    width_mm: float | None = None
    pitch_mm: Span = (5.0, 5.0)
    symmetry: str = "full"
    worked: str = ROUND
    passives: int = 1
    edging: str = FOOTSIDE
    both_sides: bool = False
    columns: int | None = None
    rows: WholeSpan = (8, 40)
    repeats: int | None = None
    half_height: int | None = None
    height_mm: float | None = None
    band: int | None = None
    stitches: tuple[str, ...] = (CLOTH, HALF, *USUAL)
    least: Mapping[str, int] = field(default_factory=dict)
    narrowest: int = 2
    widest: int = 16
    narrowest_ground: int = 2
    margin: int = 2
    splits: int = 0
    corners: str = HALVES
    solid: Span = (0.2, 0.5)
    match: float | None = None
    stamp_size: Span | None = None
    turns: tuple[float, ...] = ()
    copies: int = 1
    apart: float = 0.10
    count: int = 24
    seed: int = 1
    effort: float = 1.0

    def __post_init__(self) -> None:
        """ValueError if blocks have no stitch."""
        if not any(name in self.stitches for name in STITCHES):
            named = ", ".join(self.stitches) or "nothing"
            raise ValueError(f"blocks need at least one of {', '.join(STITCHES)}; the brief allows {named}")

    @property
    def edge_passives(self) -> int:
        """Passives along the edge of a square: of its footside, or of its fans or scallop."""
        headside = edging.named(self.edging)
        return self.passives if headside is None else headside.passives

    def form_of(self, half_size: int) -> Square | None:
        """The square of a half-size with its edging; None if whole fans do not fit round it."""
        headside = edging.named(self.edging)
        if headside is None:
            return Square(half_size)
        fitting = edging.corner(half_size, headside)
        return None if fitting is None else Square(half_size, fitting)

    @property
    def least_match(self) -> float:
        """The least match a saved square must reach."""
        if self.match is not None:
            return self.match
        return 0.65 if self.worked == ROUND else 0.60


def largest_half_size(pairs: int, worked: str, passives: int) -> int:
    """The largest half-size these pairs can work; below 1 if they suffice for none."""
    if worked == ACROSS:
        return (pairs - 2 * (1 + passives)) // 2
    return pairs - 1 - passives


def sizes(brief: Brief) -> tuple[Size, ...]:
    """Every size the brief allows, smallest first; empty if the pairs do not suffice for any.

    With a width, each half-size takes the pitch that makes it that wide if the pitch may vary, and the
    nearest half-size to the width if the pitch is fixed.
    """
    most = largest_half_size(brief.pairs, brief.worked, brief.edge_passives)
    headside = edging.named(brief.edging)
    if brief.width_mm is not None:
        wanted = _for_width(brief.width_mm, brief.pitch_mm, 0.0 if headside is None else reach(headside))
    elif brief.half_size is not None:
        middle = round(sum(brief.pitch_mm) / 2, 2)
        wanted = [(n, middle) for n in range(brief.half_size[0], brief.half_size[1] + 1)]
    else:
        largest = next((n for n in range(most, 0, -1) if brief.form_of(n)), most)
        wanted = [(largest, round(sum(brief.pitch_mm) / 2, 2))]
    return tuple(
        Size(n, pitch, Square(n).pairs(brief.worked, brief.edge_passives))
        for n, pitch in wanted
        if 1 <= n <= most and brief.form_of(n)
    )


def _for_width(width: float, pitch: Span, more: float) -> list[tuple[int, float]]:
    """more: units by which fans stand out on either side."""
    finest, coarsest = pitch
    if finest == coarsest:
        nearest = round(width / finest - more)
        return [(nearest, finest)] if nearest >= 1 else []
    fewest, most = math.ceil(width / coarsest - more - 1e-9), math.floor(width / finest - more + 1e-9)
    return [(n, round(width / (n + more), 5)) for n in range(max(1, fewest), most + 1)]


def limits(brief: Brief) -> dict[str, object]:
    """What the brief limits, as a square's file keeps it for the check."""
    return {
        "pairs": brief.pairs,
        "stitches": list(brief.stitches),
        "least": dict(brief.least),
        "narrowest": brief.narrowest,
        "widest": brief.widest,
        "narrowest_ground": brief.narrowest_ground,
        "margin": brief.margin,
        "splits": brief.splits,
        **({"corners": brief.corners} if brief.corners else {}),
        "solid": list(brief.solid),
        "match": brief.least_match,
    }
