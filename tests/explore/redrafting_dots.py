"""The dots of a picture, found once for whoever reads it again: that takes most of the time, and what is found depends
on nothing but the picture."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable

import pytest

from explore.editing.redrafting import redraft
from explore.editing.redrafting.dots import FoundDots
from explore.editing.redrafting.marks import View

# Of so many pictures, the latest ones.
_KEPT = 4
_found: OrderedDict[bytes, FoundDots] = OrderedDict()


def find_dots_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """For one test."""
    monkeypatch.setattr(redraft, "find_dots", _once(redraft.find_dots))


def _once(find: Callable[[View], FoundDots]) -> Callable[[View], FoundDots]:
    def dots_of(seen: View) -> FoundDots:
        key = repr((seen.shade.shape, seen.scale)).encode() + seen.shade.tobytes()
        if key not in _found:
            _found[key] = find(seen)
            if len(_found) > _KEPT:
                _found.popitem(last=False)
        return _found[key]

    return dots_of
