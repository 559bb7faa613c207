"""The keys of a brief, as data: the one source for reading, messages, help and the README's list."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from constraints.brief import KNOWING, KNOWN, UNKNOWN, Brief
from constraints.corners import CORNERS, HALVES
from constraints.edgings import FOOTSIDE
from constraints.fillings import USUAL as USUAL_FILLINGS
from constraints.forms import FORMS, LARGEST_HALF_SIZE, MOST_REPEATS, USUAL
from constraints.piece import WORKED
from constraints.stitches import CLOTH, HALF
from constraints.symmetry import FRIEZES, SUITS, SYMMETRIES
from explore.asking.kinds import LENGTH, SHARE, KeyKind, Number, Whole
from explore.asking.names import Choice, EdgingName, SideChoice, Splits, Stitches, SymmetryChoice
from explore.asking.several import Span, WholeSpan
from explore.asking.stamps import SpotNames, StampReferences, Turns
from explore.asking.tastes import TasteWords

SYMMETRY_NAMES = (*SYMMETRIES, *FRIEZES)

# The stamp of a brief that names none.
BUILT_IN = "tulip"

# The keys that do not go with every form.
_OF_SOME_FORMS = {name for form in FORMS.values() for name in form.keys}


@dataclass(frozen=True)
class Key:
    """One key of a brief.

    default: as one would write it; "" if there is none. field: the field of a Brief that takes the value,
    if it is not called like the key. instead: what holds where there is no default, or where it does not hold, in
    words.
    """

    name: str
    kind: KeyKind
    default: str
    meaning: str
    field: str = ""
    instead: str = ""

    @property
    def flag(self) -> str:
        """How the command line calls it. The stamp has no flag: it is the first word of the command."""
        return "STAMP" if self.name == "stamp" else "--" + self.name.replace("_", "-")

    @property
    def help(self) -> str:
        """Meaning, what is allowed and the default, in one line."""
        return f"{self.meaning} Allowed: {self.kind.allowed}. Default: {self.usual}."

    @property
    def usual(self) -> str:
        """What holds where it is not given, in words."""
        return "; ".join(each for each in (self.default, self.instead) if each)

    def goes_with(self, form: str) -> bool:
        """Whether a form has it."""
        return self.name not in _OF_SOME_FORMS or self.name in FORMS[form].keys

    @property
    def place(self) -> str:
        """The field of a Brief that holds the value."""
        return self.field or self.name

    def value_in(self, brief: Brief) -> Any:
        """What a brief says of it: of stitches, each with its least number."""
        if self.name == "stitches":
            return {name: brief.rules.least.get(name, 0) for name in brief.rules.stitches}
        if self.name == "stamp":
            return tuple(each.name for each in brief.stamps if each.name)
        if self.name == "place":
            return tuple((each.name, each.spot) for each in brief.stamps if each.spot != SUITS)
        if self.name == "splits" and brief.stamp.own_splits:
            return None
        return brief.value(self.place)


# The most pairs, the most rows of a repeat, the finest and the coarsest pitch, mm.
MOST_PAIRS, MOST_ROWS, PITCHES_MM = 2000, 400, (0.5, 100.0)

_FORM = "What is made: a square, a strip that repeats itself, a frame round cloth, or a rectangle worked across."
_width = Number(1.0, 51200.0, "a length from 1 to 51200 mm, such as 140mm, 14cm or 5.5in", LENGTH, "mm")
_pitch = Number(*PITCHES_MM, "a length from 0.5 to 100 mm or a range, such as 5mm or 4-6mm", LENGTH, "mm")
_solid = Number(0.0, 1.0, "a share from 0 to 1 or a range, such as 0.2-0.5 or 20-50%", SHARE)
_match = Number(0.0, 1.0, "a share from 0 to 1, such as 0.65 or 65%", SHARE)
_apart = Number(0.001, 0.9, "a share from 0.001 to 0.9, such as 0.1 or 10%", SHARE)
_stamp_size = Number(1.0, float(LARGEST_HALF_SIZE), "1 to 512 pitches or a range, such as 12 or 10-14")
_effort = Number(0.01, 1000.0, "a number from 0.01 to 1000, such as 2")

KEYS = (
    Key(
        "stamp",
        StampReferences(),
        BUILT_IN,
        "The stamp: a picture of its print (PNG, JPEG, TIFF, BMP, GIF, WEBP or SVG), or a built-in stamp.",
    ),
    Key("form", Choice(tuple(FORMS)), USUAL, _FORM),
    Key("pairs", Whole(2, MOST_PAIRS), "30", "The most pairs you have."),
    Key(
        "half_size",
        WholeSpan(1, LARGEST_HALF_SIZE),
        "",
        "Half-size: the width counted in pitches. Give this or a width, not both.",
        instead="the largest that the pairs allow",
    ),
    Key(
        "half_height",
        Whole(1, LARGEST_HALF_SIZE),
        "",
        "Of a frame or rectangle: its height counted in pitches, as the half-size is its width.",
        instead="as the half-size; of a rectangle half as much again",
    ),
    Key(
        "band",
        Whole(1, LARGEST_HALF_SIZE),
        "",
        "Of a frame: its width from the outer edge to the opening, in half pitches.",
        instead="half the half-size",
    ),
    Key(
        "width",
        _width,
        "",
        "Finished width between the outer pins; a plain number is mm.",
        field="width_mm",
        instead="what the half-size and the pitch give",
    ),
    Key(
        "height",
        _width,
        "",
        "Of a frame or rectangle: its finished height.",
        field="height_mm",
        instead="what the half-height and the pitch give",
    ),
    Key("pitch", Span(_pitch), "5mm", "Distance of neighbouring pinholes of one row.", field="pitch_mm"),
    Key(
        "columns",
        Whole(2, 2 * LARGEST_HALF_SIZE),
        "",
        "Of a strip: its columns of pinholes, from edge to edge.",
        instead="as many as the pairs allow",
    ),
    Key(
        "repeat",
        WholeSpan(2, MOST_ROWS),
        "8-40",
        "Of a strip: rows of pinholes of one repeat, two to a pitch.",
        field="rows",
    ),
    Key(
        "repeats",
        Whole(2, MOST_REPEATS),
        "",
        "Of a strip: how many repeats are made.",
        instead="as many as make it about four times as long as it is wide",
    ),
    Key(
        "symmetry",
        SymmetryChoice(SYMMETRY_NAMES),
        SUITS,
        "Which turns and reflections leave it the same.",
        instead="without a stamp of a square full, of a frame or rectangle the most that it can have",
    ),
    Key(
        "worked",
        Choice((*WORKED, SUITS)),
        SUITS,
        "Round the centre in four quarters, or across from edge to edge.",
        instead="with an edging or without a stamp round, of other pieces than squares as they are worked",
    ),
    Key("passives", Whole(0, 100), "1", "Passive pairs that run along each edge."),
    Key(
        "edging",
        EdgingName(),
        FOOTSIDE,
        "The outer edge; of a strip the right one, of a rectangle its two sides.",
        field="headside",
    ),
    Key(
        "sides",
        SideChoice(),
        "one",
        "Of a strip: along which sides the edging goes.",
        field="both_sides",
    ),
    Key(
        "stitches",
        Stitches(),
        ",".join((CLOTH, HALF, *USUAL_FILLINGS)),
        "Stitches of blocks and fillings of open fields.",
    ),
    Key("narrowest", Whole(1, 100), "2", "Least width of a block, in pinholes."),
    Key("widest", Whole(1, 2 * LARGEST_HALF_SIZE), "16", "Greatest width of a block, in pinholes."),
    Key("narrowest_ground", Whole(1, 100), "2", "Least width of the ground between blocks, in pinholes."),
    Key("margin", Whole(1, 100), "2", "Least distance of a block from the edge, in half pitches."),
    Key(
        "splits",
        Splits(100000),
        SUITS,
        f"The most places where a block splits or two arms merge; {SUITS}: where they pay, in the print alone.",
    ),
    Key("corners", Choice(CORNERS), HALVES, "How blocks cross corner lines: in halves, as trails, not at all."),
    Key("solid", Span(_solid), "0.2-0.5", "Share of the pinholes that lie in blocks."),
    Key(
        "match",
        _match,
        "",
        "How well each square must show the stamp; 1 is pinhole for pinhole.",
        instead="0.65 worked round, 0.60 worked across",
    ),
    Key(
        "known",
        Choice(KNOWING),
        "",
        "How surely the print must be known in each square.",
        instead=f"{KNOWN}; {UNKNOWN} where you name a size of the print",
    ),
    Key(
        "stamp_size",
        Span(_stamp_size),
        "",
        "Longer side of the turned print.",
        instead="what suits the stamp and the square",
    ),
    Key("turns", Turns(), "", "The turns that the print may take.", instead="those that suit the grid"),
    Key(
        "place",
        SpotNames(),
        "",
        "Where the prints lie.",
        field="spot",
        instead="where they suit",
    ),
    Key("copies", Whole(1, 100), "1", "Prints in the part of the square that the symmetry repeats."),
    Key("taste", TasteWords(), "", "What you like: each is the best of four by it.", instead="as they come"),
    Key("apart", _apart, "10%", "Least share of pinholes in which any two squares differ."),
    Key("count", Whole(1, 1000), "24", "How many squares to find."),
    Key("seed", Whole(0, 2**31 - 1), "1", "Another seed gives other squares, the same seed the same ones."),
    Key("effort", _effort, "1", "How long to try: 2 is twice as long as usual."),
)

NAMED = {key.name: key for key in KEYS}
