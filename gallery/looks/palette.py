"""The inks of drawings: which colour on paper each colour of the trade is."""

from __future__ import annotations

from constraints.colours import Colour

# Lines, and the tints of blocks.
LINES = {
    Colour.PURPLE: "#6a2c91", Colour.GREEN: "#1c7c3c", Colour.RED: "#c0272d", Colour.BROWN: "#9a5b2c",
    Colour.STEEL: "#2e6484", Colour.UMBER: "#7a4a1e", Colour.SLATE: "#7b818c",
}  # fmt: skip
TINTS = {Colour.PURPLE: "#d5bfe6", Colour.GREEN: "#c3e4c9", Colour.RED: "#f5c8c1"}
# Bars of a chart lie alone on white.
BARS = LINES | {Colour.SLATE: "#5d626c"}
