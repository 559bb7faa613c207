"""Several values of one kind: what is read, what is refused, and that what is written is read again.

Source: one inch is 25.4 mm exactly (international yard and pound agreement, 1959).
"""

import pytest

from explore.asking.kinds import LENGTH, SHARE, Kind, Number, Unfit, Whole, written
from explore.asking.several import Box, Span, Twice, Wholes

NUMBERS = Wholes(Whole(1, 99))
PARTS = Twice(Whole(1, 9))
SIZE = Box(Number(1.0, 1000.0, "width and height, such as 290x410mm", LENGTH, "mm"))
CHANGED = Span(Number(0.0, 1.0, "a share or a range, such as 5-25%", SHARE, "%"))


@pytest.mark.parametrize(
    ("kind", "text", "value"),
    [
        (NUMBERS, "3, 7,5-6", (3, 7, 5, 6)),
        (NUMBERS, "5,4-6", (5, 4, 6)),
        (PARTS, "2", (2, 2)),
        (PARTS, " 2 x 3 ", (2, 3)),
        (SIZE, "290x410", (290.0, 410.0)),
        (SIZE, "29.5 x 41cm", (295.0, 410.0)),
        (SIZE, "2in x 60mm", (50.8, 60.0)),
        (CHANGED, "5-25%", (0.05, 0.25)),
        (CHANGED, "0.1", (0.1, 0.1)),
    ],
)
def test_what_is_read_is_written_so_that_it_is_read_again(kind: Kind, text: str, value: object) -> None:
    assert kind.from_text(text) == value
    assert kind.from_text(written(kind, value)) == value


@pytest.mark.parametrize(
    ("kind", "texts"),
    [
        (NUMBERS, ["", "a", "3-", "7-3", "1,,2", "-4", "0", "100"]),
        (PARTS, ["", "x", "2x", "x3", "0", "2x10", "2x3x4", "2-3"]),
        (SIZE, ["", "290", "290mm", "x410", "290x", "290x410ft", "0x410", "290-410"]),
    ],
)
def test_what_cannot_be_read_is_refused(kind: Kind, texts: list[str]) -> None:
    for text in texts:
        with pytest.raises(Unfit):
            kind.from_text(text)
