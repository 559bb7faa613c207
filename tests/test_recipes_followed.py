"""The recipes of DEVELOPERS.md for a rule, a filling and an edging, followed on a copy.

`explore/test_form_added.py` adds a form.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]


class Copy:
    """The packages in a folder of their own, to be changed and run."""

    def __init__(self, root: Path) -> None:
        self.root = root
        for package in ("constraints", "gallery", "explore"):
            shutil.copytree(ROOT / package, root / package, ignore=shutil.ignore_patterns("__pycache__", "pictures"))

    def change(self, file: str, *changes: tuple[str, str]) -> None:
        """Replace the one place that reads so."""
        path = self.root / file
        text = path.read_text(encoding="utf-8")
        for before, after in changes:
            assert text.count(before) == 1, (file, before)
            text = text.replace(before, after)
        path.write_text(text, encoding="utf-8")

    def like(self, old: str, new: str, *changes: tuple[str, str]) -> None:
        """A new file like an old one but for some words."""
        text = (self.root / old).read_text(encoding="utf-8")
        for before, after in changes:
            assert before in text, (old, before)
            text = text.replace(before, after)
        (self.root / new).write_text(text, encoding="utf-8")

    def run(self, *words: str) -> str:
        """What a command of the copy says."""
        code = "import sys; from explore.start import main; main()"
        told = {**os.environ, "PYTHONPATH": str(self.root), "PYTHONDONTWRITEBYTECODE": "1"}
        done = subprocess.run(
            [sys.executable, "-c", code, *words], cwd=self.root, env=told, capture_output=True, text=True, check=False
        )
        assert done.returncode == 0, done.stderr
        return done.stdout


@pytest.fixture
def copy(tmp_path: Path) -> Copy:
    return Copy(tmp_path)


SEARCH = ("explore", "--no-stamp", "--pairs", "16", "--count", "2", "--cores", "1", "--out", "made")


def blocks(folder: Path) -> list[tuple[int, int]]:
    found = [json.loads(path.read_text(encoding="utf-8")) for path in sorted((folder / "squares").glob("*.json"))]
    return [(x, y) for design in found for block in design["blocks"] for x, y in block["pinholes"]]


def test_a_rule_is_added_as_the_page_says(copy: Copy) -> None:
    """Blocks keep off the centre by `open_centre` units."""
    (copy.root / "constraints/rules/open_centre.py").write_text(
        '''"""Open centre: no block lies so near to the centre."""

import numpy as np

from constraints.variables import Model

NAME = "open centre"


def open_centre(model: Model) -> None:
    """Every pinhole nearer to the centre than the rules say is open."""
    near = np.abs(model.piece.pinholes).max(axis=1) < model.rules.open_centre
    model.formula.clause(NAME, ~model.block[near][:, None])
''',
        "utf-8",
    )
    copy.change(
        "constraints/rulebook.py",
        ("one_worker, widest\n", "one_worker, open_centre, widest\n"),
        ("_ground.narrowest_ground,\n", "_ground.narrowest_ground,\n    open_centre.NAME: open_centre.open_centre,\n"),
    )  # fmt: skip
    copy.change(
        "constraints/ruleset.py", ("    match: float = 0.65\n", "    match: float = 0.65\n    open_centre: int = 0\n")
    )
    copy.change(
        "explore/asking/keys.py",
        (
            '    Key(\n        "splits",',
            '    Key("open_centre", Whole(0, 100), "0", "How far blocks keep off the centre."),\n'
            '    Key(\n        "splits",',
        ),
    )
    copy.change(
        "constraints/check/limits.py",
        ("    match: float | None = None\n", "    match: float | None = None\n    open_centre: int | None = None\n"),
        ('    "splits": _WHOLE,\n', '    "splits": _WHOLE,\n    "open_centre": _WHOLE,\n'),
    )
    with (copy.root / "constraints/check/shape.py").open("a", encoding="utf-8") as file:
        file.write(
            '''

def open_centre(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """No block place nearer to the centre than the brief says."""
    for block in layout.design.blocks:
        for x, y in block.pinholes:
            if max(abs(x), abs(y)) < (limits.open_centre or 0):
                yield f"a block lies at {x}, {y}", ((x, y),)
'''
        )
    copy.change(
        "constraints/check/__init__.py",
        ('    "solid": shape.solid,\n', '    "solid": shape.solid,\n    "open centre": shape.open_centre,\n'),
    )
    assert "--open-centre" in copy.run("explore", "--help")
    copy.run(*SEARCH, "--open-centre", "9", "--solid", "0.1-0.5")
    assert min(max(abs(x), abs(y)) for x, y in blocks(copy.root / "made")) >= 9
    file = copy.root / "made/squares/01.json"
    assert json.loads(file.read_text(encoding="utf-8"))["brief"]["open_centre"] == 9
    # The second check sees it by itself.
    file.write_text(file.read_text(encoding="utf-8").replace('"open_centre": 9', '"open_centre": 14'), "utf-8")
    with pytest.raises(AssertionError):
        copy.run("check", "made/squares/01.json")


def test_a_filling_is_added_as_the_page_says(copy: Copy) -> None:
    """A ground with one twist more than twisted ground has, made up for this test."""
    words = (
        ("twisted", "thrice-twisted"),
        ("Twisted", "Thrice-twisted"),
        ("TWISTED", "THRICE_TWISTED"),
        ("TTC", "TTTC"),
    )
    copy.like("constraints/fillings/twisted_ground.py", "constraints/fillings/thrice.py", *words)
    copy.change(
        "constraints/fillings/__init__.py",
        (
            "from constraints.fillings.twisted_ground import TWISTED_GROUND\n",
            "from constraints.fillings.thrice import THRICE_TWISTED_GROUND\n"
            "from constraints.fillings.twisted_ground import TWISTED_GROUND\n",
        ),
        ("), taken=tuple(STITCHES)", ", THRICE_TWISTED_GROUND), taken=tuple(STITCHES)"),
    )
    names = (
        ("twisted_ground(", "thrice_twisted_ground("),
        ("twisted-ground", "thrice-twisted-ground"),
        ('"twisted ground"', '"thrice-twisted ground"'),
    )
    copy.like("constraints/check/fillings/twisted_ground.py", "constraints/check/fillings/thrice.py", *names)
    copy.change(
        "constraints/check/fillings/__init__.py",
        (
            "from constraints.check.limits",
            "from constraints.check.fillings.thrice import thrice_twisted_ground\nfrom constraints.check.limits",
        ),
        (
            "GROUNDS: dict[str, FillingRule] = {",
            'GROUNDS: dict[str, FillingRule] = {"thrice-twisted-ground": thrice_twisted_ground, ',
        ),
    )
    copy.run(*SEARCH, "--stitches", "cloth,thrice-twisted-ground:8")
    made = json.loads((copy.root / "made/squares/01.json").read_text(encoding="utf-8"))
    (ground,) = made["fillings"]
    assert ground["filling"] == "thrice-twisted torchon ground"
    assert len(ground["pinholes"]) >= 8
    copy.run("check", "made/squares/01.json")
    copy.run("work", "made", "1")
    (text,) = (copy.root / "made/papers").glob("*.txt")
    told = " ".join(text.read_text(encoding="utf-8").split())
    assert "Thrice-twisted ground: twist, twist, twist, cross, pin, twist, twist, twist, cross." in told
    # A pinhole less, and the second check says so.
    ground["pinholes"].pop()
    (copy.root / "torn.json").write_text(json.dumps(made), "utf-8")
    with pytest.raises(AssertionError):
        copy.run("check", "torn.json")


def test_an_edging_is_added_as_the_page_says(copy: Copy) -> None:
    """Ground scallops with a rose in each."""
    (copy.root / "constraints/edgings/rose_scallop.py").write_text(
        '''"""Rose scallops: ground scallops with a rose in each."""

from dataclasses import dataclass
from typing import ClassVar

from constraints.edgings.ground_scallop import GroundScallop
from constraints.fillings import FILLINGS, Unit


@dataclass(frozen=True)
class RoseScallop(GroundScallop):
    kind: ClassVar[str] = "rose scallop"

    @property
    def figure(self) -> Unit:
        return FILLINGS["rose"].units[0]
''',
        "utf-8",
    )
    copy.change(
        "constraints/edgings/__init__.py",
        ("from constraints.edgings.scallop",
         "from constraints.edgings.rose_scallop import RoseScallop\nfrom constraints.edgings.scallop"),
        (")\nEDGINGS = {", ", RoseScallop)\nEDGINGS = {"),
    )  # fmt: skip
    assert "rose scallop" in " ".join(copy.run("redraft", "--help").split())
    name = "rose scallop 4 with 3 pairs"
    copy.run(*SEARCH, "--half-size", "15", "--pairs", "20", "--edging", name, "--stitches", "cloth,half")
    file = copy.root / "made/squares/01.json"
    made = json.loads(file.read_text(encoding="utf-8"))
    assert made["headside"]["kind"] == "rose scallop"
    (roses,) = made["fillings"]
    assert roses["filling"] == "rose ground"
    copy.run("check", "made/squares/01.json")
    copy.run("work", "made", "1")
    (text,) = (copy.root / "made/papers").glob("*.txt")
    told = " ".join(text.read_text(encoding="utf-8").split())
    assert "headside all round of ground scallops, a rose in each and 1 passive along them" in told
    # A rose less, and the second check says so.
    roses["holes"].pop()
    (copy.root / "torn.json").write_text(json.dumps(made), "utf-8")
    with pytest.raises(AssertionError):
        copy.run("check", "torn.json")
