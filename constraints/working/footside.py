"""The footside: at every edge pin the pair of the ground goes out through the passives and becomes the edge
pair; the old edge pair comes back through them into the ground.

Common practice, no source.
"""

from __future__ import annotations

import numpy as np

from constraints.lattice import FloatArray, Place
from constraints.piece import LEFT_EDGE, Piece
from constraints.working.habits import EXCHANGE, GROUND_MOVES, Habits
from constraints.working.ledger import FOOTSIDE, Ledger

_PASSIVE = "CTC"


def corners_after(piece: Piece) -> dict[int, Place]:
    """The last edge pin before each outer corner of a round, and the corner itself, where an optional pin stands.

    The edge pair and its passives turn there, nothing is exchanged. A headside of blocks turns by itself.
    """
    if LEFT_EDGE in piece.fan_edges:
        return {}
    found: dict[int, Place] = {}
    for pinhole, after in enumerate(piece.edge_next.tolist()):
        if after >= 0 and piece.edge[pinhole] == LEFT_EDGE and piece.zone[after] != piece.zone[pinhole]:
            x, y = (piece.pinholes[pinhole] + piece.directions[piece.zone[pinhole]]).tolist()
            found[pinhole] = (float(x), float(y))
    return found


def corner_places(piece: Piece) -> FloatArray:
    """(c, 2) where the corner pins stand."""
    found: FloatArray = np.array(list(corners_after(piece).values()), dtype=np.float64).reshape(-1, 2)
    return found


def edge_pin(
    ledger: Ledger, edge: int, ground: int, passives: list[int], place: Place, left: bool, habits: Habits
) -> tuple[int, int]:
    """The new edge pair and the pair that goes on into the ground.

    passives: from the edge inwards; changed in place. left: whether the edge is on the lacemaker's left.
    """

    def meet(outer: int, inner: int, moves: str) -> tuple[int, int]:
        """Two segments side by side; those that go on, the outer one first."""
        if left:
            return ledger.cross(outer, inner, moves, place, FOOTSIDE)
        right_one, left_one = ledger.cross(inner, outer, moves, place, FOOTSIDE)[::-1]
        return right_one, left_one

    if not passives:
        edge, ground = meet(edge, ground, GROUND_MOVES[habits.ground])
        ledger.twist(edge, habits.edge)
        return edge, ground
    for number in range(len(passives) - 1, -1, -1):
        ground, passives[number] = meet(passives[number], ground, _PASSIVE)
    ledger.twist(ground, habits.at_passives)
    edge, ground = meet(edge, ground, EXCHANGE)
    ledger.twist(edge, habits.edge)
    for number in range(len(passives)):
        passives[number], ground = meet(ground, passives[number], _PASSIVE)
    ledger.twist(ground, habits.at_passives)
    return edge, ground
