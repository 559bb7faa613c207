"""The page as text: one file, nothing from elsewhere, whatever a stamp or a study is called."""

from __future__ import annotations

import base64
import hashlib
import json
import re
import zlib
from html.parser import HTMLParser
from pathlib import Path

import pytest
from browser import designs, study, tulip
from examples import gallery_of

from constraints.brief import Brief
from explore.cli import run
from gallery.web.browse import Browsed, Marked, drawings_of, page
from gallery.web.telling import told_of_brief
from gallery.web.vector import vector

WEB = Path(__file__).parents[2] / "gallery" / "web"
HOSTILE = "\"></script><script>alert(1)</script><!--'&amp;"


class Reader(HTMLParser):
    """Tags with their attributes and the text of scripts and styles, by the standard library's reading."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.raw: dict[str, list[str]] = {"script": [], "style": []}
        self.words: list[str] = []
        self.inside = ""
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        self.inside = tag
        if tag in self.raw:
            self.raw[tag].append("")

    def handle_endtag(self, tag: str) -> None:
        self.inside = ""

    def handle_data(self, data: str) -> None:
        if self.inside in self.raw:
            self.raw[self.inside][-1] += data
        else:
            self.words.append(data)


def content(name: str = "garden-society", note: str = "for the door", count: int = 4) -> Browsed:
    shown = designs(count, 6, stamp=name)
    return Browsed("Stampwork page", name, "stampwork", name, "a key", f"Stamp: {name}.", (tulip(name),), shown,
                   [drawings_of(design) for design in shown], {2: Marked(True, note)}, "drawing")  # fmt: skip


def test_nothing_but_its_own_style_and_script_may_run() -> None:
    """Content Security Policy level 3 (W3C): hashes of the elements' text, all else forbidden."""
    read = Reader(page(content()))
    (policy,) = [each["content"] for tag, each in read.tags if each.get("http-equiv") == "Content-Security-Policy"]
    assert policy is not None
    (style,), (_, script) = read.raw["style"], read.raw["script"]
    rules = dict(rule.split(" ", 1) for rule in policy.split("; "))
    assert rules["default-src"] == "'none'"
    for directive, text in (("style-src", style), ("script-src", script)):
        digest = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
        assert rules[directive] == f"'sha256-{digest}'"
    assert set(rules.values()) - {rules["style-src"], rules["script-src"]} == {"'none'"}


def test_no_handlers_no_inline_styles_no_addresses_and_no_id_twice() -> None:
    text = page(content())
    read = Reader(text)
    names = {name for _, each in read.tags for name in each}
    assert not {name for name in names if name.startswith("on")} | names & {"style", "src", "srcset", "action"}
    assert {each["href"] for _, each in read.tags if "href" in each} == {"#squares"}
    ids = [each["id"] for _, each in read.tags if "id" in each]
    assert len(ids) == len(set(ids))
    for address in set(re.findall(r"[a-z]+://[^\s\"'`)]+", text)):
        assert address == "http://www.w3.org/2000/svg"  # a name, not a place


@pytest.mark.parametrize("where", ["study", "note"])
def test_hostile_words_stay_words(where: str) -> None:
    plain = Reader(page(content()))
    hostile = Reader(page(content(name=HOSTILE) if where == "study" else content(note=HOSTILE)))
    assert [tag for tag, _ in hostile.tags] == [tag for tag, _ in plain.tags]
    data = json.loads(hostile.raw["script"][0])
    assert HOSTILE in ([data["study"]] if where == "study" else [each["note"] for each in data["picks"]])
    if where == "study":
        assert HOSTILE in "".join(hostile.words)


@pytest.mark.parametrize("name", sorted(path.name for path in WEB.iterdir() if path.suffix in (".css", ".html", ".js")))
def test_no_part_ends_the_element_that_it_is_put_in(name: str) -> None:
    text = (WEB / name).read_text(encoding="utf-8")
    assert name.endswith(".html") or not re.search(r"</|<!--", text)
    assert "\r" not in text


