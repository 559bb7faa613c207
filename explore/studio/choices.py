"""What the page of a print offers to choose from, in words: forms, symmetries, edgings, stitches."""

from __future__ import annotations

from typing import Any

from constraints import edgings, fillings
from constraints.catalogue import CATALOGUE
from constraints.forms import FORMS, Frame, Rectangle, Square, Strip
from constraints.lattice import Wrap
from constraints.stitches import STITCHES
from constraints.symmetry import CENTRED, OF_STRIPS, SYMMETRIES, Setting
from explore.asking import NAMED

# Edgings that are shown first: of each kind one or two that go round most pieces.
FIRST_EDGINGS = (
    *("cloth fan 3", "cloth fan 5", "half fan 3", "half scallop 3 with 6 pairs", "half scallop 5 with 6 pairs"),
    *("ground scallop 4 with 3 pairs", "ground scallop 6 with 4 pairs"),
)
OTHER_EDGINGS = tuple(each.called for each in CATALOGUE if each.headside and each.called not in FIRST_EDGINGS)
assert len(FIRST_EDGINGS) + len(OTHER_EDGINGS) == sum(each.headside is not None for each in CATALOGUE)
_FORMS = {
    Square.name: ("a square", "Find squares"),
    Strip.name: ("a strip, by the length", "Find strips"),
    Frame.name: ("a frame, round cloth", "Find frames"),
    Rectangle.name: ("a rectangle, such as a bookmark", "Find rectangles"),
}
assert set(_FORMS) == set(FORMS)
_SYMMETRIES = {
    "full": "mirrored all round",
    "quarter-turn": "turned by quarters",
    "upright-mirrors": "mirrored both ways",
    "diagonal-mirrors": "mirrored in both diagonals",
    "half-turn": "turned by halves",
    "upright-mirror": "mirrored left and right",
    "diagonal-mirror": "mirrored in one diagonal",
    "none": "free",
}
_OF_STRIPS = {
    "none": "one after another",
    "upright-mirror": "mirrored left and right",
    "level-mirror": "mirrored up and down",
    "upright-mirrors": "mirrored both ways",
    "half-turn": "turned by halves",
    "glide": "left and right by turns",
    "glide-mirrors": "by turns, and mirrored",
}
assert set(_SYMMETRIES) == set(SYMMETRIES)
assert set(_OF_STRIPS) == set(OF_STRIPS)
# Every edge that is shown as a picture.
EDGES = (edgings.FOOTSIDE, *FIRST_EDGINGS, *OTHER_EDGINGS)


def choices() -> dict[str, Any]:
    """All of it, by the names that the page knows it by."""
    return {
        "forms": _FORMS,
        "symmetries": [
            *(_symmetry(each, words, Square.name, CENTRED) for each, words in _SYMMETRIES.items()),
            *(_symmetry(each, words, Strip.name, Setting(wrap=Wrap(2))) for each, words in _OF_STRIPS.items()),
        ],
        "edgings": FIRST_EDGINGS,
        "other_edgings": OTHER_EDGINGS,
        "stitches": [(name, name.replace("-", " "), name in STITCHES) for name in fillings.ALLOWED],
        "usual": NAMED["stitches"].default.split(","),
    }


def _symmetry(name: str, words: str, form: str, setting: Setting) -> dict[str, Any]:
    """A symmetry as the page shows it. setting: of a strip a repeat of two. copies: each a matrix and the shift down
    after it, in repeats."""
    turns, shifts = (each.tolist() for each in setting.affine(name))
    copies = [[turn, down / 2] for turn, (_, down) in zip(turns, shifts, strict=True)]
    return {"name": name, "words": words, "form": form, "copies": copies}
