"""A series in words: its titles, its statement, the catalogue's pages."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Sequence
from pathlib import Path

from constraints import symmetry as symmetries
from constraints.design import Design
from constraints.pins import pins
from constraints.wording import measure, measures, shown
from explore.bad_input import BadInput
from explore.editing.series.contrast import stated
from explore.editing.series.making import Series
from explore.editing.series.order import DENSITY, FILLING, NAMED, PAIRS, SYMMETRY, filled, filling, own_symmetry, solid
from explore.editing.series.reading import FILLED_WITH
from explore.files import content
from explore.lines import RowTable, one_line
from explore.storage.listing import FIGURES, figures
from gallery.exhibition.catalogue import CataloguePage, Front
from gallery.exhibition.labels import in_full
from gallery.seeing.knowing import known_as
from gallery.sheets.captions import BETWEEN, stitches_used

_NUMBERS = (
    "No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten", "Eleven", "Twelve",
)  # fmt: skip
_LARGEST_FILE = 10**6  # bytes

CAUTIONS = (
    "These pictures are for choosing and showing, not for pricking from. Printers scale: measure every print against "
    "the size that is told.",
    "A pattern that passes the check has not been worked: try a corner before winding all the pairs.",
    "Pins are sharp and get lost; count them. Pins, beads and bobbins are no toys and not for small children.",
    "Long close work tires eyes, neck and hands: good light, breaks, a change of posture.",
    "Fixatives, starches and sprays: follow the maker's sheet, air the room, and try on a scrap.",
    "Lace burns. On a wall keep it clear of lamps, heaters and candles; in a public room ask for the local rules.",
)


def titles(file: Path | None, count: int) -> tuple[str, ...]:
    """A title for each design: from a file with one line each, or a TOML file with `titles = [...]`.

    Where the file leaves a line empty or ends early, and without a file, a square is called "No. 3". Refused if
    the file cannot be read so or has more titles than there are squares.
    """
    given = [] if file is None else _read(file)
    if len(given) > count:
        raise BadInput(
            f"titles {file} has {len(given)} titles for {count} squares; allowed: at most one a square", of="titles"
        )
    return numbered([*given, *[""] * (count - len(given))])


def numbered(given: Sequence[str]) -> tuple[str, ...]:
    """Titles as they are given; where one is empty its number, "No. 3"."""
    return tuple(title or f"No. {number}" for number, title in enumerate(given, 1))


def _read(file: Path) -> list[str]:
    try:
        text = content(file, _LARGEST_FILE).decode("utf-8-sig")
    except UnicodeDecodeError:
        raise BadInput(
            f"titles {file} is no text in UTF-8; allowed: one title a line, or TOML with titles", of="titles"
        ) from None
    if file.suffix.lower() != ".toml":
        return [one_line(line) for line in text.rstrip("\n").splitlines()] if text.strip() else []
    try:
        given = tomllib.loads(text).get("titles")
    except tomllib.TOMLDecodeError as error:
        raise BadInput(f"titles {file} is no TOML: {error}", of="titles") from None
    if not isinstance(given, list) or not all(isinstance(each, str) for each in given):
        raise BadInput(f'titles {file} must hold titles = ["First title", "Second title"]', of="titles")
    return [one_line(each) for each in given]


def default_title(stamp: str) -> str:
    """What a series is called if she does not say."""
    return one_line(stamp[:1].upper() + stamp[1:]) or "Patterns in Torchon"


def in_words(count: int, form: str = "square") -> str:
    """A number of designs: "Nine squares"."""
    return f"{_NUMBERS[count] if count < len(_NUMBERS) else count} {form}{'' if count == 1 else 's'}"


def subtitle(series: Series) -> str:
    forms = {design.form.name for design in series.designs}
    what = forms.pop() if len(forms) == 1 else "piece"
    return f"{in_words(len(series.designs), what)} of Torchon lace, {series.reads.short}"


def shown_share(share: float) -> str:
    """A share in per cent to one digit, rounded down, so that it holds."""
    return f"{math.floor(1000 * stated(share) + 1e-6) / 10:g} %"


def difference_words(series: Series) -> str:
    """How different they are, in one sentence."""
    first, second = series.alike
    one = series.designs[0].form
    how = (
        ""
        if len({design.form.box for design in series.designs}) == 1
        else ", squares of two sizes laid centre on centre"
    )
    if not all(design.form.comparable(one) for design in series.designs):
        how = ", those of other measures differ in all"
    return (
        f"any two differ in at least {shown_share(series.least)} of their pinholes, however turned or "
        f"reflected{how}; the most alike are {first} and {second}"
    )


def statements(series: Series) -> tuple[str, ...]:
    """What the series is, for the title page."""
    chosen = f" (chosen from {series.pool}; {_best(series)})" if series.pool > len(series.designs) else ""
    return (
        f"What they share: {series.family.words}.",
        f"How they differ: {difference_words(series)}{chosen}.",
        f"Their order: {series.reads.words}.",
    )


def _best(series: Series) -> str:
    """Whether others of the pool are more different, and what the order costs; proven, or only not found."""
    if series.at_most is not None and series.least >= series.at_most:
        return "no other choice is more different"
    spread = "no other choice spread so is more different" if series.proven else "no more different choice was found"
    if series.at_most is None:
        return spread
    return f"{spread}, without an order it could be {shown_share(series.at_most)}"


def caption(order: str, design: Design) -> str:
    """What the exhibition sheet tells of a design: pairs, size, and what changes along the wall."""
    changing = {
        PAIRS: "",
        DENSITY: f"{solid(design):.0%} in blocks",
        SYMMETRY: symmetries.told(own_symmetry(design)),
        FILLING: FILLED_WITH[filling(design)],
        NAMED: "",
    }
    told = (f"{design.pairs} pairs", measure(design), changing[order])
    return BETWEEN.join(each for each in told if each)


def front(series: Series, title: str) -> Front:
    return Front(title, subtitle(series), statements(series), CAUTIONS)


def entries(series: Series, named: Sequence[str], study: str) -> list[CataloguePage]:
    """The catalogue's pages."""
    found = []
    for i, design in enumerate(series.designs):
        others = [(series.table[i, j], j + 1) for j in range(len(series.designs)) if j != i]
        nearest = f"{min(others)[1]}, with {100 * min(others)[0]:.0f} % of the pinholes different" if others else "none"
        source = series.sources[i]
        made = f"{source:02d} of {study}" if source else "found for this series"
        symmetry = symmetries.told(own_symmetry(design))
        surely = f", {known_as(design)}" if known_as(design) else ""
        printed = ", ".join(f"{each.name}, {each.size:g} pitches" for each in design.prints) + surely
        shares = [f"{name.replace('-', ' ')} {share:.0%}" for name, share in filled(design).items() if share]
        facts = [
            ("Number", f"{design.number} of {len(series.designs)}"),
            ("Size", f"{measures(design)}, pitch {shown(design.pitch_mm)} mm"),
            ("Work", f"{design.pairs} pairs, {pins(design)} pins, worked {design.worked}, {symmetry}"),
            ("Stitches", ", ".join(in_full(design))),
            ("Pinholes", f"{solid(design):.0%} in blocks" + (f"; {', '.join(shares)}" if shares else "; plain ground")),
            ("Stamp", printed),
            ("Splits", f"{design.splits}, harder to work" if design.splits else ""),
            ("Most like", nearest),
            ("From", made),
        ]
        found.append(CataloguePage(design, named[i], tuple((name, value) for name, value in facts if value)))
    return found


