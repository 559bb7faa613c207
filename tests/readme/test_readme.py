"""The README and the guides keep their word: commands, examples, messages, pictures, links and tables."""

import inspect
import json
import re
from pathlib import Path

import pytest
from PIL import Image
from readme_examples import (
    GUIDES,
    LEFT_OUT,
    OF_STRIPS,
    OTHERS,
    PAGES,
    PICTURES,
    README,
    ROOT,
    Block,
    Example,
    Ran,
    blocks,
    run_all,
)

from constraints.design_file import from_text, to_text
from constraints.symmetry import FRIEZES, SYMMETRIES
from explore import asking, exits, menu

SETS_UP = "python3 -m venv .venv && .venv/bin/pip install -q -e "
SHEET = SETS_UP + ". && .venv/bin/stampwork explore tulip --pairs 30 --out garden-society --force --open"
TESTS = SETS_UP + "'.[tests]' && .venv/bin/python -m pytest"

FIRST = README.read_text(encoding="utf-8")
TEXT = "\n".join(page.read_text(encoding="utf-8") for page in PAGES)
BLOCKS = blocks(TEXT)


def named(name: str) -> Block:
    return next(block for block in BLOCKS if block.name == name)


def columns(heading: str) -> list[list[str]]:
    """The rows of the first table under a heading, cell by cell."""
    after = TEXT.split(f"\n{heading}\n")[1]
    table = re.search(r"(?:^\|.*\n)+", after, re.MULTILINE)
    assert table is not None
    return [[cell.strip() for cell in row.strip("|").split(" | ")] for row in table[0].splitlines()[2:]]


def firm(line: str) -> str:
    """A line without what depends on which squares were found: a row keeps its beginning, all lose their gaps."""
    words = line.split()
    return " ".join(words[:2] if re.match(r"\d\d+ +\d+ +\d+ mm|\d+ pitches ", line) else words)


def as_the_readme_says(ran: Ran) -> bool:
    """Whether an example printed the lines shown, those left out apart."""
    lines, shown = list(ran.lines), list(ran.example.shown)
    if ran.status == exits.DONE:
        lines, shown = [firm(line) for line in lines], [firm(line) for line in shown]
    if LEFT_OUT not in shown:
        return lines == shown
    head, tail = shown[: shown.index(LEFT_OUT)], shown[shown.index(LEFT_OUT) + 1 :]
    return len(lines) > len(head) + len(tail) and lines[: len(head)] == head and lines[-len(tail) :] == tail


# --- the opening and the two commands ----------------------------------------------------------------------


def test_it_opens_with_one_paragraph_on_the_job() -> None:
    title, paragraph, heading = FIRST.split("\n\n")[:3]
    assert title == "# Stampwork"
    assert all(word in paragraph for word in ("lace designer", "stamp", "pillow", "pairs", "contact sheet"))
    assert heading.startswith("## ")


def test_exactly_two_commands_set_up_a_bare_machine() -> None:
    commands = [line for block in BLOCKS if block.kind == "sh" for line in block.lines]
    assert commands == [SHEET, TESTS]
    assert [TEXT.count(command) for command in commands] == [1, 1]


def test_what_the_first_command_makes_is_ignored_by_git() -> None:
    ignored = (ROOT / ".gitignore").read_text().splitlines()
    assert "/garden-society/" in ignored
    assert ".venv/" in ignored


# --- examples ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("pages", "ends"), [(OTHERS, {0, 1, 2, 3, 4}), (OF_STRIPS, {0})], ids=["squares", "strips"])
def test_every_example_does_and_says_what_is_shown(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, pages: tuple[Path, ...], ends: set[int]
) -> None:
    monkeypatch.chdir(tmp_path)
    ran = list(run_all(tmp_path, pages))
    amiss = [f"$ {each.example.command}\n{each.lines}" for each in ran if not as_the_readme_says(each)]
    assert not amiss, "\n".join([*amiss, "If that is right, run tests/readme/readme_pictures.py."])
    assert {each.status for each in ran} >= ends


IN_THE_WAY = re.compile(r"--force replaces|holds a study already")


def wrong_cases(text: str) -> list[str]:
    """Refusals because a file or folder is in the way, under a sentence that is not about bad input."""
    lines = text.splitlines()
    return [
        line
        for block in blocks(text)
        if block.kind == "console" and not re.search("bad input", paragraph_before(lines, block.first), re.IGNORECASE)
        for line in block.lines
        if IN_THE_WAY.search(line)
    ]


def paragraph_before(lines: list[str], first: int) -> str:
    """The paragraph that leads to the block whose first line is given."""
    above = "\n".join(lines[: first - 1]).rstrip()
    return above.split("\n\n")[-1]


def test_no_example_shows_another_case_than_its_sentence_says() -> None:
    assert wrong_cases(TEXT) == []
    other = "What cannot be had:\n\n```console\n$ stampwork explore x\nstampwork: x holds a study already\n```\n"
    assert len(wrong_cases(other)) == 1


