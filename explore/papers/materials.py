"""What a square takes, written: a text, a page with a test swatch at true size, and the swatch as a square file."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import asdict, replace
from pathlib import Path

from constraints.brief import Brief
from constraints.design import Design
from constraints.design_file import to_text
from constraints.fillings import FILLINGS
from constraints.forms import Square
from constraints.materials import Allowances, Materials
from constraints.piece import ROUND
from constraints.repeats import repeat_of, unrolled
from constraints.stitches import GROUND, STITCHES
from constraints.wording import measures, rounded_up, shown
from explore.files import write_whole
from explore.lines import Row
from explore.search.search import Impossible, search
from explore.storage.listing import figures
from gallery.paper import page
from gallery.sheets.captions import stitches_used
from gallery.sheets.materials import CAUTIONS, materials_page

_WORDS = {name: each.words for name, each in STITCHES.items()} | {name: each.words for name, each in FILLINGS.items()}
# The swatch is small and still has room for one of everything.
_SWATCH_HALF_SIZES = (9, 12)
# A strip on a longer card is moved up as it is worked.
_LONG_MM = 300.0


def swatch_of(design: Design, cores: int | None = None) -> Design | None:
    """A small square with the stitches, fillings, pitch and edge of a piece, or a rectangle where no square has that
    edge; of a strip two repeats. None if none is found."""
    if strip := design.form.repeating:
        return unrolled(repeat_of(design).design, replace(strip, repeats=2))
    used, headside = stitches_used(design), design.form.headside
    as_square = headside is None or design.worked in Square.edged
    brief = Brief.of(
        form=Square.name if as_square else design.form.name,
        symmetry="full" if as_square else "upright-mirrors",
        half_size=_SWATCH_HALF_SIZES,
        pairs=200,
        pitch_mm=(design.pitch_mm, design.pitch_mm),
        worked=design.worked,
        passives=design.passives,
        headside=headside,
        stitches=used if set(used) & {"cloth", "half", "whole"} else (*used, "cloth"),
        least=dict.fromkeys(used, 1),
        solid=(0.1, 0.5),
        seed=design.seed,
        count=1,
    )
    for allowed in (brief, brief.changed(least={}), brief.changed(least={}, headside=None, form=Square.name)):
        try:
            found = next((step.design for step in search(allowed, cores=cores) if step.design), None)
        except Impossible:
            continue
        if found is not None:
            return found
    return None


def lacking(swatch: Design, design: Design) -> str:
    """The stitches of a square that its swatch is without, in words; "" if it has all."""
    return ", ".join(_WORDS[name] for name in stitches_used(design) if name not in stitches_used(swatch))


def told(found: Materials, added: Allowances) -> Iterator[tuple[str, str]]:
    """What a square takes, each a name and what there is of it."""
    design = found.design
    yield "Finished size", f"{measures(design)}, pitch {shown(design.pitch_mm)} mm"
    yield "Pairs", f"{found.pairs}, so {found.bobbins} bobbins"
    yield from _passives(design)
    yield "Pins", f"{found.pins} to put up, fewer at once; {found.crossings} crossings"
    yield "Stitches", ", ".join([*(_WORDS[name] for name in stitches_used(design)), GROUND])
    yield "Thread", f"about {found.wraps_per_cm:.0f} wraps side by side to 1 cm (a published rule of thumb)"
    for each in found.thread:
        shortest, mean, longest = (
            f"{rounded_up(length / 1000, 1)} m" for length in (each.shortest, each.mean, each.longest)
        )
        words = longest if shortest == longest else f"{shortest} to {longest}, {mean} on average"
        yield f"On a bobbin, {each.name}", f"{words} ({each.count} bobbins)"
    if found.gimp is not None:
        count, metres = found.gimp.count, found.gimp.mean * found.gimp.count / 1000
        yield "Gimp", f"{count} bobbins more, of a thicker thread, {rounded_up(metres, 1)} m of it in all"
    yield "In all", f"{rounded_up(found.total_m)} m of thread"
    yield from _support(found)
    yield "Hours", f"{math.floor(found.hours[0])} to {rounded_up(found.hours[1])}"
    slow, fast = added.crossings_an_hour
    yield (
        "Reckoned with",
        f"take-up {added.take_up:.0%}, reserve {added.reserve:.0%}, {shown(added.handling_mm)} mm a bobbin for "
        f"handling, {shown(slow)} to {shown(fast)} crossings an hour (common practice, no source)",
    )


def figures_of(found: Materials, added: Allowances) -> Row:
    """What a square takes in figures, its lengths in mm and all thread in metres; and `told` as `told` words it."""
    kept = ("pairs", "bobbins", "pins", "crossings", "wraps_per_cm", "total_m", "card_mm", "pillow_mm", "hours")
    return {
        **figures(found.design),
        **{name: getattr(found, name) for name in kept},
        "thread": [asdict(each) for each in found.thread],
        "gimp": None if found.gimp is None else asdict(found.gimp),
        "told": dict(told(found, added)),
    }


def _passives(design: Design) -> Iterator[tuple[str, str]]:
    """The passives of each edge, where the edges are not alike or are two."""
    counts = design.form.passives(design.worked, design.passives)
    names = ("outer edge", "inner edge") if design.worked == ROUND else ("left edge", "right edge")
    if any(counts) and (len(counts) > 1 or design.form.headside is not None):
        yield "Passives", " and ".join(f"{count} at the {name}" for count, name in zip(counts, names, strict=False))


def _support(found: Materials) -> Iterator[tuple[str, str]]:
    """Card and pillow; a long strip is worked on a roller, or moved up with its card."""
    design, (width, height) = found.design, found.card_mm
    whole = f"at least {rounded_up(width)} x {rounded_up(height)} mm"
    strip = design.form.repeating
    if strip is None or height <= _LONG_MM:
        yield "Card", whole
        across = max(found.pillow_mm, height - width + found.pillow_mm)
        yield "Pillow", f"at least {rounded_up(across)} mm across"
        return
    repeat = strip.rows / 2 * design.pitch_mm
    some = max(2, round(_LONG_MM / 2 / repeat))
    some_mm = shown(some * repeat)
    yield (
        "Card",
        f"{rounded_up(width)} mm wide; two pieces of {some} repeats ({some_mm} mm) each, laid end to end in turn, or "
        f"one of whole repeats round a roller; {whole} for all of it",
    )
    yield (
        "Pillow",
        f"a roller at least {rounded_up(width)} mm long, about {some_mm} mm round; or a flat pillow at least "
        f"{rounded_up(found.pillow_mm)} mm across, on which the lace is moved up (common practice, no source)",
    )


def write(name: str, found: Materials, added: Allowances, swatch: Design | None, files: list[Path]) -> None:
    """Write the text, the page and, if there is one, the swatch. files: their places. Raises OSError."""
    text, pdf, json = files
    rows = list(told(found, added))
    title = f"Materials {found.design.number:02d}, {name}"
    wide = max(len(head) for head, _ in rows)
    lines = [title, "=" * len(title), *(f"{head:<{wide}}  {words}" for head, words in rows), "", *CAUTIONS]
    pdf.parent.mkdir(parents=True, exist_ok=True)
    write_whole(text, "\n".join(lines) + "\n")
    page.write([materials_page(title, rows, swatch)], pdf)
    json.unlink(missing_ok=True)  # a swatch of an earlier run belongs to that run
    if swatch is not None:
        write_whole(json, to_text(swatch))
