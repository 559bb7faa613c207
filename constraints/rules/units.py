"""Units: the figures of fillings stand in fields of their kind, and a pinhole belongs to at most one of them.

Common practice, no source.
"""

from __future__ import annotations

import numpy as np

from constraints.variables import Model, Sites

NAME = "one unit per pinhole"


def units(model: Model) -> None:
    """A unit lies in open holes whose field is of its kind; no pinhole is in two units."""
    for sites in model.sites.values():
        if len(sites.pinholes):
            _in_its_field(model, sites)
    _one_each(model)


def _in_its_field(model: Model, sites: Sites) -> None:
    # The holes in the corners of a unit touch all its pinholes.
    last = sites.unit.size - 2
    holes = sites.holes[:, sorted({0, last, last * (last + 1), last * (last + 2)})]
    # One label is enough: it spreads over the open holes, and a labelled hole is open.
    model.formula.implies("one filling per field", sites.chosen, model.labels.literals(sites.unit.name, holes[:, 0]))
    model.formula.implies("one filling per field", sites.chosen, model.open_hole[holes[:, 1:]])


def _one_each(model: Model) -> None:
    owner = np.concatenate([sites.pinholes.reshape(-1) for sites in model.sites.values()] or [np.zeros(0, int)])
    literal = np.concatenate(
        [np.repeat(sites.chosen, sites.unit.size**2) for sites in model.sites.values()] or [np.zeros(0, int)]
    )
    model.formula.one_each(NAME, owner, literal)
