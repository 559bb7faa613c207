"""What stands on the pages of a PDF, in mm from the top left corner, read by pypdf alone (ISO 32000-1, section 8)."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

import numpy as np
from pypdf import PageObject, PdfReader
from pypdf.generic import ContentStream

MM = 72 / 25.4


class Stroked(NamedTuple):
    """A line drawn. points: (n, 2) mm; width: mm; ends: 1 for round ones."""

    points: np.ndarray
    width: float
    ends: int

    @property
    def is_dot(self) -> bool:
        return self.ends == 1 and len(self.points) == 2 and self.length < 0.01

    @property
    def length(self) -> float:
        return float(np.hypot(*(self.points[-1] - self.points[0])))


class Read(NamedTuple):
    """A page. width, height: mm."""

    width: float
    height: float
    strokes: list[Stroked]

    @property
    def dots(self) -> np.ndarray:
        """(n, 3) x, y and diameter of every dot, mm."""
        found = [(*each.points.mean(axis=0), each.width) for each in self.strokes if each.is_dot]
        return np.array(found).reshape(-1, 3)


def read_pdf(path: Path) -> list[Read]:
    reader = PdfReader(path)
    found = []
    for page in reader.pages:
        width, height = float(page.mediabox.width) / MM, float(page.mediabox.height) / MM
        found.append(Read(width, height, _strokes(page, reader, height)))
    return found


def _strokes(page: PageObject, reader: PdfReader, height: float) -> list[Stroked]:
    matrix, width, ends = np.eye(3), 1.0, 0
    kept: list[tuple[np.ndarray, float, int]] = []
    paths: list[list[tuple[float, float]]] = []
    found: list[Stroked] = []
    for operands, operator in ContentStream(page.get_contents(), reader).operations:
        values = [float(each) for each in operands if isinstance(each, int | float)]
        match operator:
            case b"q":
                kept.append((matrix, width, ends))
            case b"Q":
                matrix, width, ends = kept.pop()
            case b"cm":
                a, b, c, d, e, f = values
                matrix = np.array([[a, b, 0], [c, d, 0], [e, f, 1]]) @ matrix
            case b"w":
                width = values[0]
            case b"J":
                ends = int(values[0])
            case b"m":
                paths.append([(values[0], values[1])])
            case b"l":
                paths[-1].append((values[0], values[1]))
            case b"c":
                paths[-1].append((values[4], values[5]))
            case b"S" | b"s":
                for each in paths:
                    points = np.column_stack([np.array(each), np.ones(len(each))]) @ matrix
                    placed = np.stack([points[:, 0] / MM, height - points[:, 1] / MM], axis=1)
                    found.append(Stroked(placed, width / MM, ends))
                paths = []
            case b"f" | b"n" | b"B" | b"b" | b"f*":
                paths = []
    return found
