from designs import Points, bar
from trial import Trial

from constraints.rules.narrowest_ground import narrowest_ground


def two_bars(gap: int) -> Points:
    """Two bars with `gap` rows of open pinholes between their long sides."""
    return bar((-1, -8), 2, 5) | bar((1 + gap, gap - 6), 2, 5)


def test_open_ground_is_wide_enough_also_in_its_corners() -> None:
    for size in (1, 2, 3):
        trial = Trial(narrowest_ground, narrowest_ground=size)
        assert trial.takes(trial.blocks(set()))


def test_ground_between_two_bars_is_as_wide_as_asked() -> None:
    for size in (1, 2, 3):
        trial = Trial(narrowest_ground, narrowest_ground=size)
        for gap in (1, 2, 3):
            assert trial.takes(trial.blocks(two_bars(gap))) == (gap >= size)


def test_bars_point_to_point_leave_ground_enough() -> None:
    trial = Trial(narrowest_ground, narrowest_ground=2)
    assert trial.takes(trial.blocks(bar((-1, -4), 2, 2) | bar((-1, 0), 2, 2)))


def test_pins_of_the_edge_itself_are_never_too_narrow() -> None:
    trial = Trial(narrowest_ground, half_size=3, narrowest_ground=2)
    inner = {(x, y) for x in range(-2, 3) for y in range(-2, 3) if (x + y) % 2}
    assert trial.takes(trial.blocks(inner))
    for place in ((0, 1), (2, 1)):  # inside, and in the row next to the edge
        assert not trial.takes(trial.blocks(inner - {place}))
