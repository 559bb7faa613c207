"""What a square takes, on one page: a table, a test swatch at true size, cautions."""

from __future__ import annotations

from collections.abc import Sequence

from matplotlib.figure import Figure
from matplotlib.transforms import Affine2D

from constraints.design import Design
from constraints.wording import measures
from gallery.looks import drawing
from gallery.looks.bent import half_sides
from gallery.paper.page import PAPERS, Type, house_rules, new_page, put_text
from gallery.paper.setting import leading, paragraph, put_lines

CAUTIONS = (
    "Pins are sharp and get lost; count them. Pins, beads and bobbins are no toys and not for small children.",
    "Long close work tires eyes, neck and hands: good light, breaks, a change of posture.",
    "Fixatives, starches and sprays: follow the maker's sheet, air the room, and try on a scrap. Lace burns; near "
    "flames, lamps and heaters, local rules and her own judgement decide.",
)
_MARGIN, _SECOND = 20.0, 72.0
_TITLE, _HEAD, _TEXT, _SMALL = Type(17, family="serif"), Type(9, colour="#5d626c"), Type(9.5), Type(8, colour="#5d626c")
_SWATCH = (
    "A swatch with the same stitches to try the thread on, at true size: measure it on the print, then prick from it. "
    "Work it and measure the lace: if it comes out wider than drawn, or its cloth stands stiff, take a finer thread; "
    "if the ground is slack, a thicker one."
)


def materials_page(title: str, rows: Sequence[tuple[str, str]], swatch: Design | None) -> Figure:
    """One page of A4. rows: what there is, a name and words each. swatch: drawn at true size below them."""
    width, height = PAPERS["a4"]
    with house_rules():
        figure, axes = new_page(width, height)
        put_text(axes, _MARGIN, 26.0, _TITLE.fitted(title, width - 2 * _MARGIN), _TITLE)
        y = 38.0
        for head, words in rows:
            lines = paragraph(words, _TEXT, width - _MARGIN - _SECOND)
            heads = paragraph(head, _HEAD, _SECOND - _MARGIN - 4.0)
            put_lines(axes, _MARGIN, y, heads, _HEAD)
            y = max(put_lines(axes, _SECOND, y, lines, _TEXT), y + len(heads) * leading(_HEAD)) + 1.6
        y += 4.0
        low = height - 14.0 - leading(_SMALL) * sum(len(_set(words, width)) for words in CAUTIONS)
        unit = swatch.pitch_mm / 2 if swatch else 0.0
        wide, high = (half_sides(swatch) * unit).tolist() if swatch else (0.0, 0.0)
        # A strip may lie along the page.
        lying = y + 2 * high + 24.0 > low and wide < high <= width / 2 - _MARGIN
        half = wide if lying else high
        if swatch is not None and y + 2 * half + 24.0 <= low:
            y = put_lines(axes, _MARGIN, y, paragraph(_SWATCH, _SMALL, width - 2 * _MARGIN), _SMALL) + 2.0
            to_page = Affine2D().scale(unit).rotate_deg(-90.0 if lying else 0.0).translate(width / 2, y + half)
            drawing.draw(axes, swatch, to_page, True)
            told = f"{swatch.pairs} pairs, {measures(swatch)}"
            put_text(axes, width / 2, y + 2 * half + 4.0, told, _SMALL, "center")
        for words in CAUTIONS:
            low = put_lines(axes, _MARGIN, low, _set(words, width), _SMALL)
    return figure


def _set(words: str, width: float) -> list[str]:
    return paragraph(words, _SMALL, width - 2 * _MARGIN)
