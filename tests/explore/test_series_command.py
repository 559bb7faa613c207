"""`stampwork series` from end to end: what it writes, what holds of the files alone, and how it ends."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations
from pathlib import Path

import pypdf
import pytest
from asked import Ask, files_of, mends
from walls import BRIEF, MODEL, OTHER, ROSES, contrast, shares

from constraints.check import check
from constraints.design import Design
from constraints.forms import Square
from explore import cli
from explore.editing.series import keeping, making, pool
from explore.search import memory
from explore.storage.study import create, open_study


@pytest.fixture(autouse=True)
def garden(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder to stand in, with a study of two squares; pools are small and nothing is drawn."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(pool, "WANTED", 10)
    monkeypatch.setattr(pool, "_AT_LEAST", 2)
    monkeypatch.setattr(keeping, "_draw", lambda folder, *_: (folder / "exhibition.png").write_text("drawn"))
    study = create(tmp_path / "garden-society-study", BRIEF, (), ())
    for design in (MODEL, OTHER):
        study = study.keep(design, 0)
    return tmp_path


def in_vain(*_: object) -> list[Design]:
    raise AssertionError("no square should be looked for")


def test_the_model_can_be_worked() -> None:
    assert check(MODEL) == check(OTHER) == []
    assert MODEL.pairs == Square(14).pairs("round", 1)


def test_without_a_number_it_is_made_round_the_first_pick(ask: Ask) -> None:
    status, _, errors = ask("series", "garden-society-study")
    assert status == 2
    assert errors == [
        "stampwork: garden-society-study has no picks: name a square to make the series round by its number, such as 1"
    ]
    assert ask("pick", "garden-society-study", "2")[0] == 0
    status, _, errors = ask("series", "garden-society-study", "--share", "border", "--squares", "2", "--cores", "1")
    assert (status, errors) == (0, ["note: the series is made round 02, your first pick"])
    told = json.loads(Path("garden-society-series", "series.json").read_text())
    (chosen,) = told["chosen"]
    assert told["squares"][chosen - 1]["from"] == 2


@pytest.mark.parametrize("share", ["border", "centre", "trail"])
def test_a_series_holds_what_it_says_of_itself(ask: Ask, share: str) -> None:
    status, lines, _ = ask("series", "garden-society-study", "1", "--share", share, "--squares", "4", "--cores", "1")
    assert status == 0
    folder = Path("garden-society-series")
    told = json.loads((folder / "series.json").read_text())
    study = open_study(folder)
    assert [design.number for design in study.designs] == [1, 2, 3, 4] == [each["number"] for each in told["squares"]]
    assert study.made_by["command"] == "series"
    (exemplar,) = (study.designs[number - 1] for number in told["chosen"])
    assert exemplar.blocks == MODEL.blocks
    assert told["squares"][exemplar.number - 1]["from"] == 1
    for design in study.designs:
        assert shares(design, told["family"], exemplar)
        assert check(design) == []
    differences = {(a.number, b.number): contrast(a, b) for a, b in combinations(study.designs, 2)}
    assert 0 < told["difference"]["least"] <= min(differences.values()) < told["difference"]["least"] + 1e-4
    assert differences[tuple(told["difference"]["between"])] == min(differences.values())
    density = [each["density"] for each in told["squares"]]
    assert density == sorted(density)
    assert lines[-1].startswith("exhibition sheet: garden-society-series/exhibition.png")
    assert any(line.startswith("what they share: ") for line in lines)


def test_any_number_of_cores_makes_the_same_series(ask: Ask) -> None:
    for cores in ("1", "2"):
        memory.forget()
        ending = ask("series", "garden-society-study", "1", "--share", "trail", "--squares", "6", "--cores", cores,
                     "--order", "symmetry", "--out", f"on-{cores}")[0]  # fmt: skip
        assert ending == 0
    assert files_of(Path("on-1")) == files_of(Path("on-2"))
    symmetries = [design.symmetry for design in open_study(Path("on-1")).designs]
    assert len(set(symmetries)) > 1


def test_pairs_rise_along_the_wall(ask: Ask) -> None:
    status, _, _ = ask("series", "garden-society-study", "1", "--share", "centre", "--order", "pairs", "--squares", "3")
    assert status == 0
    told = json.loads(Path("garden-society-series/series.json").read_text())
    pairs = [design.pairs for design in open_study(Path("garden-society-series")).designs]
    assert pairs == [each["pairs"] for each in told["squares"]]
    assert pairs == sorted(set(pairs))
    exemplar = open_study(Path("garden-society-series")).designs[told["chosen"][0] - 1]
    assert all(shares(design, told["family"], exemplar) for design in open_study(Path("garden-society-series")).designs)


def test_the_drawn_pages_hold_titles_and_facts(ask: Ask, garden: Path, drawn: None) -> None:
    (garden / "titles.txt").write_text("Tulips at noon\n\nThe last bee\n")
    status, _, _ = ask("series", "garden-society-study", "1", "--share", "trail", "--squares", "3",
                       "--title", "Garden at Dusk", "--titles", "titles.txt", "--paper", "a4")  # fmt: skip
    assert status == 0
    folder = Path("garden-society-series")
    assert {*keeping.PICTURES} <= set(files_of(folder))
    text = {name: _text(folder / name) for name in ("exhibition.pdf", "labels.pdf", "catalogue.pdf")}
    for words in ("Garden at Dusk", "Tulips at noon", "No. 2", "The last bee"):
        assert all(words in each for each in text.values())
    study = open_study(folder)
    assert all(f"{design.pairs} pairs" in text["labels.pdf"] for design in study.designs)
    assert "What they share: the trail that closes round the centre" in text["catalogue.pdf"]
    assert "Lace burns" in text["catalogue.pdf"]
    assert len(pypdf.PdfReader(folder / "catalogue.pdf").pages) == 3 + 2


_DRAW = keeping._draw


@pytest.fixture
def drawn(garden: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Pages are really drawn."""
    monkeypatch.setattr(keeping, "_draw", _DRAW)


