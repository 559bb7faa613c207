"""What the page of a print asks for: how it is read, how it falls on the grid, what wishes come to, and squares."""

from __future__ import annotations

import asyncio
from collections.abc import Callable

from starlette.requests import Request
from starlette.responses import JSONResponse, Response, StreamingResponse
from starlette.routing import Route

from constraints import fillings
from constraints.brief import SPOTS, UNKNOWN, Brief
from constraints.stamp import Stamp
from constraints.symmetry import SUITS
from explore.asking.stamps import stamp_name
from explore.bad_input import BadInput
from explore.reading import built_in_names
from explore.studio import answers, fits, prints, rooms, side_by_side, typed, wishes
from explore.studio.answers import given_to, room_of
from explore.studio.asked import PrintsAsked, prints_asked
from explore.studio.choices import EDGES, choices
from explore.studio.ribbon import PrintRibbon
from explore.studio.swatches import edge_swatch, swatch
from explore.studio.workroom import Workroom

# Where it is not found out yet from which size a print is known, pitches.
_MAY_BE_KNOWN = 10.0
_PLACES = {SUITS: "where it suits", "corners": "at the corners", "sides": "along the sides", "middle": "in the middle"}
assert set(_PLACES) == {SUITS, *SPOTS}


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
        Route("/wishes/ahead", _ahead, methods=["POST"]),
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
        places=_PLACES,
        others=await asyncio.to_thread(_others, room, reference),
        pairs=wishes.brief_of(room.prints.word(reference), {}).rules.pairs,
    )


def _others(room: Workroom, reference: str) -> list[tuple[str, str]]:
    """The other prints, by their references and names."""
    every = [*room.prints.references(), *built_in_names()]
    return [(each, stamp_name(each.removeprefix("opened:"))) for each in every if each != reference]


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
    asked, brief = await _asked(request)
    room = room_of(request)
    word, flags = asked.word(room.prints), asked.flags(room.prints)
    out = str(asked.given.get("out", ""))[:100]
    told = {**wishes.measured(brief), "each": wishes.in_words(asked.wished)}
    return JSONResponse({**told, "command": typed.finding(word, asked.turn, flags, out)})


async def _room_for(request: Request) -> Response:
    asked, brief = await _asked(request)
    stamps, ribbons = await _prints(request, asked)
    begins, easel = [each.begins() for each in ribbons], room_of(request).easel
    if _together(brief):
        least = _enough(brief, begins)
        both = await asyncio.wrap_future(easel.ask(side_by_side.room_together, stamps, brief, least))
        # What is not found out yet is not told.
        verdicts = [
            "" if begin is None else ribbon.verdict(size)
            for ribbon, begin, size in zip(ribbons, begins, both.sizes, strict=False)
        ]
        told = side_by_side.told_together([each.name for each in brief.stamps], both, verdicts)
        return JSONResponse({**told, "by_symmetry": {}, "laid": both.laid})
    found = await asyncio.wrap_future(easel.ask(rooms.room_for, stamps[0], brief, begins[0] or 0.0))
    told = rooms.in_it(stamps[0].name, found, begins[0], ribbons[0].verdict(found.size), brief.stamp.known)
    return JSONResponse({**told, "by_symmetry": dict(found.by_symmetry), "laid": found.laid})


async def _symmetries(request: Request) -> Response:
    asked, brief = await _asked(request)
    if _together(brief):
        return JSONResponse({"by_symmetry": {}})
    (stamp,), _ = await _prints(request, asked)
    by = await asyncio.wrap_future(room_of(request).easel.draw(rooms.rooms_by_symmetry, stamp, brief))
    return JSONResponse({"by_symmetry": by})


async def _mends(request: Request) -> Response:
    asked, brief = await _asked(request)
    room = room_of(request)
    if "why" in wishes.measured(brief):
        word, flags = asked.word(room.prints), asked.flags(room.prints)
        return JSONResponse({"mends": await asyncio.wrap_future(room.easel.ask(wishes.mends, word, flags))})
    stamps, ribbons = await _prints(request, asked)
    if _together(brief):
        least = _enough(brief, [each.begins() for each in ribbons])
        changed = await asyncio.wrap_future(room.easel.ask(side_by_side.wider_together, stamps, brief, least))
    else:
        # Of a print that is known at no size any place is enough.
        wanted = ribbons[0].begins() or 1.0
        changed = await asyncio.wrap_future(room.easel.ask(rooms.wider_for, stamps[0], brief, wanted))
    return JSONResponse({"mends": rooms.mends_of_room(changed, brief.stamp.known)})


async def _fit(request: Request) -> Response:
    asked, _ = await _asked(request)
    room, thing = room_of(request), fits.own_thing(asked.given.get("fit"))
    stamps, _ = await _prints(request, asked)
    found = room.easel.ask(fits.ways, asked.word(room.prints), asked.wished, stamps[0], thing)
    return JSONResponse({"ways": await asyncio.wrap_future(found)})


async def _ahead(request: Request) -> Response:
    asked, _ = await _asked(request)
    await asyncio.to_thread(room_of(request).look_ahead, asked)
    return JSONResponse({})


async def _find(request: Request) -> Response:
    asked, _ = await _asked(request)
    board = await asyncio.to_thread(room_of(request).find, asked)
    return JSONResponse({"study": board.folder.name})


async def _asked(request: Request) -> tuple[PrintsAsked, Brief]:
    """What a request asks about prints, and the brief that this comes to. Raises BadInput."""
    asked, known = prints_asked(await given_to(request)), room_of(request).prints
    return asked, await asyncio.to_thread(lambda: wishes.brief_of(asked.word(known), asked.flags(known)))


async def _prints(request: Request, asked: PrintsAsked) -> tuple[tuple[Stamp, ...], list[PrintRibbon]]:
    """The prints that a request is about, called as in a brief, with their ribbons of sizes. Raises BadInput."""
    room = room_of(request)

    def found() -> tuple[tuple[Stamp, ...], list[PrintRibbon]]:
        stamps = room.stamps(asked)
        return stamps, [room.ribbon(each, asked.turn) for each in asked.references]

    return await asyncio.to_thread(found)


def _together(brief: Brief) -> bool:
    """Whether prints are laid side by side, or one at a spot of its own."""
    return len(brief.stamps) > 1 or any(each.spot != SUITS for each in brief.stamps)


def _enough(brief: Brief, begins: list[float | None]) -> list[float]:
    """Of each print the size, pitches, that is enough. begins: from which it is known, see `PrintRibbon.begins`."""
    return [1.0 if brief.stamp.known == UNKNOWN else each or _MAY_BE_KNOWN for each in begins]


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
