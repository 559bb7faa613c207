"""More squares like one: how much of it changes, and what stays."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from explore.asking import read_option
from explore.bad_input import BadInput
from explore.editing.varying import CHANGE, about, asked, making
from explore.editing.varying.kept import kept
from explore.editing.varying.studio import Studio
from explore.storage.study import open_study

# How much changes, in her words, and as `vary` takes it.
AMOUNTS = {"little": "2-8%", "some": "5-25%", "lot": "20-60%"}
# What may stay beside the print, as `vary` has it.
HELD = {"centre": "the middle", "corner": "the corners", "blocks": "the blocks", "fillings": "the fillings"}
COUNT = 12


@dataclass(frozen=True)
class LikeWish:
    """number: of the square. keep: of HELD. change: one of AMOUNTS' shares."""

    number: int
    keep: tuple[str, ...]
    change: str


def like_wish(number: int, given: Mapping[str, object]) -> LikeWish:
    """What the page asks for. Raises BadInput."""
    amount, keep = given.get("amount"), given.get("keep")
    if amount not in AMOUNTS or not isinstance(keep, list) or any(each not in HELD for each in keep):
        raise BadInput(f"more like one: {', '.join(AMOUNTS)}, and of what stays {', '.join(HELD)}")
    return LikeWish(number, tuple(dict.fromkeys(keep)), AMOUNTS[str(amount)])


def variation(folder: Path, into: Path, wish: LikeWish) -> making.Variation:
    """What `vary` would make of it. Raises BadInput, OSError."""
    source = open_study(folder)
    design = asked.chosen(source, wish.number)
    share = about(read_option("change", wish.change, CHANGE))
    brief = asked.brief_for(source, design, COUNT, None, None)
    studio = Studio(design, brief, source.stamps, kept(design, list(wish.keep)), share)
    return making.Variation(source, studio, list(wish.keep), into, False)
