"""A strip of pins alone, and its pairs as a graph."""

from __future__ import annotations

import networkx
import numpy as np

from constraints.lattice import neighbour_table
from constraints.piece import Piece


def strip(columns: int, rows: int) -> Piece:
    """A strip with plain edges worked downwards: pinholes where column + row is even."""
    pinholes = np.array([(c, r) for r in range(rows) for c in range(columns) if (c + r) % 2 == 0])
    index = {p: i for i, p in enumerate(map(tuple, pinholes.tolist()))}
    at_edge = (pinholes[:, 0] == 0) | (pinholes[:, 0] == columns - 1)
    follow = [index.get((c, r + 2), -1) if edge else -1 for (c, r), edge in zip(index, at_edge, strict=True)]
    return Piece(
        worked="across",
        symmetry="none",
        parity=0,
        pinholes=pinholes,
        neighbours=neighbour_table(pinholes),
        depth=np.minimum(
            np.minimum(pinholes[:, 0], columns - 1 - pinholes[:, 0]),
            np.minimum(pinholes[:, 1], rows - 1 - pinholes[:, 1]),
        ),
        zone=np.zeros(len(pinholes), dtype=np.int64),
        directions=np.array([(0, 1)]),
        edge=np.where(pinholes[:, 0] == 0, 0, np.where(pinholes[:, 0] == columns - 1, 1, -1)),
        edge_next=np.array(follow),
        free=np.isin(pinholes[:, 1], (0, rows - 1)) | at_edge,
        fan=np.zeros(len(pinholes), dtype=np.bool_),
        held=np.zeros(len(pinholes), dtype=np.bool_),
    )


def graph_of(arcs: np.ndarray) -> networkx.MultiDiGraph:
    graph = networkx.MultiDiGraph()
    graph.add_edges_from(arcs[(arcs >= 0).all(axis=1)].tolist())
    return graph
