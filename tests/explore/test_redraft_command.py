"""`stampwork redraft`: pictures in, studies and stamps out, and one line for whatever cannot be taken."""

from __future__ import annotations

import io
import json
import tomllib
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pypdf
import pytest
from asked import Ask
from PIL import Image
from redrafting_cards import EDGING, GROUND, Card, repeated
from redrafting_dots import find_dots_once

from explore.bad_input import BadInput
from explore.editing.redrafting.card import Card as OpenedCard
from explore.editing.redrafting.card import open_card

STRIP = repeated(EDGING, 6, 4)
SCALLOP = tuple((4.9 + 2.6 * np.cos((r + 0.5 - 3) / 6 * np.pi), 6 * n + r - 2.5) for n in range(5) for r in range(6))
ROWS = "columns\n1\n0 2\n1 3\n0 2 4\n1 3\n0 2\n1\n"
SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">{}</svg>'


@pytest.fixture(autouse=True)
def _dots_once(monkeypatch: pytest.MonkeyPatch) -> None:
    find_dots_once(monkeypatch)


@pytest.fixture
def edging(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A scan at 150 dots an inch: a pitch of 30 pixels is 5.08 mm. One dot is missing, one is too many."""
    monkeypatch.chdir(tmp_path)
    more = (*SCALLOP, (2.0, 12.0))
    card = Card(tilt=4, noise=4, gradient=0.3, lines=True, missing=(21,), more=more, dots_per_inch=150)
    file = tmp_path / "edging.png"
    file.write_bytes(card.picture(STRIP)[0])
    return file


def test_a_scan_is_measured_and_its_doubts_are_told_and_settled(ask: Ask, edging: Path) -> None:
    status, lines, errors = ask("redraft", "edging.png")
    assert (status, errors) == (0, [])
    assert lines[0].startswith("edging: 49 pinholes in 5 columns and 25 rows, ")
    assert lines[1] == "pitch 30.0 pixels (5.08 mm), tilted 4 degrees clockwise; footside on the left"
    assert lines[2] == "comes again after 6 rows, shown 4.2 times"
    told = [line for line in lines if line.startswith("  ") and ": column" in line]
    assert [line.rsplit("; ", 1)[1] for line in told] == ["counts", "does not count"]
    assert any(line.endswith("half stitch scallop of depth 3; 10 pairs") for line in lines)
    folder = Path("edging-redraft")
    names = {f"{stem}.{ending}" for stem in ("redraft", "readings") for ending in ("png", "pdf", "svg")} | {"rows.txt"}
    assert {path.name for path in folder.iterdir()} == names
    words = pypdf.PdfReader(folder / "redraft.pdf").pages[0].extract_text()
    assert "missing here, there in 3 of 4 repeats" in words
    # The same again says so, and replaces nothing unasked.
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    status, _, errors = ask("redraft", "edging.png", "--out", "edging-redraft")
    assert status == 2
    assert "--force replaces it" in errors[0]
    status, _, errors = ask("redraft", "edging.png")
    assert (status, errors) == (0, ["note: edging-redraft is there already, so this is edging-redraft-2"])
    assert {path.name: path.read_bytes() for path in Path("edging-redraft-2").iterdir()} == before
    status, lines, _ = ask("redraft", "edging.png", "--drop", "1", "--force")
    assert lines[0].startswith("edging: 48 pinholes")


def test_the_rows_it_writes_are_read_again_alike(ask: Ask, edging: Path) -> None:
    assert ask("redraft", "edging.png")[0] == 0
    status, lines, _ = ask("redraft", "edging-redraft/rows.txt", "--out", "again")
    assert status == 0
    first, second = (Path(folder, "rows.txt").read_text().splitlines()[1:] for folder in ("edging-redraft", "again"))
    assert first == second
    assert lines[0].startswith("rows: 49 pinholes in 5 columns and 25 rows")


def test_a_reading_becomes_a_strip_that_the_check_accepts(ask: Ask, edging: Path) -> None:
    status, lines, errors = ask("redraft", "edging.png", "--reading", "1", "--repeats", "6")
    assert (status, errors) == (0, [])
    assert lines[0].startswith("01: no blocks; half stitch scallop of depth 3; 10 pairs")
    design = json.loads(Path("edging-strip/squares/01.json").read_text())
    assert (design["form"], design["columns"], design["rows"], design["repeats"]) == ("strip", 5, 6, 6)
    assert design["headside"]["kind"] == "scallop"
    brief = tomllib.loads(Path("edging-strip/brief.toml").read_text())
    told = {"form": "strip", "columns": 5, "repeat": 6, "repeats": 6, "edging": "half scallop 3 with 6 pairs"}
    assert {key: brief[key] for key in told} == told
    assert (design["pairs"], design["pitch_mm"]) == (10, 5.08)
    assert ask("check", "edging-strip")[0] == 0
    status, _, errors = ask("redraft", "edging.png", "--reading", "1", "--out", "edging-strip")
    assert status == 2
    assert "holds a study already" in errors[0]
    assert ask("redraft", "edging.png", "--reading", "1")[2] == [
        "note: edging-strip is there already, so this is edging-strip-2"
    ]
    assert ask("check", "edging-strip-2")[0] == 0
    status, _, errors = ask("redraft", "edging.png", "--reading", "9", "--out", "other")
    assert status == 2
    assert "the readings are 1 to" in errors[0]
    assert not Path("other").exists()


def test_papers_of_a_redrafted_strip_tell_everything_once_and_rounded(ask: Ask, edging: Path) -> None:
    assert ask("redraft", "edging.png", "--reading", "1", "--repeats", "4")[0] == 0
    folder = Path("edging-strip")
    sheet = pypdf.PdfReader(folder / "sheet.pdf").pages[0].extract_text()
    assert "edging-strip" in sheet
    assert "redrafted, 10 pairs" in sheet
    assert "symmetry" not in sheet
    assert "without a stamp" not in sheet
    assert ask("pricking", "edging-strip", "1")[0] == 0
    pricking = pypdf.PdfReader(folder / "papers" / "01-pricking.pdf").pages[0].extract_text()
    # A pitch of 5.08 mm: 4 + 3.1 units across, 23 down.
    assert "Finished size 18.03 x 58.42 mm between" in pricking
    assert "10 pairs (20 bobbins); headside: half scallop 3 with 6 pairs" in pricking
    assert "passive" not in pricking
    assert "valleys" not in pricking


def test_a_reading_becomes_a_stamp_in_mm(ask: Ask, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    block = {(8 + i - j, 3 + i + j) for i in range(5) for j in range(5)}
    inner = {(8 + i - j, 3 + i + j) for i in range(1, 4) for j in range(1, 4)}
    dots = tuple((x, y) for y in range(16) for x in range(17) if (x + y) % 2 and (x, y) not in inner)
    Path("diamond.jpg").write_bytes(Card(quality=80, tilt=-5).picture(dots)[0])
    status, lines, errors = ask("redraft", "diamond.jpg", "--as", "stamp", "--reading", "1", "--pitch", "4mm")
    assert (status, errors) == (0, [])
    assert lines == [f"1 block of {len(block)} pinholes: diamond-redraft/stamp-1.svg"]
    root = ElementTree.parse("diamond-redraft/stamp-1.svg").getroot()
    # Ten units and two of paper on each side, a unit 2 mm.
    assert (root.get("width"), root.get("height")) == ("28mm", "28mm")
    again = ("redraft", "diamond.jpg", "--as", "stamp", "--reading", "1")
    assert ask(*again, "--out", "diamond-redraft")[0] == 2
    assert ask(*again)[1][-1].endswith(": diamond-redraft-2/stamp-1.svg")


def test_a_scan_in_a_pdf_is_measured_by_its_page(ask: Ask, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    image = Image.open(io.BytesIO(Card(pitch=40, margin=70).picture(GROUND)[0]))
    image.save("ground.pdf", resolution=200)
    status, lines, _ = ask("redraft", "ground.pdf")
    assert status == 0
    assert lines[1] == f"pitch 40.0 pixels ({40 / 200 * 25.4:.2f} mm), upright; footside on the left"
    status, _, errors = ask("redraft", "ground.pdf", "--page", "3")
    assert (status, errors) == (2, ["stampwork: ground.pdf has no page 3; its pages are 1 to 1"])


def test_a_drawing_is_read_by_the_dots_it_prints(ask: Ask, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    # Half a pitch is 2.5 mm.
    dots = "".join(f'<circle cx="{20 + 2.5 * x}" cy="{20 + 2.5 * y}" r="0.4"/>' for x, y in GROUND)
    Path("ground.svg").write_text(SVG.format(dots))
    status, lines, _ = ask("redraft", "ground.svg")
    assert status == 0
    assert lines[0].startswith("ground: 59 pinholes in 9 columns and 13 rows")
    assert "(5 mm), upright" in lines[1]


def _picture(values: np.ndarray) -> bytes:
    out = io.BytesIO()
    Image.fromarray(values.astype(np.uint8)).save(out, "PNG")
    return out.getvalue()


@pytest.mark.parametrize("mode", ["L", "RGB", "1", "CMYK", "P"])
def test_a_scan_in_a_pdf_is_the_same_in_any_kind_of_colours(tmp_path: Path, mode: str) -> None:
    scan = Image.fromarray(np.random.default_rng(1).integers(0, 2, (90, 60), dtype=np.uint8) * 255).convert(mode)
    scan.save(tmp_path / "scan.pdf", resolution=200)
    card = open_card(tmp_path / "scan.pdf")
    assert isinstance(card, OpenedCard)
    assert card.image.size == (60, 90)
    assert card.pixels_per_mm == pytest.approx(200 / 25.4, rel=0.01)


@pytest.mark.parametrize("ending", ["png", "jpg", "tif", "bmp", "gif", "webp"])
def test_a_card_is_opened_in_every_format_in_which_prints_are(tmp_path: Path, ending: str) -> None:
    scan = Image.fromarray(np.random.default_rng(1).integers(0, 2, (90, 60), dtype=np.uint8) * 255)
    scan.save(tmp_path / f"scan.{ending}")
    card = open_card(tmp_path / f"scan.{ending}")
    assert isinstance(card, OpenedCard)
    assert card.image.size == (60, 90)
    assert np.abs(np.asarray(card.image.convert("L"), dtype=float) - np.asarray(scan, dtype=float)).mean() < 25


@pytest.mark.parametrize("kept", [0.3, 0.6, 0.97])
def test_a_pdf_cut_off_anywhere_is_a_scan_or_one_line(tmp_path: Path, kept: float) -> None:
    Image.new("L", (60, 90), 255).save(tmp_path / "whole.pdf", resolution=200)
    whole = (tmp_path / "whole.pdf").read_bytes()
    (tmp_path / "torn.pdf").write_bytes(whole[: int(kept * len(whole))])
    with pytest.raises(BadInput, match=r"torn\.pdf is a damaged PDF"):
        open_card(tmp_path / "torn.pdf")


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "is empty"),
        (_picture(np.full((60, 40), 255)), "no dots"),
        (_picture(np.zeros((3, 3))), "at least 4 x 4"),
        (_picture(np.random.default_rng(3).uniform(0, 255, (150, 200))), "dots"),
        (Card().picture(((0, 1), (3, 8)))[0], "2 dots"),
        (Card().picture(((0, 1), (0, 3), (0, 5), (0, 7), (0, 9), (0, 11), (0, 13)))[0], "dots"),
        (_picture(np.full((60, 40), 255))[:50], "damaged"),
        (b"\xff\xd8\xff\xe0nothing", "damaged"),
        (b"%PDF-1.4\nnothing", "PDF"),
        (b"GIF89a\x01\0\x01\0", "damaged"),
        (b"PK\x03\x04\0\0", "neither a picture"),
        (b"<svg", "XML"),
        (SVG.format("").encode(), "no shape"),
        (SVG.format('<rect x="1" y="1" width="9" height="9"/>').encode(), "dots"),
        (b"columns\n0 2\n0 2\n", "line 3"),
        (b"columns\n0\n", "strip"),
        (b"Dear friend,\nhere are the rows.\n", "line 1"),
        ("columns\n0 \u0662\n".encode(), "line 2"),
    ],
    ids=lambda each: each if isinstance(each, str) else f"{len(each)} bytes",
)
def test_whatever_is_no_pricking_is_refused_in_one_line(
    ask: Ask, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, content: bytes, words: str
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("card").write_bytes(content)
    status, lines, errors = ask("redraft", "card")
    assert (status, lines, len(errors)) == (2, [], 1)
    assert words in errors[0]
    assert not Path("card-redraft").exists()


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--take", "three"), "--take"),
        (("--take", "1"), "no dot is doubtful"),
        (("--reading", "0"), "--reading"),
        (("--as", "lace"), "strip, stamp"),
        (("--pitch", "0mm"), "--pitch"),
        (("--headside", "footside"), "--headside footside"),
        (("--headside", "fam"), "did you mean fan?"),
        (("--footside", "middle"), "left, right, top, bottom"),
        (("--stitch", "silk"), "cloth, half, whole"),
        (("--repeats", "1"), "--repeats"),
        (("--at-valley", "1"), "--at-valley"),
        (("--page", "0"), "--page"),
        (("--out", "rows.txt"), "not a folder"),
        (("--as", "stamp", "--reading", "1"), "no block"),
    ],
    ids=str,
)
def test_options_that_cannot_be_taken_are_refused_in_one_line(
    ask: Ask, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, arguments: tuple[str, ...], words: str
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("rows.txt").write_text(ROWS)
    status, lines, errors = ask("redraft", "rows.txt", *arguments)
    assert (status, lines, len(errors)) == (2, [], 1)
    assert words in errors[0]
    assert {path.name for path in tmp_path.iterdir()} == {"rows.txt"}


def test_what_mends_a_card_that_is_no_strip_has_been_run(
    ask: Ask, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    columns = [range((y + 1) % 2, 9 + (y * 7 % 5), 2) for y in range(14)]
    Path("motif.txt").write_text("columns\n" + "".join(" ".join(map(str, each)) + "\n" for each in columns))
    status, lines, errors = ask("redraft", "motif.txt")
    assert (status, lines, len(errors)) == (2, [], 1)
    assert errors[0].endswith("; what mends it: --as stamp")
    assert errors[0].startswith("stampwork: motif.txt has no straight right edge")
    assert ask("redraft", "motif.txt", "--as", "stamp")[0] == 0
    # It has no block to print, and so nothing helps her who asks for one.
    status, _, errors = ask("redraft", "motif.txt", "--reading", "1", "--out", "one")
    assert (status, len(errors)) == (2, 1)
    assert "what mends it" not in errors[0]
    assert ask("redraft", "motif.txt", "--reading", "1", "--as", "stamp", "--out", "one")[0] == 2
    # An edge that she named wrongly is left open, or named otherwise.
    Path("rows.txt").write_text(ROWS)
    status, _, errors = ask("redraft", "rows.txt", "--headside", "footside", "--out", "other")
    assert (status, len(errors)) == (2, 1)
    assert errors[0].endswith("what mends it: without --headside footside or --headside fan")
    assert ask("redraft", "rows.txt", "--headside", "fan", "--out", "other")[0] == 0


def test_a_file_that_is_not_there_and_a_folder_are_refused(ask: Ask, tmp_path: Path) -> None:
    for name, words in ((tmp_path / "none.png", "does not exist"), (tmp_path, "is not a file")):
        status, _, errors = ask("redraft", str(name))
        assert (status, len(errors)) == (2, 1)
        assert words in errors[0]
