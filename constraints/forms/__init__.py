"""What can be made: every form by its name.

A form is added in a file of its own here and in `FORMS`; one that lacks a part is refused at import.
"""

from __future__ import annotations

from constraints.forms.form import (
    AS_EDGING,
    AS_FRAME,
    AS_MAT,
    AS_STRIP,
    CENTRE,
    CORNER,
    EDGE,
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
from constraints.whole import whole

__all__ = [
    "AS_EDGING",
    "AS_FRAME",
    "AS_MAT",
    "AS_STRIP",
    "CENTRE",
    "CORNER",
    "EDGE",
    "FORMS",
    "HALF",
    "LARGEST_HALF_SIZE",
    "MOST_REPEATS",
    "OBLONGS",
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


# In the order in which a brief offers them.
_EVERY: tuple[type[Form], ...] = (Square, Strip, Frame, Rectangle)
FORMS = {form.name: whole(form, Form, "form") for form in _EVERY}
# Those that are searched for by their half-sides.
OBLONGS = {form.name: form for form in _EVERY if issubclass(form, Oblong)}
# What is meant where nothing is said.
USUAL = Square.name