def _text(path: Path) -> str:
    return " ".join(" ".join(page.extract_text().split()) for page in pypdf.PdfReader(path).pages)


# --- how it ends -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["1", "2", "--share", "trail"], "01 and 02 do not share the trail"),
        (["7", "--share", "trail"], "has no square 7; it has 1 to 2; the nearest is 2"),
        (["two", "--share", "trail"], 'NUMBER is "two"'),
        (["1", "--share", "edge"], "--share is"),
        (["1", "--order", "colour"], "--order is"),
        (["1", "--squares", "1"], "--squares is"),
        (["1", "--paper", "a5"], "--paper is"),
        (["1", "2", "2", "--squares", "2", "--share", "border"], "do not share the border"),
        (["1", "--share", "trail", "--out", "garden-society-study", "--force"], "is the study that it is made from"),
        (["1", "--share", "trail", "--titles", "none.txt"], "none.txt: No such file"),
    ],
)
def test_what_cannot_be_done_is_one_line_and_code_2(
    ask: Ask, words: list[str], said: str, monkeypatch: pytest.MonkeyPatch, garden: Path
) -> None:
    monkeypatch.setattr(pool, "_made", in_vain)
    before = files_of(garden)
    status, lines, errors = ask("series", "garden-society-study", *words)
    assert (status, lines, len(errors)) == (2, [], 1)
    assert said in errors[0]
    assert files_of(garden) == before


def test_too_few_squares_end_with_code_4_and_no_folder(ask: Ask, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pool, "_made", lambda *_: iter([None, None]))
    monkeypatch.setattr(pool, "cousins", lambda *_, **__: iter([]))
    status, _, errors = ask("series", "garden-society-study", "1", "--share", "trail")
    assert status == 4
    assert "1 of 9 different squares with one trail found" in errors[-1]
    assert "; tried in vain: --order pairs, --order symmetry" in errors[-1]
    assert not Path("garden-society-series").exists()


def test_every_mend_of_too_few_squares_makes_the_series(ask: Ask, monkeypatch: pytest.MonkeyPatch) -> None:
    new = [replace(MODEL, blocks=MODEL.blocks[:1], fillings=each) for each in ROSES]
    loose = [replace(design, symmetry="none") for design in new]

    def made(variant: pool.PoolBrief, *_: object) -> Iterator[Design]:
        return iter(loose if variant.brief.piece.symmetry == "none" else new[:2])

    monkeypatch.setattr(pool, "_made", made)
    monkeypatch.setattr(pool, "cousins", lambda *_, **__: iter([]))
    wish = ["series", "garden-society-study", "1", "--share", "trail", "--squares", "5"]
    status, _, errors = ask(*wish)
    assert (status, errors) == (4, ["stampwork: 3 of 5 different squares with one trail found in the effort given; "
                                    "what mends it: --squares 3 or --order symmetry"])  # fmt: skip
    for mend in re.findall(r"--squares \d+|--order \w+", errors[0].partition("mends it")[2]):
        assert ask(*wish, *mend.split(), "--out", mend.split()[1])[0] == 0


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["1", "--squares", "3"], "01 has no stamp to share"),
        (["1", "--share", "border", "--order", "pairs", "--squares", "3"], "a border lies elsewhere in each of them"),
    ],
)
def test_what_goes_together_instead_has_been_tried(
    ask: Ask, monkeypatch: pytest.MonkeyPatch, words: list[str], said: str
) -> None:
    new = [replace(MODEL, blocks=MODEL.blocks[:1], fillings=each) for each in ROSES]
    monkeypatch.setattr(pool, "_made", lambda *_: iter(new))
    monkeypatch.setattr(pool, "cousins", lambda *_, **__: iter([]))
    wish = ["series", "garden-society-study", *words]
    status, _, errors = ask(*wish)
    assert status == 2
    assert said in errors[-1]
    told = mends(errors[-1])
    assert told
    for number, mend in enumerate(told):
        assert ask(*wish, *mend, "--out", f"mended-{number}")[0] == 0


