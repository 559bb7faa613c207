"""`fit` with other edgings and wider bands, and what it says where nothing fits."""

from __future__ import annotations

from itertools import product

import pytest
from asked import Ask, Keep

from constraints.brief import Brief
from constraints.catalogue import CATALOGUE
from constraints.check import check
from constraints.design import Design
from constraints.design_file import from_text
from constraints.edgings import named
from constraints.forms import Square as SquareForm
from constraints.forms import Strip
from constraints.mirrors import frame_of
from constraints.working import check as working
from constraints.working.work import work
from explore.editing.fitting.fits import fitting_of
from explore.editing.fitting.variants import Allowed, variants
from explore.editing.mirroring.offers import Mirrored
from explore.search.search import search
from explore.storage.study import Study

STRIP = Brief.of(form="strip", worked="across", symmetry="suits", pairs=14, count=1, rows=(12, 12), match=0.6)
MAT = Brief.of(pairs=16, count=1, headside=named("cloth fan 2"))


@pytest.fixture(scope="module")
def pieces() -> list[Design]:
    found = []
    for number, brief in enumerate((STRIP, MAT), 1):
        found += [step.design for step in search(brief, cores=1, first_number=number) if step.design is not None]
    return found


@pytest.fixture
def study(keep: Keep, pieces: list[Design]) -> Study:
    return keep(STRIP, pieces)


def test_every_variant_passes_the_check_and_is_told_apart(pieces: list[Design]) -> None:
    for piece in pieces:
        found = list(variants(piece, CATALOGUE, 2))
        assert found[0].piece is piece
        assert len(found) > 20
        assert all(check(each.piece) == [] for each in found[1:])
        told = [each.told for each in found]
        assert len(set(told)) == len(told)


def test_with_other_edgings_nothing_that_fits_better_is_left_out(study: Study) -> None:
    """Every strip of the catalogue with every number of repeats, measured here: none comes nearer than the first."""
    target = (30.0, 150.0)
    fitting = fitting_of(study.folder, 1, target, None, None, Allowed(CATALOGUE, 1))
    best = fitting.fits(5.0)[0]
    nearest = min(
        max(abs(made.width_mm - target[0]), abs(made.height_mm - target[1]))
        for each in variants(fitting.chosen.design, CATALOGUE, 1)
        for made in _longer(each.piece)
    )
    assert best.sized.error == pytest.approx(nearest)


def _longer(piece: Design) -> list[Design]:
    form = piece.form
    assert isinstance(form, Strip)
    every = [Strip(form.columns, form.rows, count, form.headside) for count in range(2, 40)]
    return [Design(**{**piece.__dict__, "form": each}) for each in every]


def test_a_way_with_another_edging_is_made_and_kept(ask: Ask, study: Study) -> None:
    asked = ("fit", "edgings", "1", "--for", "40x120mm", "--edging", "half fan 3", "--wider", "3", "--ease", "20mm")
    status, lines, _ = ask(*asked)
    assert status == 0
    number = next(line.split()[0] for line in lines[1:] if "half fan 3" in line)
    status, lines, _ = ask(*asked, "--apply", number)
    assert status == 0
    assert "strip of 01 with half fan 3" in lines[0]
    made = from_text((study.folder / "squares" / "03.json").read_text())
    assert made.form.headside is not None
    assert made.form.headside.name == "half fan 3"
    assert check(made) == []
    assert working.faults(work(made)) == []


def test_a_mat_fits_with_another_edging_at_another_half_size(ask: Ask, study: Study, pieces: list[Design]) -> None:
    wide = pieces[1].width_mm + 15
    status, lines, _ = ask("fit", "edgings", "2", "--for", f"{wide:g}x{wide:g}mm", "--edging", "any", "--wider", "4")
    assert status == 0
    assert any("wider" in line for line in lines)
    fitting = fitting_of(study.folder, 2, (wide, wide), None, None, Allowed(CATALOGUE, 4))
    best = fitting.fits(5.0)[0]
    assert best.sized.error <= 2.5
    assert isinstance(best.sized.form, SquareForm)


@pytest.mark.parametrize(
    ("asked", "code", "told"),
    [
        (("--edging", "fan"), 2, "--edging is 'fan'; allowed: any, or an edging of the catalogue"),
        (("--wider", "15"), 2, "--wider is"),
        (("--ease", "0.1mm"), 3, "nothing fits within 0.1 mm; what mends it: --"),
    ],
)
def test_what_does_not_fit_is_one_line(
    ask: Ask, study: Study, pieces: list[Design], asked: tuple[str, ...], code: int, told: str
) -> None:
    size = f"{1.1 * pieces[0].width_mm:.2f}x{1.1 * pieces[0].height_mm:.2f}mm"
    status, _, errors = ask("fit", "edgings", "1", "--for", size, *asked)
    assert status == code
    assert told in errors[-1]


def test_a_strip_is_turned_round_to_fit(study: Study) -> None:
    wide, long = (fitting_of(study.folder, 1, size, None, None, Allowed()) for size in ((200.0, 40.0), (40.0, 200.0)))
    one, other = wide.fits(50.0)[0].sized, long.fits(50.0)[0].sized
    assert (one.form, one.pitch_mm, one.error) == (other.form, other.pitch_mm, other.error)
    assert one.size == other.size[::-1]


def test_every_corner_and_turnover_is_tried_for_a_frame(study: Study) -> None:
    """All of them, with every number of repeats, measured here: none comes nearer than the nearest that is found."""
    target = (210.0, 300.0)
    fitting = fitting_of(study.folder, 1, target, "frame", None, Allowed())
    fits = fitting.fits(1000.0)
    mirrored = Mirrored(fitting.chosen.design, fitting.chosen.study.brief)
    strip = fitting.chosen.design.form
    assert isinstance(strip, Strip)
    offers = mirrored.offers()
    errors = [
        max(abs(frame.box[2] * 5.0 - target[0]), abs(frame.box[3] * 5.0 - target[1]))
        for corner in offers.corners
        for across, down in product(offers.turnovers(corner.corner), repeat=2)
        for repeats in product(range(1, 30), repeat=2)
        if (frame := frame_of(strip, corner.corner, (across.row, down.row), repeats)) is not None
    ]
    assert min(fit.sized.error for fit in fits) == pytest.approx(min(errors))
    # What fits is told by how little must change, not by hundredths of a millimetre; numbers are those of the mirror.
    assert [fit.changed for fit in fits] == sorted(fit.changed for fit in fits)
    for fit in fits[:50]:
        assert fit.turned is not None
        corner = offers.corners[fit.turned.corner - 1]
        across, down = (offers.turnovers(corner.corner)[number - 1] for number in fit.turned.turnovers)
        assert (corner.corner, (across.row, down.row)) == (fit.sized.corner, fit.sized.turnovers)
        assert fit.turned.at_corners.changed == 4 * corner.changed.changed
        assert fit.turned.at_turnovers.changed == 2 * (across.changed.changed + down.changed.changed)
