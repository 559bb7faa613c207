"""A strip laid round a frame, mended where the mirror breaks a rule: the nearest frame that can be worked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from constraints import model
from constraints.brief import Brief, limits
from constraints.check import check
from constraints.forms import pairs_needed
from constraints.lattice import BoolArray, Grid, IntArray
from constraints.layout import lay
from constraints.mirrors import Draft, Figure
from constraints.piece import ROUND
from constraints.rules.double_ground import double_pinholes
from constraints.scallops import without_own
from constraints.solver import Solver, Status
from constraints.square import Square
from constraints.stitches import DOUBLE, FILLINGS, STITCHES, UNITS
from constraints.variables import Lace
from explore.compose.fillings import fields
from explore.finish import finish
from explore.job import Fault
from explore.varying.inverse import label

_NAMES = list(STITCHES)
# The share of a field's pinholes in double ground from which on all of it is.
_MOST = 0.5
_FILLINGS = {filling.words: name for name, filling in FILLINGS.items()}


@dataclass(frozen=True, eq=False)
class Joined:
    """frame: checked, not numbered. changed: (n,) the pinholes worked otherwise than the strip has it. fewest: whether
    it is proven that no frame has fewer; else the effort ended first."""

    frame: Square
    changed: BoolArray
    fewest: bool

    def at_corners(self) -> int:
        """How many of the changed pinholes lie nearer to a corner than to a turnover, in all four corners."""
        return int((self.changed & _near_corner(self.frame)).sum())

    def at_turnovers(self) -> int:
        """How many lie nearer to a turnover."""
        return int((self.changed & ~_near_corner(self.frame)).sum())


def _near_corner(frame: Square) -> BoolArray:
    pinholes = frame.piece().pinholes
    _, _, width, height = frame.form.box
    from_corner = np.array([width, height]) - np.abs(pinholes)
    near: BoolArray = from_corner.max(axis=1) < np.abs(pinholes).min(axis=1)
    return near


def joined(draft: Draft, strip: Square, brief: Brief, symmetry: str, effort: float) -> Joined | None:
    """The frame nearest to a draft that keeps every rule, None if none is found in the effort."""
    piece = draft.form.piece(ROUND, symmetry)
    lace = model.lace(piece, brief)
    objective = _objective(lace, draft)
    values = _values(lace, draft)
    fewest = True
    if lace.formula.broken(values):
        answer = Solver(lace.formula).maximise(*objective, values, effort)
        if answer.values is None:
            return None
        values, fewest = answer.values, answer.status is Status.BEST
    frame = finish(
        lace,
        values,
        pitch_mm=strip.pitch_mm,
        pairs=pairs_needed(draft.form, ROUND, brief.passives),
        stamp=None,
        brief=limits(brief),
        composition=draft.form.name,
        form=draft.form,
    )
    findings = check(frame)
    if findings:
        raise Fault(f"a frame of strip {strip.number}: {findings[0]}")
    return Joined(frame, _changed(frame, draft), fewest)


def _values(lace: Lace, draft: Draft) -> BoolArray:
    """The values that the draft asks for, fields labelled by the figures that lie in them."""
    values = np.zeros(lace.formula.size, dtype=np.bool_)
    for number, name in enumerate(_NAMES):
        if name in lace.stitch:
            literals = lace.stitch[name][draft.stitch == number]
            values[literals[literals > 0]] = True
    field = fields(lace, draft.stitch >= 0)
    for name, sites in lace.sites.items():
        own = _sites(lace, name, draft.figures)
        values[sites.chosen[own]] = True
        inside = np.isin(field, np.setdiff1d(field[sites.holes[own]], [-1]))
        if inside.any():
            label(lace, values, name, inside)
        if sites.unit.aligned and len(own):
            for number in np.setdiff1d(field[sites.holes[own, 0]], [-1]).tolist():
                first = sites.holes[own][field[sites.holes[own, 0]] == number][0, 0]
                x, y = lace.piece.hole_centres[first].tolist()
                holes = np.flatnonzero(field == number)
                values[lace.labels.even_u[holes]] = (x + y) // 2 % 2 == 0
                values[lace.labels.even_v[holes]] = (y - x) // 2 % 2 == 0
    _label_double(lace, values, draft, field)
    return lace.formula.complete(values)


def _label_double(lace: Lace, values: BoolArray, draft: Draft, field: IntArray) -> None:
    """A field most of which the draft has in double ground is worked so."""
    if DOUBLE not in lace.labels.codes:
        return
    double = _double(lace, draft)
    for number in np.setdiff1d(field[double[lace.piece.holes].any(axis=1)], [-1]).tolist():
        if double[np.unique(lace.piece.holes[field == number])].mean() > _MOST:
            label(lace, values, DOUBLE, field == number)


def _double(lace: Lace, draft: Draft) -> BoolArray:
    """(n,) the pinholes that the draft has in double ground."""
    words = FILLINGS[DOUBLE].words
    asked = np.array([each.centre for each in draft.figures if each.filling == words]).reshape(-1, 2)
    found = np.zeros(len(lace.piece) + 1, dtype=np.bool_)
    found[Grid.of(lace.piece.pinholes).at(asked.astype(np.int64))] = True
    return found[:-1]


def _sites(lace: Lace, name: str, figures: Sequence[Figure]) -> IntArray:
    """The sites of one unit that figures of a draft name; those that lie on no site are cut off."""
    unit = UNITS[name]
    sites = lace.sites[name]
    index = {(x, y): number for number, (x, y) in enumerate(sites.centres.tolist())}
    wanted = [
        index[each.centre]
        for each in figures
        if _FILLINGS[each.filling] == unit.kind and each.legs == unit.legs and each.centre in index
    ]
    return np.array(sorted(set(wanted)), dtype=np.int64)


def _objective(lace: Lace, draft: Draft) -> tuple[IntArray, IntArray]:
    """Literals and weights: the more of the draft is kept, the better."""
    literals, weights = [], []
    for name, own in lace.stitch.items():
        wanted = draft.stitch == _NAMES.index(name)
        literals.append(own)
        weights.append(np.where(wanted, 2, -2))
    for name, sites in lace.sites.items():
        worth = np.full(len(sites.chosen), -1)
        worth[_sites(lace, name, draft.figures)] = 2 * sites.unit.size**2
        literals.append(sites.chosen)
        weights.append(worth)
    if DOUBLE in lace.labels.codes:
        literals.append(double_pinholes(lace))
        weights.append(np.where(_double(lace, draft), 1, -1))
    every, worths = np.concatenate(literals), np.concatenate(weights)
    real = every > 0
    variables, back = np.unique(every[real], return_inverse=True)
    return variables, np.bincount(back, weights=worths[real]).astype(np.int64)


def _changed(frame: Square, draft: Draft) -> BoolArray:
    """(n,) pinholes of which stitch or figure are other than the draft's."""
    layout = lay(frame)
    changed: BoolArray = layout.stitch != draft.stitch
    own = without_own(frame.fillings, layout.piece)
    kept = {(each.filling, each.legs, place) for each in own for place in each.places}
    asked = {(each.filling, each.legs, each.centre) for each in draft.figures}
    grid = layout.piece.index
    for filling, legs, (x, y) in kept ^ asked:
        size = next((u.size for u in UNITS.values() if u.kind == _FILLINGS[filling] and u.legs == legs), 1)
        reach = size - 1
        for dx in range(-reach, reach + 1):
            for dy in range(-reach, reach + 1):
                if abs(dx) + abs(dy) <= reach and (x + dx, y + dy) in grid:
                    changed[grid[x + dx, y + dy]] = True
    return changed
