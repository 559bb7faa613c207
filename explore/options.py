"""The keys of a brief as options of a command, made from the table of keys."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from typing import Annotated, Any

import typer

from constraints.forms import Square
from explore.asking import KEYS
from explore.asking.keys import Key

# What stands for the value of an option in the help; what it may be is said there in words.
_WORD = "VALUE"


Command = Callable[..., int]


def every_key(key: Key) -> bool:
    """All keys are told."""
    return True


def of_squares(key: Key) -> bool:
    """Whether a key says anything to a command that takes squares with a footside alone."""
    return key.goes_with(Square.name) and key.name not in ("form", "edging")


def takes_a_brief(told: Callable[[Key], bool] = every_key) -> Callable[[Command], Command]:
    """Give a command whose last parameter is `**flags` one option for every key but the stamp.

    Each option is a text or None if it was not given; `explore.asking.read` reads them. A key that the command
    has a parameter of its own for is left to it. told: the keys that the help tells; others are read too, since a
    brief may hold them.
    """

    def with_options(command: Command) -> Command:
        return _with_options(command, told)

    return with_options


def _with_options(command: Command, told: Callable[[Key], bool]) -> Command:
    signature = inspect.signature(command, eval_str=True)
    own = [each for each in signature.parameters.values() if each.kind is not inspect.Parameter.VAR_KEYWORD]
    options = [
        inspect.Parameter(
            key.name,
            inspect.Parameter.KEYWORD_ONLY,
            default=None,
            annotation=Annotated[
                str | None, typer.Option(key.flag, help=key.help, metavar=_WORD, hidden=not told(key))
            ],
        )
        for key in KEYS
        if key.name != "stamp" and key.name not in signature.parameters
    ]
    changed: Any = command
    changed.__signature__ = signature.replace(parameters=[*own, *options])
    return command
