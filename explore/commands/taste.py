"""`stampwork taste`: what your picks say of your taste."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from explore.exits import Outcome
from explore.terminal import note_each, say, say_each


def taste(
    studies: Annotated[
        list[Path], typer.Argument(metavar="STUDY...", help="Studies with picks; all their squares are looked at.")
    ],
    keep: Annotated[bool, typer.Option("--keep", help="Make it a setting of yours: new studies follow it.")] = False,
) -> Outcome:
    """See what your picks say of your taste.

    What you picked is held against what you passed over. --taste takes the words and numbers that it tells: then each
    new square is the best of four by them.

    \b
    Examples:
      stampwork taste garden-society
      stampwork taste garden-society tulip-study --keep
      stampwork explore beetle.jpg --taste calm
    """
    from explore.asking.settings import read
    from explore.asking.tastes import TasteWords
    from explore.editing.liking import of_picks
    from explore.storage.free import BRIEF
    from explore.storage.picks import read_picks
    from explore.storage.study import open_study

    seen = []
    for study in studies:
        opened = open_study(study)
        note_each(opened.notes)
        seen.append((opened.designs, frozenset(read_picks(study, opened.name).numbers)))
    learnt = of_picks(seen)
    words = TasteWords().to_toml(learnt.taste)
    say_each(learnt.lines())
    likes, perhaps = learnt.told(clear=True), learnt.told(clear=False)
    told = {"seen": learnt.seen, "picked": learnt.kept, "taste": words, "likes": likes, "perhaps": perhaps}
    if not words:
        return Outcome(then=("pick", studies[0]), told=told)
    say(f"taste: {words}")
    if keep:
        hers = read().changed([f"taste={words}"])
        hers.write()
        say(f"kept in {hers.file}; stampwork settings taste= forgets it")
    return Outcome(then=("explore", "--brief", studies[0] / BRIEF, "--taste", words), told=told)
