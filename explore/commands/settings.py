"""`stampwork settings`: defaults of your own."""

from __future__ import annotations

from typing import Annotated

import typer

from explore.exits import Outcome
from explore.terminal import say


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
    from explore.asking.settings import SETTINGS, read
    from explore.lines import RowTable

    hers = read()
    if words:
        hers = hers.changed(words)
        hers.write()
    rows = [
        {
            "name": name,
            "value": str(hers.values.get(name, each.built_in)),
            "set": name in hers.values,
            "meaning": each.meaning,
        }
        for name, each in SETTINGS.items()
    ]
    told = {
        "setting": lambda row: row["name"],
        "value": lambda row: row["value"],
        "by": lambda row: "you" if row["set"] else "built in",
        "what it says": lambda row: row["meaning"],
    }
    for line in RowTable(told, rows).lines():
        say(line)
    say(f"settings: {hers.file}" + ("" if hers.file.exists() else " (not there yet)"))
    return Outcome(told={"file": hers.file, "settings": rows})
