"""The brief that a finished design keeps."""

from __future__ import annotations

from constraints.brief import AskedPiece, Brief, BriefValues
from constraints.check.limits import read
from constraints.design import Design
from constraints.forms import Form

# The measures of a piece as where a brief names none.
_MEASURED_ANEW: BriefValues = {
    "half_size": None,
    "width_mm": None,
    "half_height": None,
    "height_mm": None,
    "band": None,
    "columns": None,
    "rows": AskedPiece().rows,
    "repeats": None,
    "both_sides": False,
}


def measured_as(brief: Brief, form: Form) -> Brief:
    """A brief for pieces of the form, the measures and the edge of one."""
    return brief.changed(**{**_MEASURED_ANEW, **form.asked()})


def brief_of(design: Design, base: Brief) -> Brief:
    """The brief of a design: the limits in its own file, all else from the brief of its study."""
    limits, _ = read(design.brief)
    own = {
        name: getattr(limits, name)
        for name in ("pairs", "narrowest", "widest", "narrowest_ground", "margin", "splits", "solid", "match")
        if getattr(limits, name) is not None
    }
    if "stitches" in design.brief and limits.stitches:
        own["stitches"] = tuple(name for name in design.brief["stitches"] if name in limits.stitches)
        own["least"] = dict(limits.least)
    return measured_as(base, design.form).changed(
        **own,
        corners=limits.corners or "",
        pitch_mm=(design.pitch_mm, design.pitch_mm),
        symmetry=design.symmetry,
        worked=design.worked,
        passives=design.passives,
        copies=base.stamp.copies if design.prints else 1,
    )
