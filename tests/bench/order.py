"""Figures of order and recognition for studies: `python tests/bench/order.py STUDY...`.

What a sheet is judged by before anybody looks at it: motifs, strays, how many motifs stand on an axis or
corner line, the share of the open fields that is filled, and how often the right stamp among the built-in
ones is the one whose shape, laid in the same box at any of eight turns, fits the blocks best.
"""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import shapely
from shapely.geometry import MultiPolygon

from constraints.check.fillings.parts import fields_below
from constraints.design import Design
from constraints.design_file import from_text
from constraints.layout import holes_below, lay
from constraints.stamp import Stamp, shape_of
from constraints.targets import target
from explore.reading import built_in, built_in_names, read

STRAY = 5  # a block of fewer places than this


def figures(design: Design) -> dict[str, float]:
    """The figures of one square."""
    layout = lay(design)
    blocks = [np.array(block.pinholes, dtype=float) for block in design.blocks]
    centres = np.array([places.mean(axis=0) for places in blocks]).reshape(-1, 2)
    x, y = np.abs(centres).T
    on_line = (np.minimum(np.minimum(x, y), np.abs(x - y)) < 0.75).sum()
    corners = holes_below(layout.piece)[fields_below(layout) >= 0]
    worked = (layout.unit_of[corners] >= 0).any(axis=1) | (layout.ground >= 0)[corners].all(axis=1)
    return {
        "motifs": len(blocks),
        "strays": sum(len(places) < STRAY for places in blocks),
        "on a line": float(on_line / max(1, len(blocks))),
        "filled": float(worked.mean()) if len(worked) else 0.0,
        "solid": sum(map(len, blocks)) / len(layout.piece),
        "match": design.prints[0].match if design.prints else float("nan"),
    }


def recognised(design: Design, others: dict[str, Stamp]) -> bool:
    """Whether no other stamp in the same box fits the blocks better than the square's own."""
    assert design.prints
    piece = design.piece()
    block = np.zeros(len(piece), dtype=bool)
    block[[piece.index[p] for each in design.blocks for p in each.pinholes]] = True
    own = shape_of(design.prints[0].outlines)
    left, top, right, bottom = own.bounds
    centre = ((left + right) / 2, (top + bottom) / 2)

    def fit(shape: MultiPolygon) -> float:
        # The blocks within reach of the own print alone: the rest of the square is the same for all.
        aim = target(piece, shape, design.prints[0].reverse)
        shown = ~block if design.prints[0].reverse else block
        near = np.array(shapely.dwithin(shapely.points(piece.pinholes.astype(float)), own, 2.0)) & shown
        hit = shown[aim.inside].sum()
        return float(hit / (len(aim.inside) + near.sum() - near[aim.inside].sum()))

    best = max(
        fit(stamp.placed(design.prints[0].size, turn, centre))
        for stamp in others.values()
        for turn in range(0, 360, 45)
    )
    return fit(own) >= best


def main(folders: list[str]) -> None:
    """Print one line of means for each study."""
    stamps = {name: read(built_in(name)) for name in built_in_names()}
    for folder in folders:
        designs = [from_text(path.read_text("utf-8")) for path in sorted(Path(folder, "squares").glob("*.json"))]
        table = [figures(design) for design in designs]
        means = {key: float(np.mean([row[key] for row in table])) for key in table[0]}
        told = "  ".join(f"{key} {value:.2f}" for key, value in means.items())
        known = [
            recognised(design, {n: s for n, s in stamps.items() if design.prints and n != design.prints[0].name})
            for design in designs
            if design.prints
        ]
        print(f"{folder}: {len(designs)} squares  {told}  recognised {sum(known)} of {len(known)}")


if __name__ == "__main__":
    main(sys.argv[1:])