_TOLD = {
    "number": FIGURES["number"],
    "title": lambda row: row["title"][:30],
    "from": lambda row: f"{row['from']:02d}" if row["from"] else "new",
    "pairs": FIGURES["pairs"],
    "size": FIGURES["size"],
    "solid": lambda row: f"{row['solid']:.2f}",
    "stitches": lambda row: ", ".join(row["stitches"]),
    "symmetry": lambda row: row["symmetry"],
}


def table(series: Series, named: Sequence[str]) -> RowTable:
    """A row a square, in their order along the wall; `from`: its number in the study, None of new ones."""
    rows = [
        {
            **figures(design),
            "title": title,
            "from": source or None,
            "solid": solid(design),
            "stitches": list(stitches_used(design)),
            "symmetry": own_symmetry(design),
        }
        for design, title, source in zip(series.designs, named, series.sources, strict=True)
    ]
    return RowTable(_TOLD, rows)


def told(series: Series, squares: RowTable) -> dict[str, object]:
    """The series for a program."""
    return {"squares": squares.rows, "statements": statements(series)}


def lines(series: Series, squares: RowTable) -> list[str]:
    """The lines on the terminal: a table of the squares, then the statements."""
    return [*squares.lines(), *(f"{words[0].lower()}{words[1:].rstrip('.')}" for words in statements(series))]
