"""What is installed elsewhere: the program, its stamps and its page, without tests and pictures, and it works."""

import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

pytest.importorskip("setuptools", minversion="77", reason="a wheel needs setuptools 77 to be built without a network")

PIP = [sys.executable, "-m", "pip", "--disable-pip-version-check", "--quiet"]
ROOT = Path(__file__).parents[1]
ROOMS = ("constraints", "explore", "gallery")
GENERATED = shutil.ignore_patterns("__pycache__", ".*", "*.egg-info", "build", "dist", "*-study", "*-stamp")


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A wheel built from a copy of the sources, as an archive without git would hold them."""
    folder = tmp_path_factory.mktemp("wheel")
    shutil.copytree(ROOT, folder / "source", ignore=GENERATED)
    _done([*PIP, "wheel", "--no-deps", "--no-build-isolation", "--wheel-dir", str(folder), str(folder / "source")])
    (built,) = folder.glob("*.whl")
    return built


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with nothing but the wheel's content; what it depends on is there already."""
    target = tmp_path_factory.mktemp("installed")
    _done([*PIP, "install", "--no-deps", "--no-index", "--target", str(target), str(wheel)])
    return target


def _done(command: list[str], cwd: Path | None = None, env: dict[str, str] | None = None) -> str:
    """What a command prints that must do its work."""
    done = subprocess.run(command, cwd=cwd, env=env, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def test_the_wheel_holds_the_rooms_the_stamps_the_parts_of_the_page_and_nothing_else(wheel: Path) -> None:
    held = zipfile.ZipFile(wheel).namelist()
    assert {name.split("/")[0] for name in held} == {*ROOMS, "stampwork-0.1.0.dist-info"}
    wanted = [path for room in ROOMS for path in (ROOT / room).rglob("*.py")]
    wanted += (ROOT / "explore" / "stamps").glob("*.svg")
    wanted += (ROOT / "gallery" / "paper" / "fonts").iterdir()
    wanted += (path for path in (ROOT / "gallery" / "seeing" / "signs").iterdir() if path.suffix in (".json", ".txt"))
    wanted += (path for path in (ROOT / "gallery" / "web").iterdir() if path.suffix in (".css", ".html", ".js"))
    wanted += (path for part in ("pages", "scripts") for path in (ROOT / "explore" / "studio" / part).iterdir())
    in_rooms = [name for name in held if name.split("/")[0] in ROOMS]
    assert sorted(in_rooms) == sorted(path.relative_to(ROOT).as_posix() for path in wanted)


def test_the_installed_program_finds_its_stamp_and_makes_a_sheet(installed: Path, tmp_path: Path) -> None:
    elsewhere = {**os.environ, "PYTHONPATH": str(installed), "PYTHONSAFEPATH": "1"}
    where = _done([sys.executable, "-c", "import explore; print(explore.__file__)"], cwd=tmp_path, env=elsewhere)
    assert Path(where.strip()).parent == installed / "explore"
    command = [sys.executable, str(installed / "bin" / "stampwork")]
    version = _done([*command, "--version"], cwd=tmp_path, env=elsewhere)
    assert version == "stampwork 0.1.0\n"
    words = ["explore", "tulip", "--half-size", "13", "--count", "2", "--out", "study"]
    said = _done([*command, *words], cwd=tmp_path, env=elsewhere)
    assert said.splitlines()[-1] == "2 found with seed 1; sheet: study/sheet.png (also .pdf and .svg)"
    checked = _done([*command, "check", "study"], cwd=tmp_path, env=elsewhere)
    assert [line.split(":")[0] for line in checked.splitlines()] == ["01 holds", "02 holds"]
    assert (tmp_path / "study" / "sheet.png").stat().st_size > 10_000
    page = _done([*command, "page", "study"], cwd=tmp_path, env=elsewhere)
    assert page.startswith("page: study/page.html (2 squares, ")
    assert "<h1>study</h1>" in (tmp_path / "study" / "page.html").read_text(encoding="utf-8")
