"""Numbers in sentences, told as one would by hand."""

import pytest

from constraints.wording import shown, shown_apart


def test_numbers_in_sentences_carry_no_idle_decimals() -> None:
    assert [shown(n) for n in (5.0, 5.40, 130.004, 0.125, 10000.5)] == ["5", "5.4", "130", "0.12", "10000.5"]


@pytest.mark.parametrize(
    ("one", "other", "told"),
    [
        (0.78, 0.95, ("0.78", "0.95")),
        (0.9479, 0.95, ("0.948", "0.95")),
        (0.94996, 0.95, ("0.94996", "0.95")),
        (50.0, 49.999, ("50", "49.999")),
        (0.8, 0.95, ("0.8", "0.95")),
    ],
)
def test_numbers_that_differ_are_told_so_that_they_differ(one: float, other: float, told: tuple[str, str]) -> None:
    assert shown_apart(one, other) == told
