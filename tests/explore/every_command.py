"""Every command as it could be called, and a folder with what they need."""

from __future__ import annotations

import shlex
from contextlib import chdir
from pathlib import Path

import pytest

from explore import cli
from explore.exits import DONE

# In no font of the papers, as test_every_command.py reads from the fonts themselves.
LETTER = "\u5ead"
# Squares of few pairs, however well the print is known in them.
EASY = "--symmetry none --known no --match 0.5"
SQUARES, STRIPS = f"{LETTER}-squares", f"{LETTER}-strips"
SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="40" height="40"><path d="M2 2 H38 L20 38 Z"/></svg>'
ROWS = "columns\n1\n0 2\n1 3\n0 2 4\n1 3\n0 2\n1\n0 2\n1 3\n0 2 4\n1 3\n0 2\n1\n"
# Every command, each once or more; the words beside it are what of hers it draws.
COMMANDS = {
    f"explore {LETTER}.svg --pairs 12 {EASY} --count 1 --out new --cores 2": "stamp, elsewhere",
    f"stamp {LETTER}.svg --effort 0.2": "stamp",
    f"budget {LETTER}.svg --pairs 12-12 {EASY} --effort 0.2": "stamp",
    f"page {SQUARES} --force": "",
    f"pick {SQUARES} 1 --force": "study",
    f"taste {SQUARES}": "",
    f"pick {STRIPS} 1 --note {LETTER} --force": "study and note",
    f"vary {SQUARES} 1 --count 1 --force": "stamp",
    f"series {SQUARES} 1 --squares 2 --title Dusk{LETTER} --force": "stamp, study and title",
    f"compare {SQUARES} 1 2 --force": "study",
    "count --pairs 9 --symmetry half-turn": "",
    f"pricking {SQUARES} 1 --force": "study",
    f"diagram {SQUARES} 1 --force": "study",
    f"work {SQUARES} 1 --force": "study",
    f"materials {SQUARES} 1 --force": "study",
    f"show {SQUARES} 1 --force": "",
    f"pack {SQUARES} 1 --title Dusk{LETTER} --force": "title",
    f"edgings {STRIPS} 1 --force": "",
    f"mirror {STRIPS} 1 --force": "",
    f"frame {STRIPS} 1 --repeats 3 --fill centre --count 1": "",
    f"fit {STRIPS} 1 --for 70x180mm --ease 90mm": "",
    f"redraft {LETTER}.txt --force": "card",
    f"check {SQUARES}": "",
}

# Those that draw nothing.
WITHOUT_PICTURES = {"fit", "taste", "count", "check", "settings", "studio"}


def garden_with_studies(folder: Path) -> Path:
    """A folder with a stamp, a card in rows, and studies of squares and of strips, all called after the letter."""
    (folder / f"{LETTER}.svg").write_text(SVG)
    (folder / f"{LETTER}.txt").write_text(ROWS)
    with chdir(folder):
        designs = f"explore {LETTER}.svg --pairs 12 {EASY} --count 2 --cores 1 --out {SQUARES}"
        strips = f"explore --no-stamp --form strip --pairs 10 --repeat 8 --count 1 --cores 1 --out {STRIPS}"
        assert cli.run(shlex.split(designs)) == cli.run(shlex.split(strips)) == DONE
    return folder


def make_series_small(monkeypatch: pytest.MonkeyPatch) -> None:
    """Series are chosen from few squares."""
    monkeypatch.setattr("explore.editing.series.pool.WANTED", 8)
    monkeypatch.setattr("explore.editing.series.pool._AT_LEAST", 2)
