"""A brief that is refused: in one line, which names the place, the value, what is allowed and the nearest that is."""

import pytest
from asked import brief_of

from constraints.brief import Brief
from explore import asking
from explore.asking import BriefError


def refusal(text: str) -> str:
    with pytest.raises(BriefError) as caught:
        asking.from_toml(text, "roses.toml")
    return str(caught.value)


def refused_flag(**flags: str) -> str:
    with pytest.raises(BriefError) as caught:
        asking.read(flags=flags)
    return str(caught.value)


def test_an_unknown_key_gets_the_nearest_known_one() -> None:
    assert refusal('symetry = "full"') == 'roses.toml: unknown key "symetry"; did you mean symmetry?'
    assert "known keys: stamp, form, pairs, half_size" in refusal("zzz = 1")


def test_a_key_of_another_form_is_one_line() -> None:
    assert refused_flag(columns="9") == "--columns is given, but a square has none; leave it out"
    assert refused_flag(form="strip", half_size="9") == "--half-size is given, but a strip has none; leave it out"
    assert "which a square cannot have" in refused_flag(symmetry="glide")
    assert "which a strip cannot have" in refused_flag(form="strip", symmetry="full")
    assert "goes round a square worked round" in refused_flag(edging="cloth fan 3", worked="across")
    assert "allowed: footside, a cloth or half fan" in refused_flag(edging="cloth fan 9")
    assert "allowed: footside, a cloth or half fan" in refused_flag(edging="half scallop 3")


def test_a_refusal_names_file_key_value_and_what_is_allowed() -> None:
    assert refusal('pairs = "30"') == 'roses.toml: pairs is "30"; allowed: a whole number from 2 to 2000'
    assert refused_flag(pairs="many") == '--pairs is "many"; allowed: a whole number from 2 to 2000'
    assert refused_flag(half_size="0").startswith('--half-size is "0"; allowed: ')
    assert "did you mean quarter-turn?" in refusal('symmetry = "quater-turn"')
    assert 'unknown unit "ft", known: mm, cm, in' in refused_flag(width="3ft")


@pytest.mark.parametrize(
    "text",
    [
        "pairs = 30.0",
        "pairs = true",
        "pairs = 1",
        "pairs = 9999999999999999999999",
        "pairs = 1979-05-27",
        "pairs = nan",
        "match = nan",
        "width = nan",
        "width = inf",
        "width = -140",
        "width = 0",
        "effort = 0",
        'effort = "2"',
        "effort = true",
        "pitch = [4, 5, 6]",
        "pitch = [4, true]",
        "pitch = [6, 4]",
        'pitch = "6-4mm"',
        'pitch = "4,5mm"',
        "half_size = [28, 20]",
        "half_size = [20.0, 28.0]",
        'half_size = "28-20"',
        "solid = [0.5, 0.2]",
        "solid = 0",
        "solid = 1.1",
        "apart = 10",
        "match = 1.01",
        "turns = []",
        "turns = [400]",
        "turns = [true]",
        "turns = {}",
        "stitches = []",
        'stitches = ["rose"]',
        'stitches = ["cloth", "cloth"]',
        'stitches = "cloth:-1"',
        'stitches = "cloth:x"',
        'stitches = "cloth:9999999"',
        "stitches = [1]",
        "stitches = 1",
        "symmetry = 4",
        'edging = "fan"',
        "stamp = 1",
        'stamp = "a\\u0000b"',
        "[pairs]\nmost = 3",
        "pairs = ",
        "= 1",
        "pairs = 1\npairs = 2",
    ],
)
def test_wrong_values_are_refused_in_one_line(text: str) -> None:
    message = refusal(text)
    assert message.startswith("roses.toml: ")
    assert len(message.splitlines()) == 1


def test_a_range_upside_down_is_called_so() -> None:
    assert "upside down" in refused_flag(pitch="6-4mm")
    assert "upside down" in refusal("solid = [0.5, 0.2]")


def test_values_that_contradict_each_other_are_named_together() -> None:
    assert refused_flag(width="140mm", half_size="24") == "--width and --half-size are both given; give one of them"
    both = refusal("narrowest = 5\nwidest = 4")
    assert "roses.toml: narrowest is 5" in both
    assert "roses.toml: widest 4" in both
    widest = Brief().rules.widest
    assert f"above widest (the default) {widest}" in refused_flag(narrowest=str(widest + 1))


def test_pieces_beyond_the_largest_are_refused() -> None:
    assert "the largest piece is 2560 mm" in refused_flag(width="2561mm")
    assert "half-size 513" in refused_flag(pairs="515")
    assert brief_of(pairs="514").rules.pairs == 514
    assert brief_of(pairs="515", half_size="20").rules.pairs == 515
