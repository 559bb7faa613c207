"""What the page of a mirror asks for: a strip, the places along it as they are tried, what they give, and a frame."""

from __future__ import annotations

import asyncio

from starlette.requests import Request
from starlette.responses import JSONResponse, Response, StreamingResponse
from starlette.routing import Route

from explore.bad_input import BadInput
from explore.storage.study import read_square
from explore.studio import answers, sliding, typed
from explore.studio.answers import given_to, room_of
from explore.studio.of_papers import square_of
from explore.studio.sliding import StripMirror


def routes() -> list[Route]:
    """Those of mirrors."""
    at = "/study/{name}/{number:int}/mirror"
    return [
        Route(at, _page),
        Route(f"{at}/told", _told),
        Route(f"{at}/strip.svg", _strip),
        Route(f"{at}/{{what}}-{{way}}-{{row:int}}.svg", _place),
        Route(f"{at}/frame", _frame, methods=["POST"]),
    ]


async def _page(request: Request) -> Response:
    board, number, path = await square_of(request)
    strip = await asyncio.to_thread(read_square, path)
    # Whether a frame is made of it at all is known before anything is shown.
    await _mirror(request)
    name = board.folder.name
    return answers.page(
        "mirror",
        name=name,
        what=board.what,
        number=number,
        measures=sliding.measures(strip),
        listing=typed.mirroring(name, number),
        framing=typed.framing(name, number),
    )


async def _mirror(request: Request) -> StripMirror:
    name, number = request.path_params["name"], request.path_params["number"]
    return await asyncio.to_thread(room_of(request).mirror, name, number)


async def _told(request: Request) -> Response:
    mirror = await _mirror(request)
    return StreamingResponse(mirror.stream.lines(answers.after(request)), media_type="text/event-stream")


async def _strip(request: Request) -> Response:
    _, _, path = await square_of(request)
    return answers.svg(await asyncio.wrap_future(room_of(request).easel.draw(sliding.strip_drawn, path)))


async def _place(request: Request) -> Response:
    mirror, asked = await _mirror(request), request.path_params
    frame = mirror.shown.get((asked["what"], asked["row"], sliding.up_of(asked["way"])))
    if frame is None:
        raise BadInput("nothing can be worked there")
    drawn = await asyncio.wrap_future(room_of(request).easel.draw(sliding.place_drawn, frame, asked["what"]))
    return answers.svg(drawn)


async def _frame(request: Request) -> Response:
    board, number, _ = await square_of(request)
    given = await given_to(request)
    corner, turnover = (_numbered(given.get(each)) for each in (sliding.CORNER, sliding.TURNOVER))
    if board.busy:
        raise BadInput("it is looking for squares; stop that first")
    share = room_of(request).searches.share()
    made = await asyncio.to_thread(sliding.framed, board.folder, number, corner, turnover, share)
    await asyncio.to_thread(board.refresh)
    return JSONResponse({"number": made})


def _numbered(given: object) -> int:
    if not isinstance(given, int) or isinstance(given, bool) or given < 1:
        raise BadInput("corner and turnover go by their numbers")
    return given
