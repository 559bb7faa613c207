"""Pages: paper of ISO 216, fonts inside the file, the same bytes every time, whole files or none."""

from __future__ import annotations

import base64
import os
import re
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from io import BytesIO
from pathlib import Path
from xml.etree import ElementTree

import matplotlib
import pypdf
import pytest
from fontTools.ttLib import TTFont
from matplotlib.figure import Figure

from gallery.paper.faces import FIGURE, FOLDER
from gallery.paper.layers import Layer, Leaf, Words
from gallery.paper.layers_svg import svg
from gallery.paper.page import PAPERS, PageError, Type, house_rules, new_page, put_text, write, write_pages

# ISO 216: trimmed sizes in mm.
ISO_216 = {"a4": (210, 297), "a3": (297, 420)}


def a_page(paper: str = "a4", words: str = "Garden society") -> Figure:
    with house_rules():
        figure, axes = new_page(*PAPERS[paper])
        put_text(axes, 20, 30, words, Type(12, family="serif"))
        put_text(axes, 20, 40, words, Type(8, bold=True))
    return figure


@pytest.mark.parametrize("paper", PAPERS)
def test_papers_are_those_of_iso_216(paper: str, tmp_path: Path) -> None:
    write([a_page(paper)], tmp_path / "page.pdf")
    box = pypdf.PdfReader(tmp_path / "page.pdf").pages[0].mediabox
    size = [float(points) * 25.4 / 72 for points in (box.width, box.height)]
    assert size == pytest.approx(ISO_216[paper], abs=0.05)
    # A sheet keeps its shape when it is halved: long to short is the square root of two, to the millimetre.
    assert ISO_216[paper][1] == pytest.approx(ISO_216[paper][0] * 2**0.5, abs=1)


def test_pages_drawn_in_threads_are_those_drawn_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Matplotlib's settings are those of the whole process: one thread's page must not end another's rules."""
    monkeypatch.setitem(matplotlib.rcParams, "svg.fonttype", "path")
    words = [f"Garden society {number}" for number in range(6)]
    within: list[str] = []

    def draw(each: str) -> bytes:
        with house_rules():
            within.append(each)
            time.sleep(0.01)
            assert within == [each]
            within.remove(each)
        path = tmp_path / f"{each}.svg"
        write([a_page(words=each)], path)
        return path.read_bytes()

    alone = [*map(draw, words)]
    with ThreadPoolExecutor(6) as threads:
        assert [*threads.map(draw, words)] == alone
    assert matplotlib.rcParams["svg.fonttype"] == "path"


STYLES = {
    "NotoSans-Regular": Type(9),
    "NotoSans-Bold": Type(9, bold=True),
    "NotoSans-Condensed": Type(9, narrow=True),
    "NotoSerif-Regular": Type(9, family="serif"),
    "NotoSerif-Bold": Type(9, bold=True, family="serif"),
}


def test_every_face_that_is_shipped_is_used_and_light_and_free_to_pass_on() -> None:
    assert {path.stem for path in FOLDER.glob("*.ttf")} == set(STYLES)
    for path in FOLDER.glob("*.ttf"):
        assert path.stat().st_size < 150_000
        # Names 0 and 13 are the copyright and the licence (ISO/IEC 14496-22, table name); what a font reserves of its
        # name stands with its copyright (SIL Open Font License 1.1, preamble).
        names = TTFont(path)["name"]
        assert "Reserved Font Name" not in names.getDebugName(0)
        assert "SIL Open Font License, Version 1.1" in names.getDebugName(13)
        assert names.getDebugName(0) in (FOLDER / "OFL.txt").read_text(encoding="utf-8")


@pytest.mark.parametrize("font", STYLES)
def test_every_face_has_the_letters_of_a_european_name_and_of_all_that_is_told(font: str) -> None:
    names = "\u00e4\u00df\u010d\u0151\u0141\u0219\u00f8\u00fe\u1eb9 \u03bb\u03cc\u0416\u0457"
    marks = "\u00d7\u00b7\u2026\u2013\u2014\u00b0\u2019\u201c"
    assert STYLES[font].lacking(names + marks) == ""


