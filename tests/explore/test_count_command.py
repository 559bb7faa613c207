"""`stampwork count`: what it says, writes and refuses."""

from __future__ import annotations

import json
import math
from pathlib import Path

import pytest
from answer_forms import AskedForms, Outline, every

from constraints.brief import Brief
from constraints.counting.answer import Certainty, LayoutCount, whole
from constraints.forms import Strip
from constraints.symmetry import SYMMETRIES, told
from explore.cli import run
from explore.editing import counts_told
from explore.exits import BAD_INPUT, DONE, IMPOSSIBLE, NOTHING_FOUND


def test_says_how_many_and_what_is_counted(capsys: pytest.CaptureFixture[str]) -> None:
    """The numbers are those of lists made by an answer set program in tests/constraints/test_counting.py."""
    asked = ["count", "--pairs", "16", "--worked", "across", "--symmetry", "none", "--solid", "0-1"]
    assert run([*asked, "--half-size", "5"]) == DONE
    said = capsys.readouterr().out
    assert "no symmetry, worked across; blocks 2 to 16 pinholes wide" in said
    assert "half-size 5 (14 pairs)" in said
    assert "block layouts: 192 exactly" in said
    assert "up to turning and reflecting that keep the way of working: 65 exactly" in said
    assert "stamp, stitches and fillings are set aside" in said


def test_without_a_symmetry_each_is_told_in_a_line_as_it_is_told_alone(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["count", "--half-size", "6"]) == DONE
    said = capsys.readouterr().out
    assert said.startswith("whatever symmetry suits, worked round; blocks")
    for name in SYMMETRIES:
        (line,) = (line.strip() for line in said.splitlines() if line.strip().startswith(f"{told(name)}: "))
        assert run(["count", "--half-size", "6", "--symmetry", name]) == DONE
        assert f"block layouts: {line.partition(': ')[2]}\n" in capsys.readouterr().out


def test_several_symmetries_are_counted_apart_and_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "space.json"
    assert run(["count", "--half-size", "5-6", "--symmetry", "full,half-turn", "--out", str(out)]) == DONE
    said = capsys.readouterr()
    entries = json.loads(out.read_text())["sizes"]
    assert [(each["half_size"], each["symmetry"]) for each in entries] == [
        (half, name) for half in (5, 6) for name in ("full", "half-turn")
    ]
    for each in entries:
        assert f"{told(each['symmetry'])}: {int(each['layouts']['value']):,} exactly" in said.out
    # Patterns without a stamp have one symmetry, so nothing goes on from there.
    assert "next:" not in said.out + said.err


def test_every_size_of_a_range_is_counted(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["count", "--half-size", "4-7"]) == DONE
    said = capsys.readouterr().out
    assert [f"half-size {n} " in said for n in range(3, 9)] == [False, True, True, True, True, False]


