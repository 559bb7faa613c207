"""What the recipes of DEVELOPERS.md rest on: who adds one thing is told of the other places that must know it."""

import re
from pathlib import Path

import numpy as np
import pytest

from constraints.check.limits import Limits
from constraints.edgings import EDGINGS
from constraints.fillings import ALLOWED, FILLINGS, UNITS, Filling
from constraints.ruleset import Rules
from constraints.symmetry import SYMMETRIES
from explore import asking
from explore.search.compose.liking import draw_liking
from explore.search.laying.sectors import SECTORS

ROOT = Path(__file__).parents[1]
GUIDES = ROOT / "explore" / "guides"
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("path", sorted((ROOT / "constraints" / "rules").glob("[a-z]*.py")), ids=lambda path: path.stem)
def test_every_rule_has_its_test_file(path: Path) -> None:
    assert (ROOT / "tests" / "constraints" / "rules" / f"test_{path.stem}.py").exists()


def test_the_check_limits_what_a_square_remembers_of_its_brief() -> None:
    remembered = Rules().told()
    assert set(Limits.__dataclass_fields__) <= set(remembered)
    assert set(remembered) <= {key.name for key in asking.KEYS} | {"least"}
    row = next(line for line in (GUIDES / "files.md").read_text().splitlines() if line.startswith("| `brief` | "))
    assert re.findall(r"`([a-z_]+)`", row.split(" | ")[1].split("(")[1].split(")")[0]) == list(remembered)


def test_every_filling_is_known_where_fillings_are_written_told_apart_and_chosen() -> None:
    everything = Rules(stitches=ALLOWED)
    tastes = [draw_liking(np.random.default_rng(seed), everything) for seed in range(20)]
    without_units = {name for name, filling in FILLINGS.items() if not filling.units}
    assert {kind for taste in tastes for kind in taste.large} - {""} == {*UNITS, *without_units}


@pytest.mark.parametrize("filling", FILLINGS.values(), ids=FILLINGS)
def test_the_guides_tell_every_filling_in_its_table_and_as_a_file_has_it(filling: Filling) -> None:
    lines = [line for page in GUIDES.glob("*.md") for line in page.read_text(encoding="utf-8").splitlines()]
    assert any(line.startswith(f"| `{filling.name}` | ") for line in lines)
    row = next(line for line in lines if line.startswith("| `fillings` | each"))
    assert f'"{filling.words}"' in row
    assert f"`{filling.places}`" in row


@pytest.mark.parametrize("kind", EDGINGS)
def test_the_guides_tell_every_edging_as_a_file_and_redraft_have_it(kind: str) -> None:
    lines = [line for page in GUIDES.glob("*.md") for line in page.read_text(encoding="utf-8").splitlines()]
    for begin in ("| `form`, `half_size` | ", "| `--headside` | "):
        assert f"`{kind}`" in next(line for line in lines if line.startswith(begin))


def test_every_symmetry_has_its_sectors() -> None:
    assert set(SECTORS) == set(SYMMETRIES)


def test_the_developers_page_names_no_file_that_is_not_there() -> None:
    named = re.findall(r"`([\w./]+/[\w.]*(?:\.py|/))`", DEVELOPERS)
    assert len(named) > 30
    assert [name for name in named if not (ROOT / name).exists() and "NAME" not in name] == []
