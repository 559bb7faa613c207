"""What of a frame is worked otherwise than the strip has it: literals while it is sought, counted once it is made."""

from __future__ import annotations

import numpy as np

from constraints.design import Design
from constraints.fillings import GROUNDS
from constraints.formula import FALSE, TRUE
from constraints.lattice import BoolArray, Grid, IntArray
from constraints.layout import lay
from constraints.mirrors import FrameDraft
from constraints.places import KIND_NUMBERS, PLAIN, differ, map_without_headside
from constraints.rules.grounds import ground_pinholes
from constraints.variables import Model, Sites

NAME = "changes"
_PLAIN_GROUND = "plain ground"


def counted(frame: Design, draft: FrameDraft) -> BoolArray:
    """(n,) the pinholes of a finished frame that are worked otherwise than the draft has them. The only count that is
    told; what the fans of a headside take is left out, since they turn a corner in their own way."""
    layout = lay(frame)
    return differ(map_without_headside(layout), draft.places) & ~layout.piece.fan


def define_grounds(model: Model) -> None:
    """A further rule, which forbids nothing: in the model's `defined`, (n,) each, whether a pinhole is worked in each
    ground, by its name, or in plain ground. Of what is drafted it knows nothing, so that all drafts share the model."""
    grounds = {name: _in_ground(model, name) for name in GROUNDS if name in model.labels.codes}
    model.defined |= {**grounds, _PLAIN_GROUND: _plain(model, list(grounds.values()))}


def changes(model: Model, draft: FrameDraft) -> tuple[IntArray, IntArray]:
    """Literals of a model with the rule `define_grounds`: (n,) each true if a pinhole is worked otherwise than the
    draft has it; and some of which each is true if a pinhole has a stitch, or the piece a figure, that the draft does
    not have there."""
    return _changed(model, draft), _added(model, draft)


def _changed(model: Model, draft: FrameDraft) -> IntArray:
    what = draft.places[:, 0]
    kept = np.full(len(what), FALSE)
    for name, literals in model.stitch.items():
        kept = np.where(what == KIND_NUMBERS[name], literals, kept)
    for name, sites in model.sites.items():
        own = what == KIND_NUMBERS[name]
        kept[own] = _at(sites, (model.piece.pinholes + draft.places[:, 1:])[own])
    for name, literals in model.defined.items():
        kept = np.where(what == (PLAIN if name == _PLAIN_GROUND else KIND_NUMBERS[name]), literals, kept)
    kept[model.piece.fan] = TRUE
    return ~kept


def _added(model: Model, draft: FrameDraft) -> IntArray:
    what, inside = draft.places[:, 0], ~model.piece.fan
    stitches = [own[inside & (what != KIND_NUMBERS[name])] for name, own in model.stitch.items()]
    figures = [sites.chosen[~asked(model, name, draft)] for name, sites in model.sites.items()]
    return np.concatenate([*stitches, *figures])


def asked(model: Model, name: str, draft: FrameDraft) -> BoolArray:
    """(s,) the sites of one unit on which the draft has it whole."""
    sites = model.sites[name]
    own = draft.places[sites.pinholes]
    centre = model.piece.pinholes[sites.pinholes] + own[:, :, 1:]
    whole = (own[:, :, 0] == KIND_NUMBERS[name]) & (centre == sites.centres[:, None]).all(axis=2)
    found: BoolArray = whole.all(axis=1)
    return found


def _at(sites: Sites, centres: IntArray) -> IntArray:
    """For each centre the literal of the unit there; FALSE where none can stand."""
    literals: IntArray = np.append(sites.chosen, FALSE)[Grid.of(sites.centres).at(centres)]
    return literals


def _in_ground(model: Model, name: str) -> IntArray:
    """(n,) literals: worked in a ground, and in no unit of a field beside it."""
    units = [~model.covering(sites.pinholes, sites.chosen) for sites in model.sites.values()]
    return model.formula.all_of(NAME, np.concatenate([ground_pinholes(model, name)[:, None], *units], axis=1))


def _plain(model: Model, grounds: list[IntArray]) -> IntArray:
    """(n,) literals: in no block, no unit and no ground of its own."""
    units = [model.covering(sites.pinholes, sites.chosen) for sites in model.sites.values()]
    rows = np.concatenate([np.stack([model.block, *grounds], axis=1), *units], axis=1)
    return model.formula.all_of(NAME, ~rows)
