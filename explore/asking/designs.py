"""The brief that a finished design keeps."""

from __future__ import annotations

from constraints.brief import Brief
from constraints.check.limits import read
from constraints.design import Design


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
    return base.changed(
        **own,
        corners=limits.corners or "",
        half_size=(design.half_size, design.half_size),
        width_mm=None,
        pitch_mm=(design.pitch_mm, design.pitch_mm),
        symmetry=design.symmetry,
        worked=design.worked,
        passives=design.passives,
        copies=1 if design.stamp is None else base.stamp.copies,
    )
