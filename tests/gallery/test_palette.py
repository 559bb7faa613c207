"""Colours of lace in other threads on other cloth, and how far two colours stand apart."""

from __future__ import annotations

import pytest

from gallery.looks.palette import THREAD, VELVET, contrast, in_her_colours


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        # WCAG 2.2, "contrast ratio": from 1 to 21.
        ("#000000", "#ffffff", 21.0),
        ("#7f1d2c", "#7f1d2c", 1.0),
        # Understanding WCAG 2.2, 1.4.3: "#777777 ... 4.47:1", cut there and not rounded.
        ("#777777", "#ffffff", 4.478),
    ],
)
def test_contrast_is_as_the_guidelines_have_it(one: str, other: str, ratio: float) -> None:
    assert contrast(one, other) == contrast(other, one) == pytest.approx(ratio, abs=0.001)


def test_cloth_becomes_her_cloth_thread_her_thread_and_what_lies_between_stays_between() -> None:
    ecru, green = "#dcc9a0", "#2f5a45"
    assert in_her_colours(VELVET, ecru, green) == green
    assert in_her_colours(THREAD, ecru, green) == ecru
    order = [VELVET, "#46525c", "#8d8778", "#b3aa97", "#d6cdba", THREAD]
    for thread, cloth in ((ecru, green), ("#16161a", "#ffffff")):
        far = [contrast(in_her_colours(each, thread, cloth), cloth) for each in order]
        assert far == sorted(far)
        assert len(set(far)) == len(far)
