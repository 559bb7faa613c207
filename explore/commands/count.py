"""`stampwork count`: how many block layouts there are."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Annotated

import typer

from explore import asking
from explore.asking.keys import Key
from explore.commands.shared import BriefFile, refused_brief
from explore.exits import IMPOSSIBLE, NOTHING_FOUND, Outcome
from explore.options import option_words, takes_a_brief
from explore.terminal import note_each, say, say_each, status

# The stamp and what is made of it are set aside, and how often a repeat comes changes nothing.
_SET_ASIDE = ("match", "stamp_size", "turns", "copies", "apart", "count", "place", "repeats")


def _counts(key: Key) -> bool:
    return key.name not in _SET_ASIDE


@takes_a_brief(_counts)
def count(
    brief: BriefFile = None,
    out: Annotated[Path | None, typer.Option(help="Write the numbers to this JSON file too.")] = None,
    force: Annotated[bool, typer.Option("--force", help="Replace the file that is there.")] = False,
    **flags: str,
) -> Outcome:
    """Count the block layouts that a brief allows.

    A block layout says which pinholes lie in blocks; two are the same only pinhole for pinhole. The symmetry,
    the block rules, the margin, the splits and the solid share of the brief hold; stamp, stitches, fillings and the
    blocks of a headside are set aside. Of a strip the layouts of one repeat are counted, for every length that
    --repeat names. Of a square or a strip without a symmetry, what each of them allows is told in one line.

    \b
    Examples:
      stampwork count --pairs 20
      stampwork count --pairs 20 --symmetry full
      stampwork count --pairs 10 --symmetry none
      stampwork count --form strip --columns 11 --repeat 12 --symmetry none

    The number is exact where the effort allows it. Otherwise it is an estimate with its standard error, or,
    where that would be too large, a number of layouts that there are at least.
    """
    from constraints.counting.answer import Certainty
    from constraints.explain import width_difference
    from explore.editing.counts import Counting, counted, layouts_of, refuse_to_count, why_none
    from explore.editing.counts_told import numbers, report, write_numbers

    asked = asking.read(brief, flags, Counting.usual)
    refuse_to_count(asked.brief, out, force)
    door = Counting(brief, flags)
    conflict = why_none(asked.brief)
    if conflict:
        raise refused_brief(IMPOSSIBLE, conflict, asked.brief, (), door, "impossible-size")
    note_each([width_difference(asked.brief)])
    with status() as watch:
        found = counted(asked.brief, watch)
    say_each(report(asked.brief, found))
    if out is not None:
        write_numbers(out, asked.brief, found)
        say(f"numbers: {out}")
    if not any(each.log >= 0 or each.kind is Certainty.EXACT for each in layouts_of(found)):
        raise refused_brief(NOTHING_FOUND, "no block layout found in the effort given", asked.brief, (), door)
    some = any(each.log >= 0 for each in layouts_of(found))
    # Patterns without a stamp are of one symmetry.
    several = len(asked.brief.piece.symmetries) > 1 and (brief is not None or "symmetry" in flags)
    then = _explored(brief, flags) if some and not several else ()
    return Outcome(told=numbers(asked.brief, found), then=then)


def _explored(brief: Path | None, flags: Mapping[str, str]) -> tuple[object, ...]:
    """The words that find squares by the same brief, the stamp set aside."""
    filed = ("--brief", brief) if brief else ()
    return ("explore", "--no-stamp", *filed, *option_words(flags))
