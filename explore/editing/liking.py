"""What her picks say of her taste: a logistic model of what she kept on the traits of what she saw."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from constraints.design import Design
from constraints.lattice import BoolArray, FloatArray
from gallery.seeing.traits import TRAITS, measured

# How strong a weight is before anything is seen: the standard deviation of a normal prior.
_PRIOR = 0.5
# Her picks say something if they fit their traits better than all but a few in a hundred shuffles of them.
_SHUFFLES, _BY_CHANCE = 49, 2
# A weight so many times its doubt is told, and told as clear.
_TOLD, _CLEAR = 1.0, 2.0
# A weight less sure than this is left out of the taste; the greatest of it is so much.
_LEAST, _GREATEST = 0.5, 2.0


@dataclass(frozen=True, eq=False)
class Learnt:
    """weights, doubts: (traits,) of each trait its weight and the standard deviation that it may be off. certain:
    whether they say anything that chance would not. seen, kept: how many pieces it is learnt from, and how many of them
    she kept."""

    weights: FloatArray
    doubts: FloatArray
    certain: bool
    seen: int = 0
    kept: int = 0

    @property
    def taste(self) -> tuple[tuple[str, float], ...]:
        """The taste that a brief takes: weights of traits, none where nothing is learnt."""
        if not self.certain:
            return ()
        scaled = self.weights * _GREATEST / np.abs(self.weights).max()
        every = zip(TRAITS, scaled.tolist(), self.sure.tolist(), strict=True)
        return tuple((name, round(weight, 1)) for name, weight, sure in every if sure > _LEAST)

    @property
    def sure(self) -> FloatArray:
        """(traits,) how many times its doubt each weight is."""
        sure: FloatArray = np.abs(self.weights) / self.doubts
        return sure

    def told(self, clear: bool) -> list[str]:
        """What she likes in words, the surest first. clear: what is beyond doubt, or else the rest."""
        sure = self.sure if self.certain else np.zeros(len(self.weights))
        every = list(TRAITS.values())
        return [
            every[number].more if self.weights[number] > 0 else every[number].less
            for number in np.argsort(-sure, kind="stable").tolist()
            if sure[number] >= _TOLD and (sure[number] >= _CLEAR) == clear
        ]

    def lines(self) -> list[str]:
        """What is to be said of it."""
        said = [f"{self.kept} of {self.seen} squares picked"]
        if not self.certain:
            return [*said, "they say nothing of your taste yet: other picks would fit as well by chance"]
        clear, perhaps = ", ".join(self.told(clear=True)), ", ".join(self.told(clear=False))
        return said + [f"you like {clear}"] * bool(clear) + [f"perhaps you like {perhaps}"] * bool(perhaps)


def learn(traits: FloatArray, kept: BoolArray) -> Learnt:
    """The taste behind which of the pieces with these traits, (n, traits), were kept, (n,).

    The prior is normal; doubts are those of the normal distribution that fits the posterior at its top (Laplace's
    approximation: MacKay, Information Theory, Inference, and Learning Algorithms, 2003, chapter 27, from memory).
    """
    counted = (len(kept), int(kept.sum()))
    none = Learnt(np.zeros(traits.shape[1]), np.full(traits.shape[1], _PRIOR), False, *counted)
    if not kept.any() or kept.all():
        return none
    weights, doubts, fit = _fitted(traits, kept)
    rng = np.random.default_rng(len(kept))
    better = sum(_fitted(traits, rng.permutation(kept))[2] >= fit for _ in range(_SHUFFLES))
    learnt = Learnt(weights, doubts, better <= _BY_CHANCE, *counted)
    return learnt if (learnt.sure >= _TOLD).any() else none


def certain_with(traits: FloatArray, kept: BoolArray, more: int) -> bool:
    """Whether a taste would be learnt if so many more of these pieces were kept, those that are most like the ones that
    were. traits, kept: as `learn` takes them, some kept and more than that many not."""
    weights, _, _ = _fitted(traits, kept)
    others = np.flatnonzero(~kept)
    likest = others[np.argsort(-(traits[others] @ weights), kind="stable")]
    then = kept.copy()
    then[likest[:more]] = True
    return learn(traits, then).certain


def of_picks(studies: Sequence[tuple[Sequence[Design], frozenset[int]]]) -> Learnt:
    """The taste behind picks. studies: the designs of each, and the numbers of those that were picked."""
    every = [(measured(design), design.number in picked) for designs, picked in studies for design in designs]
    traits = np.array([each for each, _ in every]).reshape(len(every), len(TRAITS))
    return learn(traits, np.array([picked for _, picked in every], dtype=np.bool_))


def _fitted(traits: FloatArray, kept: BoolArray) -> tuple[FloatArray, FloatArray, float]:
    """Weights and their doubts, (traits,) each, and the logarithm of the likelihood."""
    from sklearn.linear_model import LogisticRegression

    model = LogisticRegression(C=_PRIOR**2, solver="newton-cholesky", tol=1e-8).fit(traits, kept)
    share = model.predict_proba(traits)[:, 1]
    ones = np.column_stack([traits, np.ones(len(traits))])
    precision = (ones * (share * (1 - share))[:, None]).T @ ones
    precision[np.arange(traits.shape[1]), np.arange(traits.shape[1])] += _PRIOR**-2
    doubts = np.sqrt(np.diag(np.linalg.inv(precision)))[:-1]
    likelihood = float(np.log(np.where(kept, share, 1 - share)).sum())
    return model.coef_[0], doubts, likelihood
