"""The legend of a sheet: all that occurs on it and nothing else, each beside a piece of it."""

from __future__ import annotations

from io import BytesIO

import numpy as np
import pytest
from examples import diamond, make
from matplotlib.colors import to_rgb
from matplotlib.figure import Figure
from PIL import Image
from test_forms_shown import FRAME, band
from test_order_forms import FANS
from test_sheet import shelf

from constraints.colours import Colour
from gallery.looks.palette import LINES, TINTS, VELVET
from gallery.sheets.legend import WORDS, samples
from gallery.sheets.sheet import sheet

SHADES = {
    "cloth stitch": TINTS[Colour.PURPLE],
    "half stitch": TINTS[Colour.GREEN],
    "whole stitch": TINTS[Colour.RED],
    "spiders": LINES[Colour.UMBER],
    "rose ground": LINES[Colour.STEEL],
}


def legend_of(figure: Figure) -> list[str]:
    return [text.get_text() for text in figure.axes[0].texts if text.get_color() == WORDS.colour]


def pixels(figure: Figure) -> np.ndarray:
    held = BytesIO()
    figure.savefig(held, format="png", dpi=200)
    return np.asarray(Image.open(held).convert("RGB"), dtype=np.float64)


def test_everything_on_a_sheet_is_in_its_legend_once_in_the_order_of_a_brief() -> None:
    (figure,) = sheet(shelf(24), title="t")
    assert legend_of(figure) == [
        "cloth stitch", "half stitch", "whole stitch", "rose ground", "spiders", "double torchon ground",
        "torchon ground", "seam, worked in halves", "footside",
    ]  # fmt: skip


def test_what_no_square_has_is_not_in_it() -> None:
    (figure,) = sheet([make(12, [("half", diamond(6, 0, 2))])], title="t", look="lace")
    assert legend_of(figure) == ["half stitch", "torchon ground", "footside"]


def test_fans_and_bands_are_told() -> None:
    assert [each.words for each in samples([FANS], False)][-1] == "fans in cloth stitch"
    words = [each.words for each in samples([FRAME, band(20)], False)]
    assert words == ["cloth stitch", "spiders", "torchon ground", "footside"]


def test_pins_are_told_where_they_are_shown() -> None:
    assert "pin" in legend_of(sheet(shelf(1), title="t")[0])
    assert "pin" not in legend_of(sheet(shelf(1), title="t", look="lace")[0])
    assert "pin" not in legend_of(sheet(shelf(24), title="t")[0])


@pytest.mark.parametrize("look", ["drawing", "lace"])
def test_a_sample_shows_what_its_words_say(look: str) -> None:
    (figure,) = sheet(shelf(24), title="t", look=look)
    seen = pixels(figure)
    for text in figure.axes[0].texts:
        if text.get_color() != WORDS.colour:
            continue
        # The sample stands at the left of the words, 6.4 mm wide and 1.8 mm away, at 200 dots to an inch.
        x, y = (round(each / 25.4 * 200) for each in text.get_position())
        cut = seen[y - 30 : y + 14, x - 62 : x - 17]
        ground = np.array(to_rgb(VELVET)) * 255 if look == "lace" else np.full(3, 255.0)
        assert (np.abs(cut - ground).max(axis=2) > 30).mean() > 0.03, text.get_text()
        shade = SHADES.get(text.get_text())
        if look == "drawing" and shade is not None:
            away = np.abs(cut - np.array(to_rgb(shade)) * 255).max(axis=2)
            assert (away < 40).mean() > 0.002, text.get_text()
