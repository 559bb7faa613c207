"""The options of commands: texts read as values, and the keys of a brief as options, made from the table of keys."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Mapping, Sequence
from typing import Annotated, Any, get_args, get_origin

import typer
from typer.models import ArgumentInfo

from explore.asking import KEYS, NAMED, read_option, settings
from explore.asking.keys import Key
from explore.asking.kinds import Kind, Unfit, written
from explore.ending import with_parameters
from explore.exits import Command, Outcome

# What stands for the value of an option in the help; what it may be is said there in words.
_WORD = "VALUE"
# The panels of the help of a command that takes a brief.
FIRST, _KEYS = "To begin with", "More for the brief"


def every_key(key: Key) -> bool:
    """All keys are told."""
    return True


def takes_a_brief(told: Callable[[Key], bool] = every_key, first: Sequence[str] = ()) -> Callable[[Command], Command]:
    """Give a command whose last parameter is `**flags` one option for every key but the stamp.

    Flags are the texts of those that were given; `explore.asking.read` reads them. A key that the command
    has a parameter of its own for is left to it. told: the keys that the help tells; others are read too, since a
    brief may hold them. first: those that it tells first, in the panel `FIRST`, where the command's own options of that
    panel follow.
    """

    def with_options(command: Command) -> Command:
        return _with_options(command, told, first)

    return with_options


def _with_options(command: Command, told: Callable[[Key], bool], first: Sequence[str]) -> Command:
    signature = inspect.signature(command, eval_str=True)
    own = [each for each in signature.parameters.values() if each.kind is not inspect.Parameter.VAR_KEYWORD]
    options = {
        key.name: _option(key, told(key), FIRST if key.name in first else _KEYS)
        for key in KEYS
        if key.name != "stamp" and key.name not in signature.parameters
    }

    def with_flags(**given: Any) -> Outcome:
        hers = settings.in_force()
        flags = {name: hers.unit_for(NAMED[name].kind, given.pop(name)) for name in options if given[name] is not None}
        return command(**{name: value for name, value in given.items() if name not in options}, **flags)

    # The help tells them in this order.
    leading = [options[name] for name in first]
    others = [option for name, option in options.items() if name not in first]
    return with_parameters(with_flags, command, [*leading, *own, *others])


def _option(key: Key, shown: bool, panel: str) -> inspect.Parameter:
    option = typer.Option(key.flag, help=key.help, metavar=_WORD, hidden=not shown, rich_help_panel=panel)
    return inspect.Parameter(
        key.name, inspect.Parameter.KEYWORD_ONLY, default=None, annotation=Annotated[str | None, option]
    )


def option_words(flags: Mapping[str, str]) -> list[str]:
    """The words of a command that give these keys of a brief."""
    return [word for name, text in flags.items() for word in (NAMED[name].flag, text)]


def takes_values(command: Command) -> Command:
    """A command whose options are read before it is called: each parameter that has a kind beside its type.

    `Annotated[int, typer.Option(...), Whole(1, 24)] = 6` is told as an option with the default 6 and given as a text.
    Her settings apply to it: as the defaults of options that are called like one and can be so, and while it runs.
    Raises BadInput, as it is made too, if her file cannot be taken.
    """
    kinds: dict[str, tuple[str, Kind]] = {}
    asked = inspect.signature(command, eval_str=True).parameters
    hers = settings.read() if any(map(_settled, asked.values())) else settings.in_force()
    parameters = []
    for each in asked.values():
        kind = _kind_of(each)
        if kind is not None:
            each, kinds[each.name] = _as_text(_by_default(each, kind, hers), kind)
        parameters.append(each)

    def with_values(**given: Any) -> Outcome:
        with settings.holding(hers):
            read = {name: _read(given[name], *kind) for name, kind in kinds.items()}
            return command(**given | read)

    return with_parameters(with_values, command, parameters)


def _kind_of(asked: inspect.Parameter) -> Kind | None:
    return next((each for each in get_args(asked.annotation) if isinstance(each, Kind)), None)


def _settled(asked: inspect.Parameter) -> bool:
    """Whether a setting may say something to a parameter: it is called like one, or takes lengths."""
    kind = _kind_of(asked)
    return asked.name in settings.SETTINGS or (kind is not None and settings.takes_lengths(kind))


def _by_default(asked: inspect.Parameter, kind: Kind, hers: settings.Settings) -> inspect.Parameter:
    """A parameter with what she set as its default, where it has one and its kind takes that."""
    if asked.name not in hers.values or asked.default in (None, inspect.Parameter.empty):
        return asked
    try:
        return asked.replace(default=kind.from_text(str(hers.values[asked.name])))
    except Unfit:
        return asked


def _as_text(asked: inspect.Parameter, kind: Kind) -> tuple[inspect.Parameter, tuple[str, Kind]]:
    """A parameter as typer takes it, and how its texts are read."""
    wanted, option, *_ = get_args(asked.annotation)
    several = any(get_origin(each) is list for each in (wanted, *get_args(wanted)))
    text: Any = list[str] if several else str
    default = asked.default
    if default is None:
        text = text | None
    elif default is not inspect.Parameter.empty:
        default = written(kind, default)
    flag = f"--{asked.name.replace('_', '-')}"
    if isinstance(option, ArgumentInfo):
        flag = str(option.metavar).rstrip(".")
    elif isinstance(option.default, str):
        flag = option.default
    return asked.replace(annotation=Annotated[text, option], default=default), (flag, kind)


def _read(text: str | list[str] | None, flag: str, kind: Kind) -> Any:
    if text is None:
        return None
    hers = settings.in_force()
    if isinstance(text, list):
        return [read_option(flag, hers.unit_for(kind, each), kind) for each in text]
    return read_option(flag, hers.unit_for(kind, text), kind)
