"""What the pages of papers and of the pillow ask for: a booklet made and looked at, the order of work by its lines."""

from __future__ import annotations

import asyncio
import re
from pathlib import Path
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import FileResponse, JSONResponse, Response, StreamingResponse
from starlette.routing import Route

from explore.bad_input import BadInput
from explore.storage.study import square_path
from explore.studio import answers, typed
from explore.studio.answers import given_to, in_turn, room_of
from explore.studio.board import Board
from explore.studio.easel import booklet_told, map_drawn, order_told, page_drawn
from explore.studio.of_studies import board_of
from explore.studio.scribe import WAYS, booklet_path, ways_of

# How wide a page is drawn, pixels: beside others.
_PAGE = 500
# A reader of PDF in the browser has styles of its own; nothing else may be done in it.
OF_PDF = {"content-security-policy": "default-src 'none'; object-src 'self'; style-src 'unsafe-inline'"}


def routes() -> list[Route]:
    """Those of papers and of the pillow."""
    one = "/study/{name}/{number:int}"
    return [
        Route("/study/{name}/papers", _page),
        Route(f"{one}/papers", _told),
        Route(f"{one}/papers/make", _make, methods=["POST"]),
        Route(f"{one}/papers/stop", _stop, methods=["POST"]),
        Route(f"{one}/papers/progress", _progress),
        Route(f"{one}/papers/{{page:int}}.png", _drawn),
        Route(f"{one}/booklet.pdf", _booklet),
        Route(f"{one}/pillow", _pillow),
        Route(f"{one}/pillow/lines", _lines),
        Route(f"{one}/pillow/map.svg", _map),
        Route(f"{one}/pillow/at", _at, methods=["POST"]),
    ]


async def square_of(request: Request) -> tuple[Board, int, Path]:
    """The board, the number and the file of the square that a request names. Raises BadInput."""
    board, number = await board_of(request), request.path_params["number"]
    path = square_path(board.folder, number)
    if not path.is_file():
        raise BadInput("there is no square of that number")
    return board, number, path


async def _page(request: Request) -> Response:
    board = await board_of(request)
    marks = await asyncio.to_thread(board.marks.told)
    kept = [number for number in marks["kept"] if square_path(board.folder, number).is_file()]
    number = answers.number(request, "of", kept[0] if kept else 0)
    ways = await asyncio.to_thread(board.marks.ways)
    return answers.page(
        "papers",
        what=board.what,
        name=board.folder.name,
        kept=kept,
        ink=marks["colours"]["ink"],
        number=number,
        every_way=WAYS,
        ways=ways,
    )


async def _told(request: Request) -> Response:
    board, number, _ = await square_of(request)
    pdf = booklet_path(board.folder, number)
    room = room_of(request)
    room.folder.refuse_outside(pdf)
    scribe = board.scribes.get(number)
    told = {"pages": 0, "parts": [], "at": "", "busy": scribe is not None and not scribe.stream.over}
    if pdf.is_file():
        told |= await asyncio.wrap_future(room.easel.ask(booklet_told, pdf))
        told["at"] = str(pdf.stat().st_mtime_ns)
    ways = await asyncio.to_thread(board.marks.ways)
    return JSONResponse({**told, "command": typed.packing(board.folder.name, number, ways)})


async def _make(request: Request) -> Response:
    board, number, path = await square_of(request)
    ways = ways_of((await given_to(request)).get("ways", {}))
    pdf = booklet_path(board.folder, number)
    room_of(request).folder.refuse_outside(pdf)
    await asyncio.to_thread(board.marks.set_ways, ways)
    await asyncio.to_thread(board.write_booklet, number, path, ways, pdf, room_of(request).stream())
    return JSONResponse({"command": typed.packing(board.folder.name, number, ways)})


async def _stop(request: Request) -> Response:
    board, number, _ = await square_of(request)
    if number in board.scribes:
        board.scribes[number].stop()
    return JSONResponse({})


async def _progress(request: Request) -> Response:
    board, number, _ = await square_of(request)
    if number not in board.scribes:
        raise BadInput("no papers of it are being made")
    lines = board.scribes[number].stream.lines(answers.after(request))
    return StreamingResponse(lines, media_type="text/event-stream")


async def _drawn(request: Request) -> Response:
    board, number, _ = await square_of(request)
    room, page = room_of(request), request.path_params["page"]
    pdf = booklet_path(board.folder, number)
    room.folder.refuse_outside(pdf)
    if not pdf.is_file():
        raise BadInput("there are no papers of it yet")
    key = board.folder.name, number, pdf.stat().st_mtime_ns, page
    drawn = room.easel.kept(key)
    if drawn is None:
        try:
            drawn = await asyncio.wrap_future(room.easel.draw(page_drawn, pdf, page, _PAGE))
        except IndexError:
            raise BadInput("there is no page of that number") from None
        room.easel.keep(key, drawn)
    return answers.picture(drawn, "image/png")


async def _booklet(request: Request) -> Response:
    board, number, _ = await square_of(request)
    pdf = booklet_path(board.folder, number)
    room_of(request).folder.refuse_outside(pdf)
    if not pdf.is_file():
        raise BadInput("there are no papers of it yet")
    called = re.sub(r"[^A-Za-z0-9.-]+", "-", board.folder.name).strip("-.") or "study"
    how = "attachment" if "save" in request.query_params else "inline"
    headers = {**OF_PDF, "content-disposition": f'{how}; filename="{called}-{number:02d}-booklet.pdf"'}
    return FileResponse(pdf, media_type="application/pdf", headers=headers)


async def _pillow(request: Request) -> Response:
    board, number, _ = await square_of(request)
    own = f"/study/{quote(board.folder.name)}"
    return answers.page("pillow", what=board.what, name=board.folder.name, number=number, own=own)


async def _lines(request: Request) -> Response:
    board, number, path = await square_of(request)
    ways = await asyncio.to_thread(board.marks.ways)
    told = await asyncio.wrap_future(room_of(request).easel.ask(order_told, path, ways))
    at, looking = await asyncio.to_thread(board.marks.step, number)
    return JSONResponse({**told, "at": at, "looking": looking})


async def _map(request: Request) -> Response:
    board, _, path = await square_of(request)
    ways = await asyncio.to_thread(board.marks.ways)
    drawn = await asyncio.wrap_future(room_of(request).easel.ask(map_drawn, path, ways))
    return Response(drawn, media_type="image/svg+xml")


@in_turn
async def _at(request: Request) -> Response:
    board, number, _ = await square_of(request)
    given = await given_to(request)
    at, looking = given.get("at"), given.get("looking", False)
    if not isinstance(at, int) or isinstance(at, bool) or not 0 <= at < 10**6 or not isinstance(looking, bool):
        raise BadInput("a line is a whole number")
    await asyncio.to_thread(board.marks.set_step, number, at, looking)
    return JSONResponse({})
