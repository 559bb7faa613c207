"""`stampwork settings`: defaults of your own."""

from __future__ import annotations

from typing import Annotated

import typer

from explore.exits import Outcome
from explore.terminal import say, say_each


def settings(
    words: Annotated[
        list[str] | None,
        typer.Argument(metavar="NAME=VALUE...", help="What to set; an empty value takes it out. None lists them."),
    ] = None,
) -> Outcome:
    """Set defaults of your own.

    They hold where neither an option nor a brief says. A study has every key written out when it begins, so that
    later settings change nothing of it.

    \b
    Examples:
      stampwork settings
      stampwork settings pairs=28 paper=letter footside=right
      stampwork settings pairs=
    """
    from explore.asking.settings import read

    hers = read()
    if words:
        hers = hers.changed(words)
        hers.write()
    table = hers.table()
    say_each(table.lines())
    say(f"settings: {hers.file}" + ("" if hers.file.exists() else " (not there yet)"))
    return Outcome(told={"file": hers.file, "settings": table.rows})
