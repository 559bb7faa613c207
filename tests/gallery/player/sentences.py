"""Which sentence a step is."""

from __future__ import annotations

from player.said_of_blocks import read_rows
from player.said_of_ground import (
    CORNER,
    GROUND,
    ROSES,
    SPIDERS,
    VALLEY,
    read_corner,
    read_figures,
    read_ground,
    read_valley,
)
from player.steps import Done


def read_step(words: str) -> list[Done]:
    """What a step says, one after the other. Fault if it cannot be read."""
    if read := GROUND.fullmatch(words):
        return read_ground(read)
    if read := VALLEY.fullmatch(words):
        return read_valley(read)
    if read := SPIDERS.fullmatch(words):
        return read_figures(read[3], read[1], int(read[2]))
    if read := ROSES.fullmatch(words):
        return read_figures(read[2], read[1], 0)
    if read := CORNER.fullmatch(words):
        return read_corner(read)
    return [read_rows(words)]