@pytest.mark.parametrize("font", STYLES)
def test_figures_are_as_wide_as_each_other_and_as_high_as_is_said(font: str) -> None:
    # Read by fontTools from the tables hmtx and glyf (ISO/IEC 14496-22).
    held = TTFont(FOLDER / f"{font}.ttf")
    figures = [held.getBestCmap()[ord(each)] for each in "0123456789"]
    (wide,) = {held["hmtx"][name][0] for name in figures}
    high = max(held["glyf"][name].yMax for name in figures)
    assert high / held["head"].unitsPerEm == pytest.approx(FIGURE, abs=0.002)
    assert STYLES[font].width("0" * 40) / 40 == pytest.approx(9 * wide / 1000 * 25.4 / 72, rel=0.02)


@pytest.mark.parametrize("font", STYLES)
def test_letters_that_a_font_lacks_are_told_as_its_own_character_map_has_them(font: str) -> None:
    # fontTools reads the table cmap of an OpenType font (ISO/IEC 14496-22); what is told lacking is drawn as a box.
    held = TTFont(FOLDER / f"{font}.ttf").getBestCmap()
    style = STYLES[font]
    script = "Dusk \u00fc\u0416\u05d0\u0628\u5ead\u5712\ud55c\u5ead"
    wanted = [each for each in dict.fromkeys(script) if ord(each) not in held]
    assert list(style.lacking(script)) == wanted
    assert set("\u5ead\u5712\ud55c") <= set(wanted)
    assert style.lacking("Garden at Dusk, 140 \u00d7 140 mm") == ""


def test_fonts_are_embedded_as_truetype(tmp_path: Path) -> None:
    write([a_page()], tmp_path / "page.pdf")
    (page,) = pypdf.PdfReader(tmp_path / "page.pdf").pages
    names = set()
    for font in page["/Resources"]["/Font"].values():
        held = font.get_object()
        for inner in [held, *(each.get_object() for each in held.get("/DescendantFonts", []))]:
            if "/FontDescriptor" in inner:
                assert inner["/Subtype"] in ("/TrueType", "/CIDFontType2")
                assert "/FontFile2" in inner["/FontDescriptor"]  # the key for TrueType (ISO 32000-1, 9.9)
                names.add(str(inner["/BaseFont"]).split("+")[-1])
    assert {name.strip("/") for name in names} == {"NotoSerif-Regular", "NotoSans-Bold"}
    assert "Garden society" in page.extract_text()


def test_no_date_reaches_a_file(tmp_path: Path) -> None:
    for ending in ("pdf", "svg", "png"):
        write([a_page()], tmp_path / f"page.{ending}")
    assert pypdf.PdfReader(tmp_path / "page.pdf").metadata == {"/Creator": "Stampwork"}
    for ending in ("pdf", "svg", "png"):
        held = (tmp_path / f"page.{ending}").read_bytes()
        for word in (b"dc:date", b"CreationDate", b"Software", b"tIME"):
            assert word not in held


_ELSEWHERE = """
import sys
from pathlib import Path
sys.path.insert(0, sys.argv[2])
from test_page import a_page
from gallery.paper.page import write
for ending in ("pdf", "svg", "png"):
    write([a_page()], Path(sys.argv[1]) / f"other.{ending}")
"""


def test_the_same_page_is_the_same_bytes_in_another_process(tmp_path: Path) -> None:
    hashed = {**os.environ, "PYTHONHASHSEED": "7", "SOURCE_DATE_EPOCH": "0"}
    here = str(Path(__file__).parent)
    subprocess.run([sys.executable, "-c", _ELSEWHERE, str(tmp_path), here], check=True, env=hashed)
    for ending in ("pdf", "svg", "png"):
        write([a_page()], tmp_path / f"page.{ending}")
        assert (tmp_path / f"page.{ending}").read_bytes() == (tmp_path / f"other.{ending}").read_bytes()


def test_the_readers_own_settings_neither_matter_nor_change(tmp_path: Path) -> None:
    write([a_page()], tmp_path / "plain.svg")
    mine = {"font.size": 40.0, "svg.fonttype": "path", "savefig.bbox": "tight", "lines.linewidth": 9.0}
    with matplotlib.rc_context(mine):
        write([a_page()], tmp_path / "odd.svg")
        assert {key: matplotlib.rcParams[key] for key in mine} == mine
    assert (tmp_path / "odd.svg").read_bytes() == (tmp_path / "plain.svg").read_bytes()


