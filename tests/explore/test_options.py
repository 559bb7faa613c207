"""Options of commands: every kind stands beside a type that its values have, and their defaults are told as written."""

import inspect
from typing import get_args

import pytest

from explore import cli, menu
from explore.asking.kinds import Kind, written
from explore.asking.settings import takes_lengths

ASKED = [
    pytest.param(name, each, kind, id=f"{name}-{each.name}")
    for name in menu.COMMANDS
    for each in inspect.signature(menu.command_called(name), eval_str=True).parameters.values()
    for kind in get_args(each.annotation)
    if isinstance(kind, Kind)
]


@pytest.mark.parametrize(("name", "asked", "kind"), ASKED)
def test_defaults_are_read_again_from_what_the_help_tells(name: str, asked: inspect.Parameter, kind: Kind) -> None:
    if asked.default not in (None, inspect.Parameter.empty):
        assert kind.from_text(written(kind, asked.default)) == asked.default
    assert not any(isinstance(each, Kind) for each in get_args(asked.annotation)[:2])


@pytest.mark.parametrize(("name", "asked", "kind"), ASKED)
def test_a_default_that_is_a_length_names_its_unit(name: str, asked: inspect.Parameter, kind: Kind) -> None:
    """It would be read in hers otherwise."""
    if takes_lengths(kind) and asked.default not in (None, inspect.Parameter.empty):
        assert written(kind, asked.default).endswith("mm")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["edgings", "s", "0"], 'NUMBER is "0"; allowed: the number of a square, such as 3'),
        (["pick", "s", "3", "--drop", "x"], '--drop is "x"; allowed: the number of a square, such as 3'),
        (["fit", "s", "1", "--for", "10"], '--for is "10"; allowed: width and height, such as 290x410mm'),
        (["show", "s", "1", "--size", "3mm"], '--size is "3mm"; allowed: a length from 30 to 1000 mm, such as 180mm'),
        (["page", "s", "--cores", "none"], '--cores is "none"; allowed: a whole number from 1 to 1024'),
    ],
)
def test_a_text_that_cannot_be_read_is_refused_by_its_option_before_anything_is_opened(
    words: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert cli.run(words) == 2
    assert capsys.readouterr().err == f"stampwork: {said}\n"
