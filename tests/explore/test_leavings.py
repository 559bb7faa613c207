"""What page and pick leave in a study: ours goes with the study, hers stays."""

from pathlib import Path

from fakes import petal

from constraints.brief import Brief
from explore.storage.study import create

BRIEF = Brief.of(stamp="petal", match=0.65)
PNG = b"\x89PNG\r\n\x1a\n and so on"
OUR_PAGE = '<!DOCTYPE html>\n<meta name="generator" content="Stampwork page">\n<title>x</title>'


def study(folder: Path, force: bool = False) -> tuple[str, ...]:
    return create(folder, BRIEF, (petal(),), (PNG,), force).notes


def test_a_new_study_takes_the_page_and_the_sheet_of_picks_of_the_old_one_away(tmp_path: Path) -> None:
    study(tmp_path)
    for name, text in {"page.html": OUR_PAGE, "picks.json": "{}", "picks.png": "x", "picks.pdf": "x"}.items():
        (tmp_path / name).write_text(text)
    study(tmp_path, force=True)
    assert not {"page.html", "picks.png", "picks.pdf", "picks.json"} & {path.name for path in tmp_path.iterdir()}


def test_picks_of_the_old_study_are_set_aside_under_a_free_name_and_that_is_told(tmp_path: Path) -> None:
    study(tmp_path)
    assert study(tmp_path, force=True) == ()
    for round_, name in enumerate(("picks-before.json", "picks-before-2.json", "picks-before-3.json")):
        (tmp_path / "picks.json").write_text(f"notes of round {round_}")
        (told,) = study(tmp_path, force=True)
        assert told == f"picks.json is of the study before; it is kept as {tmp_path / name}"
        assert (tmp_path / name).read_text() == f"notes of round {round_}"
    assert (tmp_path / "picks-before.json").read_text() == "notes of round 0"


def test_a_page_and_pictures_of_another_maker_stay(tmp_path: Path) -> None:
    study(tmp_path)
    hers = {"page.html": "<title>my page</title>", "picks.png": "hers", "picks.pdf": "hers"}
    for name, text in hers.items():
        (tmp_path / name).write_text(text)
    study(tmp_path, force=True)
    assert {name: (tmp_path / name).read_text() for name in hers} == hers
