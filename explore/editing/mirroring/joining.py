"""A strip laid round a frame, mended where the mirror breaks a rule: the nearest frame that can be worked.

Of its eyes those stay that still have cloth on every side.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from constraints.brief import Brief
from constraints.design import Design
from constraints.encoding import label, set_true, stand
from constraints.fillings import GROUNDS
from constraints.forms import Form
from constraints.lattice import BoolArray, IntArray
from constraints.layout import fields_of
from constraints.mirrors import FrameDraft
from constraints.piece import ROUND
from constraints.places import KIND_NUMBERS
from constraints.ruleset import Rules
from constraints.stitches import NUMBERS
from constraints.variables import Model
from explore.editing.mirroring.changes import asked, counted, define_grounds
from explore.editing.mirroring.nearest import Nearest
from explore.editing.mirroring.where import Count, Where, places_of
from explore.search.attempt import Making, made
from explore.search.context import Context

# The share of a field's pinholes in one ground from which on all of it is.
_MOST = 0.5
# Many drafts are of one form, which differ in where the mirror stands; so many forms are kept.
_KEPT = 4


@dataclass(frozen=True, eq=False)
class Joined:
    """frame: checked, not numbered. changed: (n,) the pinholes worked otherwise than the strip has them. least: how
    many must be, as is proven, where that was worked out. eyes_left_out: how many of the draft lie where
    none can be, as where their block goes over a corner line."""

    frame: Design
    changed: BoolArray
    least: Mapping[Where, int]
    eyes_left_out: int

    def count(self, where: Where) -> Count:
        """Of all four corners or turnovers, or of the whole."""
        return Count(int((self.changed & places_of(self.frame, where)).sum()), self.least.get(where, 0))


def joined(
    draft: FrameDraft, strip: Design, brief: Brief, symmetry: str, effort: float, proven: Where = Where.WHOLE
) -> Joined | None:
    """The frame nearest to a draft that keeps every rule, None if none is found in the effort. proven: where it is
    worked out how many pinholes must be changed. Raises Defect if the second check disagrees."""
    own = _ruled(draft.form, symmetry, brief.rules)
    nearest = Nearest(own, draft, _values(own.model, draft), effort)
    if nearest.values is None:
        return None
    what = f"a frame of strip {strip.number}"
    making = Making(strip.pitch_mm, brief.piece.passives, brief.run.seed, draft.form.name, what, draft.eyes)
    frame = made(own, nearest.values, (), making)
    least = {Where.WHOLE: nearest.least}
    if proven is not Where.WHOLE:
        least[proven] = nearest.least_of(places_of(frame, proven))
    return Joined(frame, counted(frame, draft), least, len({*draft.eyes} - {*frame.eyes}))


@lru_cache(maxsize=_KEPT)
def _ruled(form: Form, symmetry: str, rules: Rules) -> Context:
    return Context(form, ROUND, symmetry, rules, (define_grounds,))


def _values(model: Model, draft: FrameDraft) -> BoolArray:
    """The values that the draft asks for, fields labelled by the figures that lie in them."""
    values = np.zeros(model.formula.size, dtype=np.bool_)
    for name, literals in model.stitch.items():
        set_true(values, literals[draft.stitch == NUMBERS[name]])
    field = fields_of(model.piece, draft.stitch >= 0)
    for name, sites in model.sites.items():
        stand(model, values, field, sites, np.flatnonzero(asked(model, name, draft)))
    for name in GROUNDS:
        if name in model.labels.codes:
            _label_ground(model, values, draft, field, name)
    return values


def _label_ground(model: Model, values: BoolArray, draft: FrameDraft, field: IntArray, name: str) -> None:
    """A field most of which the draft has in a ground is worked so."""
    own = draft.places[:, 0] == KIND_NUMBERS[name]
    for number in np.setdiff1d(field[own[model.piece.holes].any(axis=1)], [-1]).tolist():
        if own[np.unique(model.piece.holes[field == number])].mean() > _MOST:
            label(model, values, name, field == number)
