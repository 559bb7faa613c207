"""The inks of drawings: which colour on paper each colour of the trade is, and lace in other threads on other cloth."""

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

# Lace as it lies on cloth: the cloth and the thread.
VELVET, THREAD = "#1c2b39", "#f8f2e5"


def in_her_colours(colour: str, thread: str, cloth: str) -> str:
    """A colour of the look `lace` where it is worked in another thread and lies on another cloth: as far from one to
    the other as before. All of them as "#rrggbb"."""
    (dark, light, own), (to_dark, to_light) = map(_channels, (VELVET, THREAD, colour)), map(_channels, (cloth, thread))
    way = [b - a for a, b in zip(dark, light, strict=True)]
    share = sum(w * (c - a) for w, c, a in zip(way, own, dark, strict=True)) / sum(w * w for w in way)
    mixed = (a + share * (b - a) for a, b in zip(to_dark, to_light, strict=True))
    return "#" + "".join(f"{round(min(max(255 * each, 0), 255)):02x}" for each in mixed)


def contrast(one: str, other: str) -> float:
    """The contrast ratio of two colours, from 1 to 21 (WCAG 2.2, "contrast ratio" and "relative luminance")."""
    lighter, darker = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def _channels(colour: str) -> tuple[float, ...]:
    return tuple(int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))


def _luminance(colour: str) -> float:
    red, green, blue = (
        each / 12.92 if each <= 0.04045 else ((each + 0.055) / 1.055) ** 2.4 for each in _channels(colour)
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
