"""A mirror that she slides along a strip: where it gives a corner or a turnover that can be worked, told place by place
as `stampwork mirror` finds it, with the picture of what it gives; and the frame that she makes of two of them."""

from __future__ import annotations

import re
import threading
from pathlib import Path
from typing import Any

from constraints.brief import Brief
from constraints.design import Design
from constraints.mirrors import Corner
from explore.bad_input import BadInput
from explore.editing.mirroring.making import Frames, NoFrame, Parts
from explore.editing.mirroring.offers import CornerOffer, Mirrored, Offers, TurnoverOffer
from explore.search.crew import Share
from explore.storage.study import read_square
from explore.studio.streams import Stream

CORNER, TURNOVER = "corner", "turnover"
_WAYS = {False: "down", True: "up"}
# So many repeats are drawn: the mirror slides along one, with half a one before it and behind it.
_REPEATS = 2


class StripMirror:
    """One strip, tried by a share of a crew from now on. stream: what is told of its places. shown: a frame with each
    that can be worked, by what it is, its row and whether the side goes up from its corner. Raises BadInput if no
    frame is made of it."""

    def __init__(self, strip: Design, base: Brief, share: Share, stream: Stream) -> None:
        self.stream, self.shown = stream, dict[tuple[str, int, bool], Design]()
        self.offers: Offers | None = None
        self._mirrored = Mirrored(strip, base, share)
        self._share = share
        threading.Thread(target=self._run, daemon=True).start()

    def _run(self) -> None:
        with self.stream.of_work():
            self.offers = self._mirrored.offers(self._tried)
            self.stream.tell(kind="mirror", places=self._all(self.offers))

    def _tried(self, place: Any, offer: CornerOffer | TurnoverOffer | None) -> None:
        if isinstance(place, Corner):
            self._tell(CORNER, place.row, place.up, offer)
        else:
            self._tell(TURNOVER, place[1], place[0].up, offer)

    def _tell(self, what: str, row: int, up: bool, offer: CornerOffer | TurnoverOffer | None) -> None:
        if offer is not None:
            self.shown[what, row, up] = offer.shown
        self.stream.tell(kind="place", **_place(what, row, up, offer))

    def _all(self, offers: Offers) -> list[dict[str, Any]]:
        """Every place that can be worked with its number, as commands count them."""
        every: list[tuple[str, int, bool, int, CornerOffer | TurnoverOffer]] = [
            *((CORNER, each.corner.row, each.corner.up, n, each) for n, each in enumerate(offers.corners, 1)),
            *((TURNOVER, each.row, False, n, each) for n, each in enumerate(offers.down, 1)),
            *((TURNOVER, each.row, True, n, each) for n, each in enumerate(offers.up, 1)),
        ]
        for what, row, up, _, offer in every:
            self.shown[what, row, up] = offer.shown
        return [{**_place(what, row, up, offer), "number": n} for what, row, up, n, offer in every]


def _place(what: str, row: int, up: bool, offer: CornerOffer | TurnoverOffer | None) -> dict[str, Any]:
    told = {"what": what, "row": row, "way": _WAYS[up], "words": "", "changed": 0}
    if offer is None:
        return told
    count = offer.changed
    few = "no pinhole changes" if not count.changed else "1 pinhole changes" if count.told == "1" else ""
    return {**told, "words": few or f"{count.told} pinholes change", "changed": count.changed}


def up_of(way: str) -> bool:
    """Which way a side goes on from its corner. Raises BadInput."""
    if way not in _WAYS.values():
        raise BadInput("a side goes on up or down from its corner")
    return way == _WAYS[True]


def framed(folder: Path, number: int, corner: int, turnover: int, share: Share) -> int:
    """A frame with a corner and a turnover, by the numbers that commands give them, kept in the study of its strip; its
    number. Raises BadInput, OSError."""
    try:
        made = Frames(folder, number, None, share).framed(Parts(corner, (turnover, turnover)))
    except NoFrame:
        raise BadInput(
            "no frame with these was found in the time that it takes; another corner or turnover may do"
        ) from None
    made.keep()
    return made.study.next_number


def measures(strip: Design) -> dict[str, Any]:
    """What of a strip is drawn: its `rows` in one repeat, its width `across` in units, and the `box` of the picture:
    left, top, width and height in units. Raises BadInput if it is no strip."""
    from gallery.looks.bent import half_sides, middle

    shown = _drawn(strip)
    form = shown.form.repeating
    assert form is not None
    (x, y), (wide, high) = middle(shown).tolist(), half_sides(shown).tolist()
    return {"rows": form.rows, "across": form.width, "box": [x - wide, y - high, 2 * wide, 2 * high]}


# What follows runs in the easel's process.


def strip_drawn(path: Path) -> bytes:
    """Some repeats of a strip as SVG."""
    from gallery.looks import drawing
    from gallery.looks.bent import half_sides
    from gallery.web.vector import RASTER, VectorPen

    shown = _drawn(read_square(path))
    wide, high = half_sides(shown).tolist()
    pen = VectorPen(4.0)
    drawing.ink(pen, shown, True)
    return _boxed(pen.drawn(round(max(wide, high) * RASTER)).svg(), -wide, -high, 2 * wide, 2 * high, RASTER)


def place_drawn(frame: Design, what: str) -> bytes:
    """The corner of a frame, or the middle of its side, with the mirror across it, as SVG."""
    from gallery.looks import drawing
    from gallery.paper import paths
    from gallery.sheets.mirror import MIRROR, mirror_line, window
    from gallery.web.vector import RASTER, VectorPen

    left, top, side = window(frame.form, what == CORNER)
    pen = VectorPen(8.0)
    drawing.ink(pen, frame, True)
    pen.stroke(paths.lines(mirror_line(frame.form, what == CORNER)[None]), 0.25, MIRROR)
    return _boxed(pen.drawn(1).svg(), left, top, side, side, RASTER)


def _boxed(svg: str, left: float, top: float, wide: float, high: float, raster: int) -> bytes:
    box = " ".join(str(round(each * raster)) for each in (left, top, wide, high))
    return re.sub('viewBox="[^"]*"', f'viewBox="{box}"', svg, count=1).encode()


def _drawn(strip: Design) -> Design:
    from dataclasses import replace

    from constraints.repeats import repeat_of, unrolled

    form = strip.form.repeating
    if form is None:
        raise BadInput(f"{strip.number:02d} is a {strip.form.name}; the mirror slides along a strip")
    return unrolled(repeat_of(strip).design, replace(form, repeats=_REPEATS))
