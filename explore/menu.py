"""The commands by their names, in the order of the help: what is told of each before it is loaded, and its loading."""

from __future__ import annotations

import re
from importlib import import_module
from typing import Any, NamedTuple

import typer
from typer.core import TyperCommand, TyperGroup

from explore.exits import Command

_PRINT, _CHOOSING, _PILLOW = "From the print", "Choosing", "At the pillow"
_EDGES, _OLD, _NUMBERS = "Edges, corners, sizes", "Old pieces", "Checking and counting"
_OWN, _TABLE = "Your own ways", "All at one table"


class MenuEntry(NamedTuple):
    """A command of the module in `explore/commands` that is called like it. part: of the help. line: the first of its
    own help, told beside its name. function: what runs it."""

    part: str
    line: str
    function: str


# In the order in which you need them.
COMMANDS = {
    "studio": MenuEntry(_TABLE, "Work at a table in your browser.", "studio"),
    "stamp": MenuEntry(_PRINT, "See how a stamp falls on the grid.", "fall_of_stamp"),
    "budget": MenuEntry(_PRINT, "See what fits a budget of pairs.", "budget"),
    "explore": MenuEntry(_PRINT, "Find squares of lace that carry a stamp.", "explore_stamp"),
    "page": MenuEntry(_CHOOSING, "Write a page to browse a study.", "page"),
    "pick": MenuEntry(_CHOOSING, "Mark the squares you choose.", "pick"),
    "taste": MenuEntry(_CHOOSING, "See what your picks say of your taste.", "taste"),
    "compare": MenuEntry(_CHOOSING, "See two squares side by side, and where they differ.", "compare"),
    "vary": MenuEntry(_CHOOSING, "See more pieces like a chosen one.", "vary"),
    "series": MenuEntry(_CHOOSING, "Make a series for an exhibition.", "series"),
    "pricking": MenuEntry(_PILLOW, "Print the pinholes of a square at true size.", "pricking"),
    "diagram": MenuEntry(_PILLOW, "Draw how every pair of a square runs, enlarged.", "diagram"),
    "work": MenuEntry(_PILLOW, "Tell in which order a square is worked.", "order_of_work"),
    "materials": MenuEntry(_PILLOW, "Add up what a square takes.", "what_it_takes"),
    "show": MenuEntry(_PILLOW, "Show a square large.", "show_large"),
    "pack": MenuEntry(_PILLOW, "Put all papers of a square into one booklet.", "booklet"),
    "edgings": MenuEntry(_EDGES, "Try every edging of the catalogue.", "other_edgings"),
    "mirror": MenuEntry(_EDGES, "Slide a mirror along a strip.", "mirror_strip"),
    "frame": MenuEntry(_EDGES, "Make a frame of a strip.", "frame_strip"),
    "fit": MenuEntry(_EDGES, "Make a piece fit.", "fit_object"),
    "redraft": MenuEntry(_OLD, "Redraft an old pricking onto the grid.", "redraft"),
    "check": MenuEntry(_NUMBERS, "Check saved squares anew.", "check"),
    "count": MenuEntry(_NUMBERS, "Count the block layouts that a brief allows.", "count"),
    "settings": MenuEntry(_OWN, "Set defaults of your own.", "settings"),
}


def command_called(name: str) -> Command:
    """The function that runs a command, its module loaded."""
    found: Command = getattr(import_module(f"explore.commands.{name}"), COMMANDS[name].function)
    return found


class Menu(TyperGroup):
    """All commands, told part by part. None is loaded before it is called."""

    def __init__(self, **told: Any) -> None:
        super().__init__(**told)
        for name, entry in COMMANDS.items():
            self.add_command(_Unloaded(name, short_help=entry.line, rich_help_panel=entry.part, rich_markup_mode=None))

    # typer's own names for contexts and formatters are private.
    def format_commands(self, ctx: Any, formatter: Any) -> None:
        """The names and lines of the commands, under the name of each part."""
        width = max(map(len, COMMANDS))
        for part in dict.fromkeys(entry.part for entry in COMMANDS.values()):
            with formatter.section(part):
                formatter.write_dl(
                    [(n.ljust(width), entry.line) for n, entry in COMMANDS.items() if entry.part == part]
                )


class _Unloaded(TyperCommand):
    """What stands for a command until it is called."""

    def make_context(self, info_name: str | None, args: list[str], parent: Any = None, **extra: Any) -> Any:
        """The context of the command itself, which is loaded for it."""
        assert self.name is not None
        return _loaded(self.name).make_context(info_name, args, parent, **extra)


def _loaded(name: str) -> Any:
    from explore.ending import can_be_quiet, can_tell_in_one
    from explore.options import takes_values

    alone = typer.Typer(add_completion=False, rich_markup_mode=None, pretty_exceptions_enable=False)
    command = can_tell_in_one(takes_values(can_be_quiet(command_called(name))), name)
    alone.command(name, cls=_InPanels)(command)
    return typer.main.get_command(alone)


# What typer calls the values of options for which no word is given.
_VALUES = {"path": "PATH", "str": "TEXT", "float": "NUMBER"}


class _InPanels(TyperCommand):
    """A command whose help has its options under the name of their panel, and tells their values in plain words."""

    def format_options(self, ctx: Any, formatter: Any) -> None:
        """Arguments, then the panels in the order of their first options; those without one last."""
        panels: dict[str, list[tuple[str, str]]] = {"Arguments": []}
        others: list[tuple[str, str]] = []
        for each in self.get_params(ctx):
            record = each.get_help_record(ctx)
            panel = getattr(each, "rich_help_panel", None)
            if record is None:
                continue
            names, told = record
            if each.param_type_name == "argument":
                panels["Arguments"].append((re.sub(r" <.*>$", "", names), told))
                continue
            entries = panels.setdefault(panel, []) if panel else others
            entries.append((re.sub(r"<(\w+)>$", lambda kind: _VALUES[kind[1]], names), told))
        for panel, records in (*panels.items(), ("Options" if len(panels) == 1 else "Other options", others)):
            if records:
                with formatter.section(panel):
                    formatter.write_dl(records)
