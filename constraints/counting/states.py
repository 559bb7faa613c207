"""The states of a sweep as rows of machine words, all taken one step further at once."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from constraints.counting.sweep import Branch, Pair, Sweep, SweepStep
from constraints.formula import Linear
from constraints.lattice import FloatArray, IntArray

BitWords = npt.NDArray[np.uint64]

_WORD = 64
_ONE = np.uint64(1)


@dataclass(frozen=True, eq=False)
class Stride:
    """Where the states after a step come from, before equal ones are joined.

    keys: (m, words) the new states, equal ones together; first: (k,) where each run of equal ones begins.
    origin: (m,) the old state of each. true: (m,) whether the variable is true.
    """

    keys: BitWords
    first: IntArray
    origin: IntArray
    true: npt.NDArray[np.bool_]

    @property
    def joined(self) -> BitWords:
        """(k, words) the new states, each once."""
        keys: BitWords = self.keys[self.first]
        return keys


class Walk:
    """Takes states along a sweep: words of bits, then one word for each of the sums.

    sums: linear constraints, least <= sum <= most, with weights that are none negative.
    """

    def __init__(self, sweep: Sweep, sums: Sequence[Linear] = ()) -> None:
        self._words = max(1, -(-sweep.bits // _WORD))
        self._sums = tuple(sums)
        odd = np.random.default_rng(0).integers(2**63, size=self._words + len(self._sums), dtype=np.uint64)
        self._mixing = 2 * odd + np.uint64(1)
        self._weight = [dict(zip(s.variables.tolist(), s.weights.tolist(), strict=True)) for s in sums]

    def begin(self) -> BitWords:
        """The one state before the first step: nothing is asked yet."""
        return np.zeros((1, self._words + len(self._sums)), dtype=np.uint64)

    def stride(self, states: BitWords, step: SweepStep) -> Stride:
        """All states one variable further."""
        parts = [self._taken(states, step, value) for value in (False, True)]
        keys = np.concatenate([part for part, _ in parts])
        origin = np.concatenate([kept for _, kept in parts])
        true = np.repeat([False, True], [len(part) for part, _ in parts])
        # Sorted by one number made of all words; equal states come together. If others share that number, equal
        # ones may stay apart, which costs time and changes no count.
        order = np.argsort(keys @ self._mixing, kind="stable")
        keys = keys[order]
        fresh = np.ones(len(keys), dtype=np.bool_)
        fresh[1:] = (keys[1:] != keys[:-1]).any(axis=1)
        return Stride(keys, np.flatnonzero(fresh), origin[order], true[order])

    def _taken(self, states: BitWords, step: SweepStep, value: bool) -> tuple[BitWords, IntArray]:
        """The states with the variable at one value, and which of the old ones they come from."""
        choice: Branch = step.choices[int(value)]
        alive = np.full(len(states), not choice.never)
        if choice.kill:
            alive &= ~(states & self._mask(choice.kill)).any(axis=1)
        origin = np.flatnonzero(alive)
        old = states[origin]
        new = old & ~self._mask(step.ends)
        for source, target in choice.moves:
            new[:, target // _WORD] |= _bit(old, source) << np.uint64(target % _WORD)
        new |= self._mask(choice.sets)
        self._add(new, step.variable, value)
        kept = self._tidied(new, step.opposed, step.idle)
        return new[kept], origin[kept]

    def _tidied(self, keys: BitWords, opposed: Sequence[Pair], idle: Sequence[Pair]) -> npt.NDArray[np.bool_]:
        """Clears idle bits in place; tells which states ask for nothing impossible."""
        for strong, weak in idle:
            keys[:, weak // _WORD] &= ~(_bit(keys, strong) << np.uint64(weak % _WORD))
        kept = np.ones(len(keys), dtype=np.bool_)
        for first, second in opposed:
            kept &= (_bit(keys, first) & _bit(keys, second)) == 0
        for number, each in enumerate(self._sums):
            kept &= keys[:, self._words + number] <= max(0, each.most)
        return kept

    def _add(self, keys: BitWords, variable: int, value: bool) -> None:
        if value:
            for number, weight in enumerate(self._weight):
                keys[:, self._words + number] += np.uint64(weight.get(variable, 0))

    def _mask(self, bits: Sequence[int]) -> BitWords:
        """One row with these bits; nothing in the words of the sums."""
        words = [0] * (self._words + len(self._sums))
        for bit in bits:
            words[bit // _WORD] |= 1 << bit % _WORD
        return np.array(words, dtype=np.uint64)

    def kept(self, states: BitWords) -> npt.NDArray[np.bool_]:
        """(n,) which states after the last step keep the sums."""
        held = np.ones(len(states), dtype=np.bool_)
        for number, each in enumerate(self._sums):
            total = states[:, self._words + number].astype(np.int64)
            held &= (total >= each.least) & (total <= each.most)
        return held


class Hope:
    """How likely each state is to come to an end, roughly: every open clause on its own, every literal a coin.

    A guess for choosing among states; no count rests on it.
    """

    def __init__(self, sweep: Sweep) -> None:
        self._of_bit = np.zeros(_WORD * max(1, -(-sweep.bits // _WORD)))

    def follow(self, step: SweepStep) -> None:
        """Go one step on with the states."""
        for bit, literals in step.begun:
            self._of_bit[bit] = math.log1p(-(2.0**-literals))

    def of(self, states: BitWords) -> FloatArray:
        """(n,) natural logarithm."""
        words = np.ascontiguousarray(states[:, : len(self._of_bit) // _WORD]).astype("<u8")
        hope: FloatArray = np.unpackbits(words.view(np.uint8), axis=1, bitorder="little") @ self._of_bit
        return hope


def _bit(keys: BitWords, bit: int) -> BitWords:
    found: BitWords = (keys[:, bit // _WORD] >> np.uint64(bit % _WORD)) & _ONE
    return found


def drawn(merits: FloatArray, most: int, chance: np.random.Generator) -> tuple[IntArray, FloatArray]:
    """About `most` of more states, drawn by the logarithms of their merits: indices, and the odds of each.

    What is divided by its odds keeps its own value on average.
    """
    merit = np.maximum(np.exp(merits - merits.max()), 1e-200)
    odds = np.minimum(1.0, merit / _level(merit, most))
    certain = odds >= 1.0
    passed = np.floor(np.cumsum(np.where(certain, 0.0, odds)) + chance.random())
    chosen = np.flatnonzero(certain | (np.diff(passed, prepend=0.0) > 0))
    return chosen, odds[chosen]


def _level(merit: FloatArray, most: int) -> float:
    """The merit c with sum of min(1, merit / c) = most: what has less is drawn with odds merit / c."""
    falling = np.sort(merit)[::-1]
    rest = np.cumsum(falling[::-1])[::-1]
    level = rest[:most] / (most - np.arange(most))
    # With the first k certain, c is that of the rest; the right k is the first whose next has less than its c.
    fits = np.flatnonzero(falling[:most] < level)
    return float(level[fits[0]]) if len(fits) else float(level[-1])
