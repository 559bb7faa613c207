"""The keys of a brief as options of a command, made from the table of keys."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from typing import Annotated, Any

import typer

from explore.asking import KEYS

# What stands for the value of an option in the help; what it may be is said there in words.
_WORD = "VALUE"


def takes_a_brief(command: Callable[..., int]) -> Callable[..., int]:
    """Give a command whose last parameter is `**flags` one option for every key but the stamp.

    Each option is a text or None if it was not given; `explore.asking.read` reads them. A key that the command
    has a parameter of its own for is left to it.
    """
    signature = inspect.signature(command, eval_str=True)
    own = [each for each in signature.parameters.values() if each.kind is not inspect.Parameter.VAR_KEYWORD]
    options = [
        inspect.Parameter(
            key.name,
            inspect.Parameter.KEYWORD_ONLY,
            default=None,
            annotation=Annotated[str | None, typer.Option(key.flag, help=key.help, metavar=_WORD)],
        )
        for key in KEYS
        if key.name != "stamp" and key.name not in signature.parameters
    ]
    with_options: Any = command
    with_options.__signature__ = signature.replace(parameters=[*own, *options])
    return command
