"""What a square likes in its fields: which fillings, in which order, and how often none."""

from __future__ import annotations

from dataclasses import dataclass

from constraints.fillings import OF_KIND
from constraints.ruleset import Rules
from explore.search.compose.parts import Random

# Usually so many squares have plain ground in their large fields.
PLAIN = 0.15
# In so many squares a print stands on plain ground, whatever lies in other fields.
RESTING = 0.7


@dataclass(frozen=True)
class Liking:
    """What a square likes in its fields. large, small: kinds in order of preference; "" is plain ground."""

    large: tuple[str, ...]
    small: tuple[str, ...]
    spread: int  # pinholes between two figures that stand apart


def draw_liking(rng: Random, rules: Rules, plain: float = PLAIN) -> Liking:
    """Choose which fillings go into large and into small fields; those with a least number come first. plain: the share
    of squares whose large fields are plain ground."""
    kinds = [kind for kind, filling in OF_KIND.items() if filling.name in rules.stitches]
    if not kinds:
        return Liking((), (), 1)
    order = [str(kind) for kind in rng.permutation(kinds)]
    # These and others in turn make the clearest contrast between neighbouring fields.
    prominent = [kind for kind in order if OF_KIND[kind].prominent]
    if prominent and rng.random() < 0.5:
        order = prominent + [kind for kind in order if kind not in prominent]
    small = order[1:] + order[:1]
    asked = [kind for kind in order if rules.least.get(OF_KIND[kind].name)]
    if asked:
        order = asked + [kind for kind in order if kind not in asked]
        small = asked[1:] + asked[:1] + order[len(asked) :]
    large = order if asked or rng.random() < 1.0 - plain else [""]
    return Liking(tuple(large), tuple(small), int(rng.choice((1, 1, 2, 3))))
