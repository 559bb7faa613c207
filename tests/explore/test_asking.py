"""A brief: what is read of units, files and flags, and that the table of keys is the whole of it.

Sources: one inch is 25.4 mm exactly (international yard and pound agreement, 1959); TOML is read back by
the standard library's `tomllib`, which did not write it.
"""

from fractions import Fraction
from pathlib import Path

import pytest
from asked import brief_of
from hypothesis import given
from hypothesis import strategies as some

from constraints.brief import AskedPiece, AskedStamp, Brief, Run
from constraints.ruleset import Rules
from explore import asking
from explore.asking import KEYS, BriefError
from explore.asking.stamps import stamp_name

INCH = Fraction(254, 10)


# --- units and forms ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("140mm", 140.0),
        ("14 cm", 140.0),
        ("5.5in", 139.7),
        ("140", 140.0),
        (" .5 In ", 12.7),
        ("14.0CM", 140.0),
    ],
)
def test_lengths_come_in_mm_cm_and_inches(text: str, mm: float) -> None:
    assert brief_of(width=text).piece.width_mm == mm


@given(some.integers(4, 100000))
def test_an_inch_is_25_4_mm_exactly(hundredths: int) -> None:
    width = brief_of(width=f"{hundredths / 100:.2f}in", pitch="100mm").piece.width_mm
    assert width == float(Fraction(hundredths, 100) * INCH)


@pytest.mark.parametrize(
    ("text", "span"),
    [
        ("4-6mm", (4.0, 6.0)),
        ("4mm-6mm", (4.0, 6.0)),
        ("4mm - 6", (4.0, 6.0)),
        ("0.4-0.6cm", (4.0, 6.0)),
        ("4mm-1cm", (4.0, 10.0)),
        ("5", (5.0, 5.0)),
    ],
)
def test_a_pitch_may_be_a_range(text: str, span: tuple[float, float]) -> None:
    assert brief_of(pitch=text).piece.pitch_mm == span


def test_shares_may_be_percentages() -> None:
    assert brief_of(apart="10%").run.apart == brief_of(apart="0.1").run.apart == 0.1
    assert brief_of(solid="20-50%").rules.solid == brief_of(solid="0.2-0.5").rules.solid == (0.2, 0.5)
    assert asking.from_toml('match = "70%"', "roses.toml").rules.match == 0.7


def test_stitches_come_in_one_order_with_their_least_numbers() -> None:
    brief = brief_of(stitches="spider:4, cloth,rose:8")
    assert brief.rules.stitches == ("cloth", "rose", "spider")
    assert brief.rules.least == {"rose": 8, "spider": 4}
    written = asking.from_toml(
        'stitches = ["spider:4", "cloth", "rose:8"]\ncorners = "halves"\nknown = "known"', "roses.toml"
    )
    assert written == brief


def test_a_study_made_before_corners_were_asked_for_asks_none() -> None:
    assert asking.from_toml("", "brief.toml").rules.corners == ""
    assert asking.from_toml('corners = "swung"', "brief.toml").rules.corners == "swung"
    assert asking.read().brief.rules.corners == "halves"
    old = asking.from_toml("", "brief.toml")
    assert "corners" not in asking.to_toml(old)
    assert asking.from_toml(asking.to_toml(old), "brief.toml") == old


def test_turns_are_kept_in_order_below_a_full_turn() -> None:
    assert brief_of(turns="0,45,-90, 360").stamp.turns == (0.0, 45.0, 270.0)
    assert asking.from_toml("turns = 45", "roses.toml").stamp.turns == (45.0,)
    assert asking.from_toml("turns = [45, 0.5]", "roses.toml").stamp.turns == (45.0, 0.5)


def test_toml_numbers_lists_and_texts_say_the_same() -> None:
    one = asking.from_toml("pitch = [4, 6]\nhalf_size = [20, 24]\nstamp_size = 12", "roses.toml")
    other = asking.from_toml('pitch = "4-6mm"\nhalf_size = "20-24"\nstamp_size = "12-12"', "roses.toml")
    assert one == other
    assert one.piece.half_size == (20, 24)


