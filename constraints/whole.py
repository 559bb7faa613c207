"""Whether a class of a room of one thing a file answers all that the room asks."""

from __future__ import annotations

from typing import TypeVar

T = TypeVar("T")


def whole(each: type[T], stated: type, noun: str) -> type[T]:
    """The class itself. TypeError if it lacks a part: what its room states, as abstract or without a value."""
    lacking = sorted(getattr(each, "__abstractmethods__", ()))
    lacking += [name for name, kind in stated.__annotations__.items() if "ClassVar" in kind and not hasattr(each, name)]
    if lacking:
        raise TypeError(f"the {noun} {each.__name__} lacks {', '.join(lacking)}")
    return each
