import pytest
from designs import Points, diamond
from trial import Trial

from constraints.rules.solid import solid

# Half-size 4 has 2 x 4 x 5 = 40 pinholes, nine of them make 22.5 %.
NINE = diamond((0, -1), 3)


def test_any_share_goes_if_any_is_allowed() -> None:
    trial = Trial(solid, half_size=4)
    shapes: list[Points] = [set(), NINE]
    for shape in shapes:
        assert trial.takes(trial.blocks(shape))


@pytest.mark.parametrize(
    ("span", "fits"),
    [((0.225, 0.225), True), ((0.2, 0.3), True), ((0.23, 0.5), False), ((0.0, 0.22), False), ((0.0, 0.2), False)],
)
def test_the_share_of_all_pinholes_lies_within_both_bounds(span: tuple[float, float], fits: bool) -> None:
    trial = Trial(solid, half_size=4, solid=span)
    assert trial.takes(trial.blocks(NINE)) == fits


def test_every_image_of_a_place_counts() -> None:
    eight = {(x, y) for x in range(-2, 3) for y in range(-2, 3) if {abs(x), abs(y)} == {1, 2}}
    for share, fits in ((0.2, True), (0.025, False)):
        trial = Trial(solid, half_size=4, symmetry="full", solid=(share, share))
        assert trial.takes(trial.blocks(eight)) == fits


def test_a_share_that_no_number_of_pinholes_gives_is_impossible() -> None:
    assert not Trial(solid, half_size=1, solid=(0.3, 0.4)).takes()
