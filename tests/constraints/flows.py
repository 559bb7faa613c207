"""The flow of a design, a strip of pins alone, and its pairs as a graph."""

from __future__ import annotations

import networkx
import numpy as np

from constraints.design import Design
from constraints.flow import PIN, Flow, flow_of
from constraints.lattice import IntArray, neighbour_table
from constraints.layout import lay
from constraints.nodes import nodes_of
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


def flow(design: Design) -> Flow:
    """The flow of a design with rows and figures as single nodes."""
    layout = lay(design)
    return flow_of(layout.piece, nodes_of(layout), design.start)


def single_pins(piece: Piece) -> IntArray:
    """Every pinhole a node of its own, for `flow_of`."""
    return 3 * np.arange(len(piece)) + PIN


def graph_of(arcs: np.ndarray) -> networkx.MultiDiGraph:
    graph = networkx.MultiDiGraph()
    graph.add_edges_from(arcs[(arcs >= 0).all(axis=1)].tolist())
    return graph
