"""Changes of a brief run one after the other, and the sentence that tells which of them mend it."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from constraints.brief import Brief
from explore import asking
from explore.asking import NAMED
from explore.mending.changes import Change, given
from explore.refused import Refused

# So many mends are told, so many changes are run for them, and of one key alone.
WANTED, MOST, OF_A_KEY = 2, 12, 4
# After one in vain the next of its key is so many times as great a change.
_FURTHER = 1.4
# Once one holds, a second one is looked for among so many in all.
_ENOUGH = 6
# So many that were run in vain are named.
_NAMED = 6

# Options by the name of the key.
Options = Mapping[str, str]


@dataclass(frozen=True)
class Door(ABC):
    """What a command does with options beside those that it was given.

    file, flags: those it was given, as `asking.read` takes them.
    """

    file: Path | None
    flags: Options

    def brief(self, options: Options) -> Brief | None:
        """The brief with further options; None if it is refused."""
        try:
            return asking.read(self.file, {**self.flags, **options}).brief
        except Refused:
            return None

    @abstractmethod
    def opens(self, brief: Brief) -> bool:
        """Whether there is any hope: a first look that costs next to nothing."""

    @abstractmethod
    def holds(self, brief: Brief) -> bool:
        """Whether the command finds something, in a bounded effort."""


@dataclass(frozen=True)
class Tried:
    """mends: changes that hold. vain: those that were run and do not. meant: a width that she may have meant, if that
    is a mend."""

    mends: tuple[Options, ...]
    vain: tuple[Options, ...]
    meant: str = ""

    def sentence(self) -> str:
        """What is told after a refusal."""
        if self.mends:
            question = f"did you mean {self.meant}? " if self.meant else ""
            return f"{question}what mends it: {' or '.join(map(told, self.mends))}"
        if not self.vain:
            return "no small change of one key mends it"
        more = f" and {len(self.vain) - _NAMED} more" if len(self.vain) > _NAMED else ""
        return f"tried in vain: {', '.join(map(told, self.vain[:_NAMED]))}{more}"


def told(options: Options) -> str:
    """Options as she writes them."""
    return " ".join(f"{NAMED[name].flag} {_quoted(text)}" for name, text in options.items())


def _quoted(text: str) -> str:
    return f'"{text}"' if " " in text else text


def tried(brief: Brief, ordered: Iterable[Change], door: Door, tell: Callable[[int, int], None]) -> Tried:
    """Run changes in their order until enough hold. tell: told how many were run, of how many at the most."""
    mends: list[Options] = []
    vain: list[Options] = []
    meant = ""
    failed: dict[str, list[float]] = {}
    for change in ordered:
        options = given(brief, change)
        key = _key(options)
        before = failed.get(key, [])
        # What takes in a mend that is told already mends by that alone.
        told_already = any(key == _key(each) or each.items() <= options.items() for each in mends)
        if told_already or len(before) == OF_A_KEY:
            continue
        if before and change.size < _FURTHER * before[-1]:
            continue
        asked = door.brief(options)
        if asked is None or not door.opens(asked):
            continue
        if door.holds(asked):
            mends.append(options)
            meant = meant or change.meant
        else:
            vain.append(options)
            failed[key] = [*before, change.size]
        tell(len(mends) + len(vain), MOST)
        if len(mends) == WANTED or len(mends) + len(vain) >= (_ENOUGH if mends else MOST):
            break
    return Tried(tuple(mends), tuple(vain), meant)


def _key(options: Options) -> str:
    """The key that a change is of; pairs that another measure takes go with it."""
    return next((name for name in options if name != "pairs"), "pairs")
