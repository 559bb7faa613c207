"""Varying a chosen design: its cousins, which keep a part of it, and the small steps away from it."""

from explore.asking.kinds import SHARE, Number, Span

# How much of a square changes, as she writes it.
CHANGE = Span(Number(0.001, 0.9, "a share from 0.1% to 90% or a range, such as 10% or 5-25%", SHARE, "%"))


def about(share: tuple[float, float]) -> tuple[float, float]:
    """One share alone is meant about: a fifth less to a fifth more."""
    low, high = share
    return (0.8 * low, min(1.0, 1.2 * high)) if low == high else share