def test_what_cannot_be_had_ends_with_what_mends_it() -> None:
    for sentence in ("those that were tried are named.", "What cannot be had is told with what can:"):
        block = next(each for each in BLOCKS if paragraph_before(TEXT.splitlines(), each.first).endswith(sentence))
        refusals = [line for line in block.lines if not line.startswith("$")]
        assert refusals
        assert all("; what mends it: --" in line for line in refusals)


def test_the_comparison_of_examples_can_fail() -> None:
    example = Example("stampwork explore x", 1, ("number  pairs", LEFT_OUT, "2 found"))
    assert as_the_readme_says(Ran(example, 0, ("number  pairs", "01  30", "02  30", "2 found")))
    assert not as_the_readme_says(Ran(example, 0, ("number  pairs", "01  30", "02  30", "3 found")))
    assert not as_the_readme_says(Ran(example, 0, ("number  pairs", "2 found")))
    assert not as_the_readme_says(Ran(example, 4, ("nothing found",)))


def test_every_option_named_is_an_option() -> None:
    # Of every command, of the program, and of pip.
    known = {"--help", "--quiet", "--json", "--version", "--install-completion", "--no-deps"}
    for name in menu.COMMANDS:
        for parameter in inspect.signature(menu.command_called(name), eval_str=True).parameters.values():
            for given in getattr(parameter.annotation, "__metadata__", ()):
                known.add(f"--{parameter.name.replace('_', '-')}")
                words = [getattr(given, "default", ""), *(getattr(given, "param_decls", None) or ())]
                known.update(word for word in words if isinstance(word, str) and word.startswith("--"))
    outside_commands = "\n".join(line for line in TEXT.splitlines() if not line.startswith("python3 -m venv"))
    assert set(re.findall(r"(?<![\w-])--[a-z][a-z-]*", outside_commands)) <= known


# --- pictures ----------------------------------------------------------------------------------------------


def test_every_picture_shown_exists_and_no_other() -> None:
    shown = {
        (page.parent / path).resolve()
        for page in PAGES
        for path in re.findall(r"!\[[^\]]+\]\(([^)]+)\)", page.read_text(encoding="utf-8"))
    }
    assert shown == set(PICTURES.iterdir())
    for path in shown:
        with Image.open(path) as picture:
            picture.verify()


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_every_link_leads_somewhere(page: Path) -> None:
    """To a page, and on it to a heading: its words in small letters, hyphens for blanks, other signs left out."""
    for link in re.findall(r"(?<!!)\[[^\]]+\]\(([^)]+)\)", page.read_text(encoding="utf-8")):
        if not link.startswith("https://"):
            path, _, heading = link.partition("#")
            there = (page.parent / path).resolve() if path else page
            headings = re.findall(r"^#+ (.+)$", there.read_text(encoding="utf-8"), re.MULTILINE)
            slugs = {re.sub(r"[^\w -]", "", each.lower()).replace(" ", "-") for each in headings}
            assert not heading or heading in slugs, link


def test_the_readme_leads_to_every_guide() -> None:
    assert set(PAGES) == {README, *GUIDES.glob("*.md")}
    assert all(f"(explore/guides/{page.name})" in FIRST for page in PAGES[1:])


def test_the_pictures_are_small() -> None:
    assert sum(path.stat().st_size for path in PICTURES.iterdir()) < 2_400_000


# --- tables ------------------------------------------------------------------------------------------------


def test_the_brief_lists_every_key_in_order() -> None:
    assert [row[0] for row in columns("# The brief")] == [f"`{key.name}`" for key in asking.KEYS]


def test_every_symmetry_is_explained() -> None:
    rows = columns("## Symmetry and size: the bee, large and once")
    told = ", ".join(row[0].replace("`", "") for row in rows).split(", ")
    allowed = [*SYMMETRIES, *FRIEZES]
    assert told == allowed[: len(told)]
    # Those that only a strip can have are told with strips.
    strips = TEXT[TEXT.index("# Strips, and edges with fans") :]
    assert [name for name in allowed[len(told) :] if f"`{name}`" not in strips] == []


def test_the_square_format_names_every_key_of_a_square() -> None:
    design = from_text("\n".join(named("mine.json").lines))
    written = json.loads(to_text(design))
    # Eyes are written only where there are some.
    keys = {*written, "eyes", *(f"prints.{key}" for each in written["prints"] for key in each)}
    told = {word for row in columns("## Square files") for word in re.findall(r"`([a-z_.]+)`", row[0])}
    assert told == keys


def test_exit_codes_are_those_of_the_command_line() -> None:
    codes = [exits.DONE, exits.CHECK_FAILED, exits.BAD_INPUT, exits.IMPOSSIBLE, exits.NOTHING_FOUND, exits.STOPPED]
    assert [int(row[0]) for row in columns("## Exit codes")] == codes


def test_it_stays_short() -> None:
    assert len(FIRST.splitlines()) <= 250
    assert len(TEXT.splitlines()) < 1300