def test_text_stays_text_in_svg_with_a_generic_family(tmp_path: Path) -> None:
    write([a_page(words="Lace & <loops> $5")], tmp_path / "page.svg")
    held = (tmp_path / "page.svg").read_text()
    assert "Lace &amp; &lt;loops&gt; $5</text>" in held
    assert "font-family: 'Noto Serif', serif" in held
    assert "'Noto Sans', sans-serif" in held


def test_an_svg_brings_the_faces_of_its_words_with_their_letters_alone(tmp_path: Path) -> None:
    write([a_page(words="Lace, 5 x 7")], tmp_path / "page.svg")
    leaf = Leaf(60, 20, (Layer("text", (Words(2, 10, "Lace, 5 x 7", Type(9, narrow=True)),)),))
    for text, count in (((tmp_path / "page.svg").read_text(), 2), (svg(leaf), 1)):
        ElementTree.fromstring(text)
        faces = re.findall(r"@font-face\{font-family:'(Noto \w+)';[^}]*base64,([A-Za-z0-9+/=]+)\)", text)
        assert len(faces) == count
        for _, data in faces:
            held = TTFont(BytesIO(base64.b64decode(data))).getBestCmap()
            assert {chr(code) for code in held} == set("Lace, 5 x 7")
    assert "font-stretch:condensed" in svg(leaf)


def test_letters_that_the_font_lacks_are_no_reason_to_stop(tmp_path: Path) -> None:
    for ending in ("pdf", "svg", "png"):
        write([a_page(words="\N{CJK UNIFIED IDEOGRAPH-82B1} \N{BELL} flower")], tmp_path / f"page.{ending}")


def test_a_picture_has_one_page_and_a_pdf_all(tmp_path: Path) -> None:
    pages = [a_page(), a_page("a3")]
    for ending in ("pdf", "png", "svg"):
        write(pages, tmp_path / f"pages.{ending}")
    assert len(pypdf.PdfReader(tmp_path / "pages.pdf").pages) == 2
    assert (tmp_path / "pages.png").read_bytes().startswith(b"\x89PNG")
    assert (tmp_path / "pages.svg").read_text().count("<svg") == 1


def test_each_page_has_a_picture_and_the_pdf_beside_them_has_all(tmp_path: Path) -> None:
    write_pages([a_page(), a_page(), a_page("a3")], tmp_path / "mirror-07.png")
    names = ["mirror-07-2.png", "mirror-07-3.png", "mirror-07.pdf", "mirror-07.png"]
    assert sorted(path.name for path in tmp_path.iterdir()) == names
    assert len(pypdf.PdfReader(tmp_path / "mirror-07.pdf").pages) == 3
    write([a_page("a3")], tmp_path / "third.png")
    assert (tmp_path / "third.png").read_bytes() == (tmp_path / "mirror-07-3.png").read_bytes()


def test_a_file_is_replaced_whole_or_left_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    target = tmp_path / "page.png"
    target.write_text("mine")

    def fail(*_: object, **__: object) -> None:
        raise OSError("disk full")

    page = a_page()
    with monkeypatch.context() as patched:
        patched.setattr(Figure, "savefig", fail)
        with pytest.raises(OSError, match="disk full"):
            write([page], target)
    assert target.read_text() == "mine"
    assert os.listdir(tmp_path) == ["page.png"]
    write([page], target)
    assert target.read_bytes().startswith(b"\x89PNG")
    assert os.listdir(tmp_path) == ["page.png"]


def test_what_cannot_be_written_is_said_in_one_line(tmp_path: Path) -> None:
    with pytest.raises(PageError, match=r"^page.gif: the name must end in .pdf, .png, .svg$"):
        write([a_page()], tmp_path / "page.gif")
    with pytest.raises(PageError, match=r"^page.pdf: there is no page to write$"):
        write([], tmp_path / "page.pdf")
    with pytest.raises(FileNotFoundError):
        write([a_page()], tmp_path / "nowhere" / "page.pdf")


def test_long_words_are_shortened_to_their_room() -> None:
    style = Type(10)
    assert style.fitted("short", 50) == "short"
    shortened = style.fitted("a very long\ntitle " * 20, 50)
    assert style.width(shortened) <= 50
    assert shortened.startswith("a very long title")
    assert shortened.endswith("\N{HORIZONTAL ELLIPSIS}")
