"""The page that shows two squares side by side, and where they differ."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from constraints.differing import PinholeChange
from explore.editing.comparing.pair import Pair
from explore.editing.comparing.telling import amount, changes, compared, lie
from explore.storage.free import Output

_ENDINGS = (".png", ".svg", ".pdf")


def page_files(pair: Pair, out: Path | None, force: bool) -> list[Path]:
    """Where the page goes: the study of the first, or `out`. Refused if a file is there and not to be replaced."""
    first, second = (design.number for design in (pair.found.first, pair.found.second))
    other = "" if pair.studies[0] is pair.studies[1] else f"{pair.studies[1].folder.name}-"
    names = [f"compare-{first:02d}-{other}{second:02d}{ending}" for ending in _ENDINGS]
    folder = Output(out, force).within(pair.studies[0].folder, names)
    return [folder / name for name in names]


def write_page(pair: Pair, files: Sequence[Path], look: str, paper: str) -> None:
    """Draw both squares and where they differ. Raises OSError."""
    from gallery.paper import page
    from gallery.sheets.captions import facts
    from gallery.sheets.differences import DifferenceLine, draw

    rows = [row for row in compared(pair)[:-1] if row[1] != row[2]]  # the stitches stand in the captions
    legend = [DifferenceLine(change, words, amount(pair, count)) for change, words, count in changes(pair)]
    if pair.found.solid.any():
        legend.append(
            DifferenceLine(PinholeChange.SAME, "block in both, same stitch", amount(pair, int(pair.found.solid.sum())))
        )
    figure = draw(
        pair.found,
        title=_title(pair),
        note=f"{100 * pair.found.share:.1f}% of the pinholes differ; {lie(pair)}",
        names=pair.names,
        captions=(facts(pair.designs[0]), facts(pair.designs[1])),
        legend=legend,
        told=rows,
        look=look,
        paper=paper,
    )
    files[0].parent.mkdir(parents=True, exist_ok=True)
    for path in files:
        page.write([figure], path)


def _title(pair: Pair) -> str:
    words = f"{pair.names[0]} and {pair.names[1]}"
    # Two squares of one study are called by their numbers alone.
    return f"{pair.studies[0].name}: {words}" if pair.studies[0] is pair.studies[1] else words