def test_the_file_holds_the_numbers(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "space.json"
    assert run(["count", "--half-size", "6", "--symmetry", "none", "--out", str(out)]) == DONE
    size = json.loads(out.read_text())["sizes"][0]
    assert (size["layouts"]["kind"], size["up_to_turning_and_reflecting"]["kind"]) == ("exact", "exact")
    said = capsys.readouterr().out
    assert f"{int(size['layouts']['value']):,} exactly" in said
    assert f"{int(size['up_to_turning_and_reflecting']['value']):,} exactly" in said
    before = out.read_bytes()
    assert run(["count", "--half-size", "5", "--out", str(out)]) == BAD_INPUT
    assert out.read_bytes() == before
    assert "is there already: --force replaces it" in capsys.readouterr().err
    assert run(["count", "--half-size", "6", "--symmetry", "none", "--out", str(out), "--force"]) == DONE
    assert out.read_bytes() == before


def test_an_estimate_says_its_method_and_error(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "space.json"
    asked = ["count", "--half-size", "24", "--effort", "0.05", "--symmetry", "full"]
    assert run([*asked, "--out", str(out)]) == DONE
    said = capsys.readouterr().out
    size = json.loads(out.read_text())["sizes"][0]["layouts"]
    assert size["kind"] == "estimate"
    assert "standard error" in said
    assert "mean of 16 random sweeps, seed 1" in said
    assert 0 < size["standard_error"] <= 0.3


def test_the_stitches_and_the_stamp_do_not_matter(capsys: pytest.CaptureFixture[str]) -> None:
    said = []
    for more in ([], ["--stitches", "half,rose:9"], ["--match", "1"]):
        assert run(["count", "--half-size", "7", "--symmetry", "quarter-turn", *more]) == DONE
        said.append(capsys.readouterr().out)
    assert said[0] == said[1] == said[2]


@pytest.mark.parametrize(
    ("words", "status", "message"),
    [
        (["--pairs", "4", "--half-size", "9"], IMPOSSIBLE, "what mends it: --pairs 11"),
        (["--half-size", "65", "--pairs", "200"], BAD_INPUT, "as many as half-size 64 has"),
        (["--form", "strip", "--columns", "60", "--pairs", "100", "--repeat", "300"], BAD_INPUT, "a repeat of 8,192"),
        (["--form", "frame", "--half-size", "40", "--pairs", "6"], IMPOSSIBLE, "what mends it: --pairs 10 or "),
        (["--form", "strip", "--columns", "9", "--symmetry", "full"], BAD_INPUT, "which a strip cannot have"),
        (["--half-size", "8", "--worked", "suits"], BAD_INPUT, "count takes one way of working"),
        (["--half-size", "5", "--out", "numbers.txt"], BAD_INPUT, "ends in .json"),
        (["--half-size", "5", "--out", "no-such-folder/numbers.json"], BAD_INPUT, "is not a folder"),
        (["--half-size", "5", "--symmetry", "ful"], BAD_INPUT, "did you mean full?"),
        (["tulip"], BAD_INPUT, "tulip"),
    ],
)
def test_what_cannot_be_counted_gets_one_line(
    words: list[str], status: int, message: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["count", *words]) == status
    said = capsys.readouterr()
    assert message in said.err
    assert said.err.count("\n") == 1
    assert said.out == ""


@pytest.mark.parametrize(
    ("words", "measured", "up_to", "list_of"),
    [
        (
            "--form strip --columns 9 --repeat 8 --symmetry none --solid 0-1",
            "columns 9, rows 8 (12 pairs)",
            "shifting, turning and reflecting",
            AskedForms(Outline("strip", (9, 8))),
        ),
        (
            "--form strip --columns 11 --repeat 12 --symmetry level-mirror --solid 0-1 --edging",
            "columns 11, rows 12 (13 pairs)",
            "shifting and reflecting",
            AskedForms(Outline("strip", (11, 12), 0, "fan", 3, 3), "level-mirror"),
        ),
        (
            "--form frame --half-size 8 --half-height 7 --band 6 --symmetry half-turn --solid 0-1",
            "half-width 8, half-height 7, band 6 (10 pairs)",
            "turning and reflecting",
            AskedForms(Outline("frame", (8, 7), 6), "half-turn"),
        ),
        (
            "--form rectangle --half-size 6 --half-height 7 --symmetry upright-mirrors --solid 0-1",
            "half-width 6, half-height 7 (16 pairs)",
            "turning and reflecting",
            AskedForms(Outline("rectangle", (6, 7)), "upright-mirrors"),
        ),
    ],
)
def test_other_forms_are_counted_as_an_answer_set_program_lists_them(
    words: str, measured: str, up_to: str, list_of: AskedForms, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["count", *words.split(), *(["cloth fan 3"] if words.endswith("--edging") else [])]) == DONE
    said = capsys.readouterr().out
    number = len(every(list_of))
    assert number > 2
    assert f"\n{measured}\n  block layouts: {number:,} exactly\n  up to {up_to}: " in said
    assert ("of one repeat" in said) == ("strip" in words)
    assert ("the cloth fan 3 and fillings are set aside" in said) == ("edging" in words)


def test_every_repeat_of_a_span_is_counted_and_only_what_can_have_a_symmetry(tmp_path: Path) -> None:
    out = tmp_path / "strips.json"
    asked = ["count", "--form", "strip", "--columns", "8", "--repeat", "8-12", "--out", str(out)]
    assert run(asked) == DONE
    told = json.loads(out.read_text())
    assert (told["brief"]["form"], told["brief"]["edging"]) == ("strip", "footside")
    assert {each["rows"] for each in told["sizes"]} == {8, 10, 12}
    for rows in (8, 10, 12):
        names = {each["symmetry"] for each in told["sizes"] if each["rows"] == rows}
        assert names == set(Strip(8, rows, 2).symmetries_allowed("across"))


def test_a_repeat_too_long_to_look_at_all_its_shifts_says_so(capsys: pytest.CaptureFixture[str]) -> None:
    words = "count --form strip --columns 7 --repeat 130 --symmetry upright-mirrors"
    assert run(words.split()) == DONE
    said = capsys.readouterr().out
    assert "its repeat is too long to tell layouts up to shifting" in said
    assert "up to shifting," not in said


def test_no_layout_at_all_is_an_answer(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["count", "--half-size", "3", "--narrowest", "4", "--widest", "4"]) == DONE
    assert "full symmetry: 0 exactly" in capsys.readouterr().out


def test_nothing_followed_to_the_end_is_told_apart_from_none() -> None:
    assert counts_told.in_words(whole(0, Certainty.NONE_FOUND)) == "none found; nothing is proven"
    assert NOTHING_FOUND != DONE


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (whole(12345, Certainty.EXACT), "12,345 exactly"),
        (whole(1234567890, Certainty.EXACT), "1,234,567,890 exactly (1.2 x 10^9)"),
        (whole(77, Certainty.AT_LEAST), "at least 77"),
        (LayoutCount(Certainty.ESTIMATE, None, math.log(9.96e11), 0.123), "about 1.0 x 10^12, standard error 12%"),
        (LayoutCount(Certainty.ESTIMATE, None, math.log(5000), 0.004), "about 5,000, standard error 0.4%"),
    ],
)
def test_numbers_in_words(number: LayoutCount, words: str) -> None:
    assert counts_told.in_words(number) == words


def test_briefs_limits_are_told() -> None:
    assert "splits 3, solid 0.1-0.4" in counts_told.report(Brief.of(splits=3, solid=(0.1, 0.4)), [])[0]