def test_hers_are_refused_if_two_are_one_square_to_the_eye(ask: Ask, garden: Path) -> None:
    study = open_study(garden / "garden-society-study")
    turned = ((-y, x) for x, y in MODEL.blocks[1].pinholes)
    diamond_again = replace(MODEL.blocks[1], stitch="cloth", pinholes=tuple(sorted(turned, key=lambda p: (p[1], p[0]))))
    study.keep(replace(MODEL, number=3, blocks=(MODEL.blocks[0], diamond_again)), 0)
    status, _, errors = ask("series", "garden-society-study", "1", "3", "--share", "trail")
    assert status == 2
    assert "01 and 03 are one square to the eye" in errors[0]


def test_nothing_is_overwritten_unasked_and_force_keeps_what_is_hers(ask: Ask) -> None:
    wish = ("series", "garden-society-study", "1", "--share", "trail", "--squares", "3")
    assert ask(*wish)[0] == 0
    folder = Path("garden-society-series")
    (folder / "hanging-plan.txt").write_text("hers")
    before = files_of(folder)
    status, _, errors = ask(*wish, "--out", "garden-society-series")
    assert status == 2
    assert "--force" in errors[0]
    status, lines, errors = ask(*wish)
    assert (status, errors) == (0, ["note: garden-society-series is there already, so this is garden-society-series-2"])
    assert "exhibition sheet: garden-society-series-2/exhibition.png" in lines[-1]
    assert files_of(folder) == before
    assert ask(*wish[:-1], "2", "--force")[0] == 0
    assert len(open_study(folder).designs) == 2
    assert (folder / "hanging-plan.txt").read_text() == "hers"


@pytest.mark.parametrize("place", ["explore.editing.series.pool._made", "explore.editing.series.keeping._draw"])
def test_a_stop_leaves_nothing_half_written(place: str, monkeypatch: pytest.MonkeyPatch, garden: Path) -> None:
    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    before = files_of(garden)
    monkeypatch.setattr(place, stop)
    try:
        status = cli.run(["series", "garden-society-study", "1", "--share", "trail", "--squares", "3"])
    except KeyboardInterrupt:
        status = 130
    assert status == 130
    assert files_of(garden) == before
    assert sorted(path.name for path in garden.iterdir()) == ["garden-society-study"]


def test_no_search_goes_on_with_a_series(ask: Ask) -> None:
    assert ask("series", "garden-society-study", "1", "--share", "trail", "--squares", "2")[0] == 0
    status, _, errors = ask("explore", "garden-society-series", "--more", "2")
    assert status == 2
    assert "made by series" in errors[0]


def test_hung_by_hand_they_hang_as_they_are_named_and_nothing_else_is_looked_for(
    ask: Ask, monkeypatch: pytest.MonkeyPatch
) -> None:
    rosy = replace(MODEL, number=3, fillings=ROSES[0])
    open_study(Path("garden-society-study")).keep(rosy, 0)
    monkeypatch.setattr(making, "gather", in_vain)
    words = ("--squares", "2", "--order", "named", "--share", "border", "--out", "wall")
    assert ask("series", "garden-society-study", "3", "1", *words)[0] == 0
    told = json.loads(Path("wall", "series.json").read_text())
    assert [(each["from"], each["named"]) for each in told["squares"]] == [(3, 1), (1, 2)]
    assert told["order"] == {"by": "named", "words": "hung by hand"}
    hung = open_study(Path("wall")).designs
    assert [len(design.fillings) for design in hung] == [1, 0]
