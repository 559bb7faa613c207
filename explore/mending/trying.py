"""Changes of a command run one after the other, and the sentence that tells which of them mend it."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations

# So many mends are told, so many changes are run for them, and of one key alone.
WANTED, MOST, OF_A_KEY = 2, 16, 4
# After one in vain the next of its key is so many times as great a change.
_FURTHER = 1.4
# Once one holds, a second one is looked for among so many in all.
_ENOUGH = 6
# So many that were run in vain are named.
_NAMED = 6
# Where no change helps alone, so many of each key are put together with those of others; of these so many are looked
# at, so many run, and of one key.
_EACH, _LOOKS, MOST_TWOS, _TWOS_OF_A_KEY = 3, 60, 12, 3
# Another draw and more time are no help to another change.
_CHANCE = {"seed", "effort"}
# Instead of an option that is added, words that are to be left out.
WITHOUT = "without"

# Options by their names, with _ for -; beside them WITHOUT.
Options = Mapping[str, str]


@dataclass(frozen=True)
class MendOffer:
    """A change of a command that may mend it. size: how great it is, for the order. meant: the width as she may have
    meant it, where it is that. choice: that another of its key was in vain says nothing of it."""

    options: Options
    size: float
    meant: str = ""
    choice: bool = False


class Door(ABC):
    """What a command does with options beside those that it was given, which take the place of hers."""

    def opens(self, options: Options) -> bool:
        """Whether there is any hope: a first look that costs next to nothing. There is, unless a door knows better."""
        return True

    @abstractmethod
    def holds(self, options: Options) -> bool:
        """Whether the command finds something, in a bounded effort. Asked only where it opens."""


@dataclass(frozen=True)
class Tried:
    """mends: changes that hold. vain: those that were run and do not. meant: a width that she may have meant, if that
    is a mend. stopped: whether she did not wait for the rest."""

    mends: tuple[Options, ...]
    vain: tuple[Options, ...]
    meant: str = ""
    stopped: bool = False

    def sentence(self) -> str:
        """What is told after a refusal."""
        if self.mends:
            question = f"did you mean {self.meant}? " if self.meant else ""
            return f"{question}what mends it: {' or '.join(map(told, self.mends))}"
        if not self.vain:
            return "stopped before a change was tried" if self.stopped else "no small change mends it"
        more = f" and {len(self.vain) - _NAMED} more" if len(self.vain) > _NAMED else ""
        stopped = "stopped; " if self.stopped else ""
        return f"{stopped}tried in vain: {', '.join(map(told, self.vain[:_NAMED]))}{more}"


def told(options: Options) -> str:
    """Options as she writes them, what is left out last."""
    words = [f"--{name.replace('_', '-')} {quoted(text)}" for name, text in options.items() if name != WITHOUT]
    return " ".join([*words, *([f"{WITHOUT} {options[WITHOUT]}"] if WITHOUT in options else [])])


def quoted(text: str) -> str:
    """A value as it is typed, in quotes if it has blanks."""
    return f'"{text}"' if " " in text else text


def tried(ordered: Iterable[MendOffer], door: Door, tell: Callable[[int, int], None]) -> Tried:
    """Run changes in their order until enough hold; where none does alone, two at once. Ctrl-C ends it.

    tell: told how many were run, of how many at the most.
    """
    trial = _Trial(door, tell)
    alone = list(ordered)
    try:
        trial.run(alone, MOST, OF_A_KEY, len(alone))
        if not trial.mends:
            trial.run(_twos(alone), MOST_TWOS, _TWOS_OF_A_KEY, _LOOKS)
    except KeyboardInterrupt:
        return Tried(tuple(trial.mends), tuple(trial.vain), trial.meant, True)
    return Tried(tuple(trial.mends), tuple(trial.vain), trial.meant)


@dataclass
class _Trial:
    """What came of the changes that were run."""

    door: Door
    tell: Callable[[int, int], None]
    mends: list[Options] = field(default_factory=list)
    vain: list[Options] = field(default_factory=list)
    meant: str = ""

    def run(self, ordered: Iterable[MendOffer], most: int, of_a_key: int, looks: int) -> None:
        """Run as many of them as it takes, at the most so many, of one key in vain, and so many looked at."""
        failed: dict[str, list[float]] = {}
        begun = len(self.vain)
        for offer in ordered:
            keys = _keys(offer.options)
            before = [failed.get(key, []) for key in keys]
            # What takes in a mend that is told already mends by that alone.
            told_already = any(keys == _keys(each) or each.items() <= offer.options.items() for each in self.mends)
            if told_already or any(len(each) == of_a_key for each in before):
                continue
            if not offer.choice and all(each and offer.size < _FURTHER * each[-1] for each in before):
                continue
            looks -= 1
            if looks < 0:
                break
            if not self.door.opens(offer.options):
                continue
            if self.door.holds(offer.options):
                self.mends.append(offer.options)
                self.meant = self.meant or offer.meant
            else:
                self.vain.append(offer.options)
                for key in keys:
                    failed.setdefault(key, []).append(offer.size)
            ran = len(self.mends) + len(self.vain) - begun
            self.tell(ran, most)
            if len(self.mends) == WANTED or ran >= (_ENOUGH if self.mends else most):
                break


def _twos(alone: Sequence[MendOffer]) -> list[MendOffer]:
    """Two changes of unlike keys at once, the smallest first."""
    few = list(_few(alone))
    found = []
    for one, other in combinations(few, 2):
        if not set(_keys(one.options)) & set(_keys(other.options)):
            both, choice = _both(one.options, other.options), one.choice and other.choice
            found.append(MendOffer(both, one.size + other.size, one.meant or other.meant, choice))
    return sorted(found, key=lambda each: each.size)


def _few(alone: Iterable[MendOffer]) -> Iterator[MendOffer]:
    """The first changes of each key, as far apart as those that are run alone."""
    count: Counter[str] = Counter()
    last: dict[str, float] = {}
    for offer in alone:
        key = _keys(offer.options)[0]
        like = not offer.choice and key in last and offer.size < _FURTHER * last[key]
        if key in _CHANCE or count[key] == _EACH or like:
            continue
        count[key] += 1
        last[key] = offer.size
        yield offer


def _both(one: Options, other: Options) -> Options:
    found = {**one, **other}
    if "pairs" in one and "pairs" in other:
        found["pairs"] = max(one["pairs"], other["pairs"], key=int)
    return found


def _keys(options: Options) -> tuple[str, ...]:
    """The keys that a change is of; pairs that another measure takes go with it."""
    return tuple(name for name in options if name != "pairs") or ("pairs",)
