"""What can be made: every form by its name.

A form is added in a file of its own here and in `FORMS`; one that lacks a part is refused at import.
"""

from __future__ import annotations

from constraints.forms.form import (
    AS_EDGING,
    AS_FRAME,
    AS_MAT,
    AS_STRIP,
    HALF,
    LARGEST_HALF_SIZE,
    MOST_REPEATS,
    PURPOSES,
    QUARTER,
    WHOLE,
    Form,
)
from constraints.forms.frame import Frame
from constraints.forms.oblong import Oblong
from constraints.forms.rectangle import Rectangle
from constraints.forms.square import Square
from constraints.forms.strip import Strip

__all__ = [
    "AS_EDGING",
    "AS_FRAME",
    "AS_MAT",
    "AS_STRIP",
    "FORMS",
    "HALF",
    "LARGEST_HALF_SIZE",
    "MOST_REPEATS",
    "PURPOSES",
    "QUARTER",
    "USUAL",
    "WHOLE",
    "Form",
    "Frame",
    "Oblong",
    "Rectangle",
    "Square",
    "Strip",
]


def complete(form: type[Form]) -> type[Form]:
    """The form itself. TypeError if it lacks a part."""
    lacking = [*sorted(form.__abstractmethods__), *(each for each in Form.__annotations__ if not hasattr(form, each))]
    if lacking:
        raise TypeError(f"the form {form.__name__} lacks {', '.join(lacking)}")
    return form


# As a brief offers them.
FORMS: dict[str, type[Form]] = {form.name: complete(form) for form in (Square, Strip, Frame, Rectangle)}
# What is meant where nothing is said.
USUAL = Square.name
