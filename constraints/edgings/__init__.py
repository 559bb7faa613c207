"""How an edge is worked: the kinds of headside, in the order in which they are offered; one that is new comes last.

`headside` says what each must answer; they are `fan`, `scallop` and `ground_scallop`. `dressing` tells the places that
a headside takes on a piece, `outer_side` what of it stands off the grid, `own_figures` lists the figures that it brings
with it among the fillings. A footside is no kind of headside: it is the straight edge wherever there is none, and its
passives are the piece's.
"""

from __future__ import annotations

import re

from constraints.edgings.fan import Fan
from constraints.edgings.ground_scallop import GroundScallop
from constraints.edgings.headside import POINTED, Headside
from constraints.edgings.scallop import Scallop
from constraints.whole import whole

_EVERY: tuple[type[Headside], ...] = (Fan, Scallop, GroundScallop)
EDGINGS = {each.kind: whole(each, Headside, "edging") for each in _EVERY}

# What an edge is called that has no headside.
FOOTSIDE = "footside"
# What `named` reads, told to her.
ALLOWED = (
    f"{FOOTSIDE}, a cloth or half fan with a depth of {Fan.depths[0]} to {Fan.depths[-1]} units, such as cloth fan 3, "
    "or a scallop with its pairs at the narrowest, such as half scallop 3 with 6 pairs or ground scallop 4 with 3 pairs"
)
_STITCHES = dict.fromkeys(stitch for each in _EVERY for stitch in each.stitches if stitch)
_NAME = re.compile(rf"(?:({'|'.join(_STITCHES)}) )?({'|'.join(EDGINGS)}) ([0-9])(?: with ([0-9]{{1,2}}) pairs)?")


def named(name: str, first: int = 0) -> Headside | None:
    """The headside of a name such as "cloth fan 3" or "half scallop 3 with 6 pairs"; None for a footside.

    ValueError if it names none.
    """
    if name == FOOTSIDE:
        return None
    read = _NAME.fullmatch(name)
    if read is not None:
        kind, stitch, depth, pairs = EDGINGS[read[2]], read[1] or "", int(read[3]), int(read[4] or POINTED)
        if stitch in kind.stitches and depth in kind.depths and pairs in kind.at_valley:
            return kind(stitch, depth, pairs, first)
    raise ValueError(f"{name!r} is no edging")


__all__ = ["ALLOWED", "EDGINGS", "FOOTSIDE", "Fan", "GroundScallop", "Headside", "Scallop", "named"]
