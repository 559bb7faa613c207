"""A varied choice among the places that a print may take."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from explore.search.laying.sectors import Place, TurnedSector

# Least size of a print as a share of the largest that fits.
SMALLEST = 0.8
# Sectors are used whose largest print is at least this share of the largest of all.
_ROOMY = 0.75


def roundest(every: Sequence[Place], count: int) -> list[Place]:
    """The largest places nearest the centre: a band round the centre itself needs no split."""
    return sorted(every, key=lambda place: (_outwards(place)[0] - place.size, place.turn))[:count]


def quietest(turned: TurnedSector, size: float, reach: float) -> Place:
    """The place nearest the centre at which a print that fits can lie."""
    return min((turned.place(size, centre) for centre in turned.centres(size, reach)), key=_outwards)


def draw_places(
    among: Sequence[TurnedSector],
    sizes: Sequence[float],
    reach: float,
    rng: np.random.Generator,
    count: int,
    smallest: float = SMALLEST,
    copies: int = 1,
) -> list[Place]:
    """A varied choice: sectors in turn, larger sizes and quieter positions more often.

    sizes: rising. smallest: least size as a share of the largest that fits; small prints lose their
    character. Several copies share the room of one.
    """
    largest = {id(turned): turned.largest(sizes, reach) for turned in among}
    by_sector: dict[str, list[TurnedSector]] = {}
    for turned in among:
        if largest[id(turned)]:
            by_sector.setdefault(turned.sector.name, []).append(turned)
    top = {name: max(largest[id(turned)] for turned in group) for name, group in by_sector.items()}
    names = [name for name in by_sector if top[name] >= _ROOMY * max(top.values())]
    chosen: list[Place] = []
    for number in range(count * 3 if names else 0):
        if len(chosen) == count:
            break
        name = names[number % len(names)]
        most = top[name] * (1.0 if copies == 1 or smallest == 0.0 else 0.8 / copies**0.5)
        fitting = [size for size in sizes if smallest * most <= size <= most]
        if not fitting:
            continue
        size = float(rng.choice(fitting))
        group = [turned for turned in by_sector[name] if largest[id(turned)] >= size]
        turned = group[int(rng.integers(len(group)))]
        spots = sorted((turned.place(size, centre) for centre in turned.centres(size, reach)), key=_outwards)
        # The middle of what fits, or as near the centre of the square as can be, leaves room for a border.
        quiet = (0, 0, 0, len(spots) // 3) if turned.sector.opening == 180 else (0, 0, len(spots) // 3, len(spots) // 2)
        at = int(rng.choice(quiet)) if copies == 1 else 3 * len(spots) // 4
        if spots and spots[at] not in chosen:
            chosen.append(spots[at])
    return chosen


def _outwards(place: Place) -> tuple[float, float, float]:
    x, y = place.centre
    return (max(abs(x), abs(y)) + min(abs(x), abs(y)), y, x)