def test_the_least_match_follows_the_way_of_working() -> None:
    assert brief_of().rules.match == 0.65
    assert brief_of(worked="across").rules.match == 0.60
    assert brief_of(worked="across", match="0.8").rules.match == 0.8


# --- files and flags ---------------------------------------------------------------------------------------


def test_flags_win_over_the_file(tmp_path: Path) -> None:
    file = tmp_path / "roses.toml"
    file.write_text('pairs = 24\nsymmetry = "none"\nwidth = "100mm"\n')
    brief = asking.read(file, {"pairs": "28", "half_size": "20"}).brief
    assert (brief.rules.pairs, brief.piece.symmetry, brief.piece.half_size, brief.piece.width_mm) == (
        28,
        "none",
        (20, 20),
        None,
    )


def test_a_stamp_beside_the_file_is_found_from_anywhere(tmp_path: Path) -> None:
    (tmp_path / "beetle.jpg").write_bytes(b"ink")
    file = tmp_path / "garden.toml"
    file.write_text('stamp = "beetle.jpg"\n')
    asked = asking.read(file)
    assert (asked.stamps, asked.brief.stamp.name) == ((str(tmp_path / "beetle.jpg"),), "beetle")
    assert asking.read(file, {"stamp": "tulip"}).stamps == ("tulip",)


def test_no_stamp_named_is_the_built_in_one_and_an_empty_one_is_none() -> None:
    assert asking.read().stamps == (asking.BUILT_IN,)
    assert asking.from_toml('stamp = ""', "roses.toml").stamps == ()


def test_files_that_cannot_be_read_are_named(tmp_path: Path) -> None:
    (tmp_path / "latin.toml").write_bytes(b'stamp = "\xe9"')
    (tmp_path / "huge.toml").write_bytes(b"#" * (10**6 + 1))
    (tmp_path / "deep.toml").write_text("pairs = " + "[" * 20000)
    for name in ("missing.toml", "latin.toml", "huge.toml", "deep.toml", "."):
        with pytest.raises(BriefError) as caught:
            asking.read(tmp_path / name)
        assert str(tmp_path / name) in str(caught.value)
        assert len(str(caught.value).splitlines()) == 1


# --- the table ---------------------------------------------------------------------------------------------


def test_the_defaults_of_the_table_are_those_of_a_brief() -> None:
    brief, plain = brief_of(stamp=""), Brief()
    for key in KEYS:
        if key.name != "match":
            assert brief.value(key.place) == plain.value(key.place), key.name
    assert brief.rules.match == plain.rules.match


def test_every_field_of_a_brief_has_a_key() -> None:
    own = [set(part.__dataclass_fields__) for part in (AskedPiece, AskedStamp, Rules, Run)]
    assert {key.place for key in KEYS} | {"least", "own_splits"} == set().union(*own) - {"name", "size"} | {
        "stamp",
        "stamp_size",
    }


@pytest.mark.parametrize("key", KEYS, ids=lambda key: key.name)
def test_every_key_has_a_line_of_help_that_says_what_is_allowed(key: asking.Key) -> None:
    assert key.kind.allowed in key.help
    assert key.usual
    assert len(key.help.splitlines()) == 1


GUIDE = Path(__file__).parents[2] / "explore" / "guides" / "brief.md"


@pytest.mark.parametrize("key", KEYS, ids=lambda key: key.name)
def test_the_guide_lists_every_key_as_the_table_has_it(key: asking.Key) -> None:
    row = f"| `{key.name}` | {key.meaning} | {key.kind.allowed} | {key.usual} |"
    assert row in GUIDE.read_text(encoding="utf-8").splitlines()


def test_stamps_are_called_by_their_name_without_folder_and_suffix() -> None:
    names = {"prints/beetle.JPG": "beetle", "st.ives.png": "st.ives", "tulip": "tulip", "": "", "/": "stamp"}
    assert {text: stamp_name(text) for text in names} == names
