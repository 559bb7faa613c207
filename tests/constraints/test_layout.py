"""What hangs together, against networkx."""

from __future__ import annotations

import networkx
import numpy as np

from constraints import piece as pieces
from constraints.forms import Square
from constraints.layout import components


def test_three_places_that_meet_in_the_last_one_hang_together() -> None:
    piece = Square(2).piece("round")
    group = np.full(len(piece), -1)
    places = [piece.index[p] for p in ((-1, 0), (1, 0), (0, 1))]
    group[places] = 0
    assert set(components(piece.neighbours, group)[places].tolist()) == {min(places)}


def test_components_of_many_small_layouts_are_those_of_networkx() -> None:
    rng = np.random.default_rng(1)
    for half_size in (1, 2, 3, 5, 8):
        piece = Square(half_size).piece("round")
        for _ in range(60):
            group = rng.integers(-1, rng.integers(1, 3), len(piece))
            expected = np.full(len(piece), -1)
            for part in networkx.connected_components(_graph(piece, group)):
                expected[list(part)] = min(part)
            assert components(piece.neighbours, group).tolist() == expected.tolist()


def _graph(piece: pieces.Piece, group: np.ndarray) -> networkx.Graph:
    graph = networkx.Graph()
    graph.add_nodes_from(np.flatnonzero(group >= 0).tolist())
    for i, beside in enumerate(piece.neighbours.tolist()):
        graph.add_edges_from((i, j) for j in beside if j >= 0 and group[i] == group[j] >= 0)
    return graph