def test_drawings_with_every_thread_are_packed_so_that_another_program_unpacks_them() -> None:
    design = gallery_of(2, 6)[1]
    held = drawings_of(design)
    assert set(held) == {"drawing", "lace", "lace-large"}
    large = json.loads(zlib.decompress(base64.b64decode(held["lace-large"])))
    assert large == vector(design, "lace", 640.0, True).data()


def test_squares_that_no_screen_shows_thread_by_thread_have_no_threads() -> None:
    assert "lace-large" not in drawings_of(gallery_of(1, 96)[0])


def test_24_squares_of_half_size_24_take_less_than_3_megabytes() -> None:
    shown = gallery_of(4, 24)
    drawings = [drawings_of(design) for design in shown]
    made = page(Browsed("", "s", "s", "s", "s", "", (), shown, drawings, {}, "lace"))
    assert 6 * len(made.encode()) < 3_000_000


def test_what_all_squares_have_in_common_is_said_once_and_not_filtered_by() -> None:
    alike = content(count=1)
    assert '<fieldset class="between"' not in page(alike)
    text = page(content())
    for key in ("pairs", "pitch", "splits", "width"):
        assert f'data-key="{key}"' in text
    assert 'data-key="pairs"' not in page(content(count=2))
    assert "All: 20 pairs" in page(content(count=2))


def test_a_brief_told_of_brief() -> None:
    brief = Brief.of(stamp="bee", pairs=24, width_mm=140.0, pitch_mm=(4.0, 5.0), stitches=("cloth", "double-ground"),
                  least={"cloth": 9}, splits=2, passives=2)  # fmt: skip
    assert told_of_brief(brief) == (
        "Stamp: bee. Up to 24 pairs, worked round, full symmetry, 140 mm wide, pitch 4 to 5 mm, "
        "2 passive pairs at the edge. Stitches: cloth (at least 9), double ground. "
        "20 to 50 % solid, at most 2 splits, seed 1."
    )
    assert told_of_brief(Brief()).startswith("Without a stamp. Up to 30 pairs")


# --- the command -------------------------------------------------------------------------------------------


def test_the_page_of_a_study_is_the_same_whenever_it_is_written(tmp_path: Path) -> None:
    study(tmp_path / "s", designs(2, 6))
    for cores in ("1", "2"):
        assert run(["page", str(tmp_path / "s"), "--out", str(tmp_path / f"{cores}.html"), "--cores", cores]) == 0
    assert (tmp_path / "1.html").read_bytes() == (tmp_path / "2.html").read_bytes()


def test_a_page_of_ours_is_replaced_and_one_of_hers_is_not(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    study(tmp_path, designs(1, 6))
    target = tmp_path / "page.html"
    assert run(["page", str(tmp_path)]) == 0
    assert run(["page", str(tmp_path)]) == 0
    target.write_text("hers")
    capsys.readouterr()
    assert run(["page", str(tmp_path)]) == 2
    assert capsys.readouterr().err == (
        f"stampwork: {target} is not a page of this program: --force replaces it, --out names another file\n"
    )
    assert target.read_text() == "hers"
    assert run(["page", str(tmp_path), "--force"]) == 0
    assert target.read_text() != "hers"


def test_bad_input_is_one_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    study(tmp_path / "s", [])
    for words, said in (
        ([str(tmp_path)], f"{tmp_path} holds no study: there is no study.json"),
        ([str(tmp_path / "s")], f"{tmp_path / 's'} holds no squares to show; --more 12 of stampwork explore adds some"),
        ([str(tmp_path / "s"), "--look", "lacy"], '--look is "lacy" (did you mean lace?); allowed: drawing, lace'),
    ):
        assert run(["page", *words]) == 2
        assert capsys.readouterr().err == f"stampwork: {said}\n"
