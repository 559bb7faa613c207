"""Varying a chosen design: its cousins, which keep a part of it, and the small steps away from it.

`asked` and `kept` say what of the chosen one stays, `families` and `printed` with its images and its print; `setting`
lays it out as values. `cousins` come from a `studio`, whose jobs draw other blocks (`redrawing`, `reshaping`,
`strewing`) and fillings (`refill`, `patterns`); `repair` asks the solver where none holds, `worked` measures what
changed. `steps` lists small steps, `naming` says them, `besides` what comes with them, `telling` tells them apart.
`making` makes either, with its `sheets`; `door`.
"""

from explore.asking.kinds import SHARE, Number
from explore.asking.several import Span

# How much of a piece changes, as she writes it, and what is usual.
CHANGE = Span(Number(0.001, 0.9, "a share from 0.1% to 90% or a range, such as 10% or 5-25%", SHARE, "%"))
USUAL_CHANGE = (0.05, 0.25)


def about(share: tuple[float, float]) -> tuple[float, float]:
    """One share alone is meant about: a fifth less to a fifth more."""
    low, high = share
    return (0.8 * low, min(1.0, 1.2 * high)) if low == high else share
