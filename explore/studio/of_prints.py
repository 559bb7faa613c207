"""What the page of a print asks for: how it is read, how it falls on the grid, what wishes come to, and squares."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response, StreamingResponse
from starlette.routing import Route

from constraints import fillings
from constraints.brief import Brief
from constraints.stamp import Stamp
from explore.asking.stamps import stamp_name
from explore.bad_input import BadInput
from explore.studio import answers, fits, prints, rooms, typed, wishes
from explore.studio.answers import given_to, room_of
from explore.studio.choices import EDGES, choices
from explore.studio.ribbon import PrintRibbon
from explore.studio.swatches import edge_swatch, swatch


def routes() -> list[Route]:
    """Those of prints."""
    return [
        Route("/print", _page),
        Route("/prints", _take, methods=["POST"]),
        Route("/prints/read", _read),
        Route("/prints/ribbon", _ribbon),
        Route("/prints/drawing", _drawing),
        Route("/swatches/{name}.svg", _swatch),
        Route("/edgings/{name}.svg", _edge_swatch),
        Route("/wishes", _wishes, methods=["POST"]),
        Route("/wishes/room", _room_for, methods=["POST"]),
        Route("/wishes/symmetries", _symmetries, methods=["POST"]),
        Route("/wishes/mends", _mends, methods=["POST"]),
        Route("/wishes/fit", _fit, methods=["POST"]),
        Route("/find", _find, methods=["POST"]),
    ]


async def _page(request: Request) -> Response:
    reference = request.query_params.get("of", "")
    room = room_of(request)
    await asyncio.to_thread(room.prints.path, reference)
    return answers.page(
        "print",
        of=reference,
        name=stamp_name(reference.removeprefix("opened:")),
        **choices(),
        becomes=fits.BECOMES,
        pairs=wishes.brief_of(room.prints.word(reference), {}).rules.pairs,
    )


async def _take(request: Request) -> Response:
    data, name = await request.body(), request.query_params.get("name", "")
    room = room_of(request)
    reference = await asyncio.to_thread(room.prints.take, name, data)
    # It is laid on the grid while her browser goes to its page.
    await asyncio.to_thread(room.ribbon, reference, None)
    return JSONResponse({"of": reference})


async def _read(request: Request) -> Response:
    room, reference, turn = room_of(request), request.query_params.get("of", ""), turn_of(request)
    stamp = await asyncio.to_thread(room.prints.stamp, reference, turn)
    return JSONResponse({**prints.shown(stamp), "command": typed.looking(room.prints.word(reference), turn)})


async def _ribbon(request: Request) -> Response:
    ribbon = await asyncio.to_thread(room_of(request).ribbon, request.query_params.get("of", ""), turn_of(request))
    return StreamingResponse(ribbon.stream.lines(answers.after(request)), media_type="text/event-stream")


async def _drawing(request: Request) -> Response:
    ribbon = await asyncio.to_thread(room_of(request).ribbon, request.query_params.get("of", ""), turn_of(request))
    size, splits = answers.number(request, "size"), answers.number(request, "splits")
    svg = ribbon.drawings.get((float(size), splits))
    if svg is None:
        raise BadInput("there is no drawing of that size")
    return answers.svg(svg.encode())


async def _swatch(request: Request) -> Response:
    name = request.path_params["name"]
    if name not in fillings.ALLOWED:
        raise BadInput("there is no stitch of that name")
    return await _drawn_once(request, swatch, name)


async def _edge_swatch(request: Request) -> Response:
    name = request.path_params["name"]
    if name not in EDGES:
        raise BadInput("there is no edging of that name")
    return await _drawn_once(request, edge_swatch, name)


async def _drawn_once(request: Request, draw: Callable[[str], bytes], name: str) -> Response:
    easel = room_of(request).easel
    drawn = easel.kept(("swatch", name))
    if drawn is None:
        drawn = await asyncio.wrap_future(easel.draw(draw, name))
        easel.keep(("swatch", name), drawn)
    return answers.svg(drawn)


async def _wishes(request: Request) -> Response:
    reference, turn, flags, given = await _asked(request)
    word = room_of(request).prints.word(reference)
    out = str(given.get("out", ""))[:100]
    told = {**wishes.measured(word, flags), "each": wishes.in_words(flags)}
    return JSONResponse({**told, "command": typed.finding(word, turn, flags, out)})


async def _room_for(request: Request) -> Response:
    brief, stamp, ribbon = await _wanted(request)
    begins = ribbon.begins()
    found = await asyncio.wrap_future(room_of(request).easel.ask(rooms.room_for, stamp, brief, begins or 0.0))
    told = rooms.in_it(stamp.name, found, begins, ribbon.verdict(found.size), brief.stamp.known)
    return JSONResponse({**told, "by_symmetry": dict(found.by_symmetry), "laid": found.laid})


async def _symmetries(request: Request) -> Response:
    brief, stamp, _ = await _wanted(request)
    by = await asyncio.wrap_future(room_of(request).easel.draw(rooms.rooms_by_symmetry, stamp, brief))
    return JSONResponse({"by_symmetry": by})


async def _mends(request: Request) -> Response:
    reference, _, flags, _ = await _asked(request)
    room = room_of(request)
    word = room.prints.word(reference)
    if "why" in wishes.measured(word, flags):
        return JSONResponse({"mends": await asyncio.wrap_future(room.easel.ask(wishes.mends, word, flags))})
    brief, stamp, ribbon = await _wanted(request)
    # Of a print that is known at no size any place is enough.
    wanted = ribbon.begins() or 1.0
    changed = await asyncio.wrap_future(room.easel.ask(rooms.wider_for, stamp, brief, wanted))
    return JSONResponse({"mends": rooms.mends_of_room(changed, brief.stamp.known)})


async def _fit(request: Request) -> Response:
    reference, turn, flags, given = await _asked(request)
    room, thing = room_of(request), fits.own_thing(given.get("fit"))
    stamp = await asyncio.to_thread(room.prints.stamp, reference, turn)
    found = room.easel.ask(fits.ways, room.prints.word(reference), flags, stamp, thing)
    return JSONResponse({"ways": await asyncio.wrap_future(found)})


async def _find(request: Request) -> Response:
    reference, turn, flags, _ = await _asked(request)
    board = await asyncio.to_thread(room_of(request).find, reference, turn, flags)
    return JSONResponse({"study": board.folder.name})


async def _wanted(request: Request) -> tuple[Brief, Stamp, PrintRibbon]:
    """The brief and the print that a request brings, with the print's ribbon of sizes. Raises BadInput."""
    reference, turn, flags, _ = await _asked(request)
    room = room_of(request)
    brief = wishes.brief_of(room.prints.word(reference), flags)
    stamp = await asyncio.to_thread(room.prints.stamp, reference, turn)
    return brief, stamp, await asyncio.to_thread(room.ribbon, reference, turn)


async def _asked(request: Request) -> tuple[str, float | None, dict[str, str], dict[str, Any]]:
    """The print, its turn and the wishes that a request brings. Raises BadInput."""
    given = await given_to(request)
    turn = given.get("turn")
    if turn is not None and (not isinstance(turn, int | float) or isinstance(turn, bool) or not -360 <= turn <= 360):
        raise BadInput("a turn has from -360 to 360 degrees")
    flags = wishes.flags_of(given.get("flags", {}))
    return str(given.get("of", "")), None if turn is None else float(turn), flags, given


def turn_of(request: Request) -> float | None:
    """The turn that she gives the print, degrees clockwise; None if she leaves it to its own tilt. Raises BadInput."""
    text = request.query_params.get("turn", "")
    try:
        turn = float(text) if text else None
    except ValueError:
        turn = 400.0
    if turn is not None and not -360 <= turn <= 360:
        raise BadInput("a turn has from -360 to 360 degrees")
    return turn
