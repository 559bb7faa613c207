"""What the page of a study asks for: its squares as they come, drawings, what she keeps, and more of them."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response, StreamingResponse
from starlette.routing import Route

from explore.bad_input import BadInput
from explore.storage.study import read_square, square_files, square_path
from explore.studio import answers, typed
from explore.studio.answers import given_to, in_turn, room_of
from explore.studio.board import Board
from explore.studio.colours import CLOTHS, THREADS, colours_of, inked
from explore.studio.easel import LOOKS, picture_mm, square_drawn
from explore.studio.likes import HELD, like_wish
from explore.studio.marks import STAYS, StudyMarks

# How often it is looked whether a command has changed the study, while a tab listens, s.
_LOOK = 2.0
_MOST_MORE = 100
# So many are offered.
_MORE = 12


def routes() -> list[Route]:
    """Those of studies."""
    return [
        Route("/study/{name}", _page),
        Route("/study/{name}/told", _told),
        Route("/study/{name}/{number:int}/{look}.svg", _drawing),
        Route("/study/{name}/mark", _mark, methods=["POST"]),
        Route("/study/{name}/undo", _undo, methods=["POST"]),
        Route("/study/{name}/redo", _redo, methods=["POST"]),
        Route("/study/{name}/more", _more, methods=["POST"]),
        Route("/study/{name}/stop", _stop, methods=["POST"]),
        Route("/study/{name}/taste", _taste),
        Route("/study/{name}/colours", _colours, methods=["POST"]),
        Route("/study/{name}/wish", _wish, methods=["POST"]),
        Route("/study/{name}/liking", _liking, methods=["POST"]),
        Route("/study/{name}/together", _together),
        Route("/study/{name}/{number:int}/like", _like, methods=["POST"]),
    ]


async def board_of(request: Request) -> Board:
    """The board of the study that a request names. Raises BadInput, OSError."""
    return await asyncio.to_thread(room_of(request).board, request.path_params["name"])


async def _page(request: Request) -> Response:
    board = await board_of(request)
    name = board.folder.name
    goes_on = board.busy or not board.made_by
    return answers.page(
        "study",
        name=name,
        what=board.what,
        goes_on=goes_on,
        again=board.wishes,
        back=await asyncio.to_thread(room_of(request).back, board),
        begun=board.typed,
        held=HELD,
        more=_MORE,
        choices={"thread": THREADS, "cloth": CLOTHS},
    )


async def _told(request: Request) -> Response:
    board = await board_of(request)
    return StreamingResponse(_lines(board, answers.after(request)), media_type="text/event-stream")


async def _lines(board: Board, after: int) -> AsyncIterator[bytes]:
    """What is told of a board, and beside it a look now and then at what commands have changed."""

    async def look() -> None:
        while True:
            await asyncio.sleep(_LOOK)
            try:
                await asyncio.to_thread(board.refresh)
            except (BadInput, OSError):
                continue  # a command is amid its change, or the folder is not there for now

    looking = asyncio.create_task(look())
    try:
        async for line in board.stream.lines(after):
            yield line
    finally:
        looking.cancel()


async def _drawing(request: Request) -> Response:
    room, look = room_of(request), request.path_params["look"]
    if look not in LOOKS:
        raise BadInput(f"a look is one of {', '.join(LOOKS)}")
    folder = await asyncio.to_thread(room.folder.study, request.path_params["name"])
    path = square_path(folder, request.path_params["number"])
    if not path.is_file():
        raise BadInput("there is no square of that number")
    colours = inked(request.query_params.get("in", ""))
    key = folder.name, path.name, path.stat().st_mtime_ns, look, colours
    drawn = room.easel.kept(key)
    if drawn is None:
        drawn = await asyncio.wrap_future(room.easel.draw(square_drawn, path, look, colours))
        room.easel.keep(key, drawn)
    return answers.svg(drawn)


@in_turn
async def _mark(request: Request) -> Response:
    board, given = await board_of(request), await given_to(request)
    number, state, note = given.get("number"), given.get("state"), given.get("note")
    if not isinstance(number, int) or isinstance(number, bool) or not square_path(board.folder, number).is_file():
        raise BadInput("there is no square of that number")

    def change(marks: StudyMarks) -> dict[str, Any]:
        if isinstance(note, str):
            return marks.note(number, note)
        if state == STAYS:
            return marks.bring_back(number)
        return marks.mark(number, str(state))

    return await _changed(board, change)


@in_turn
async def _undo(request: Request) -> Response:
    return await _changed(await board_of(request), StudyMarks.undo)


@in_turn
async def _redo(request: Request) -> Response:
    return await _changed(await board_of(request), StudyMarks.redo)


async def _changed(board: Board, change: Callable[[StudyMarks], dict[str, Any]]) -> Response:
    return JSONResponse(await asyncio.to_thread(board.changed, change))


async def _more(request: Request) -> Response:
    given = await given_to(request)
    count = given.get("count")
    if not isinstance(count, int) or isinstance(count, bool) or not 1 <= count <= _MOST_MORE:
        raise BadInput(f"from 1 to {_MOST_MORE} squares are looked for at a time")
    board = await asyncio.to_thread(room_of(request).more, request.path_params["name"], count)
    return JSONResponse({"study": board.folder.name})


async def _taste(request: Request) -> Response:
    board = await board_of(request)
    told = await asyncio.to_thread(board.learnt_and_wanting)
    taste = told["taste"] if (await asyncio.to_thread(board.marks.told))["liking"] else ""
    commands = [typed.going_on(board.folder.name, _MORE, taste), typed.tasting(board.folder.name)]
    return JSONResponse({**told, "commands": commands})


@in_turn
async def _liking(request: Request) -> Response:
    board, on = await board_of(request), (await given_to(request)).get("on")
    if not isinstance(on, bool):
        raise BadInput("it is on or off")
    return await _changed(board, lambda marks: marks.set_liking(on))


@in_turn
async def _colours(request: Request) -> Response:
    board, given = await board_of(request), await given_to(request)
    colours = colours_of(given.get("thread"), given.get("cloth"))
    return await _changed(board, lambda marks: marks.set_colours(colours))


async def _wish(request: Request) -> Response:
    board, given = await board_of(request), await given_to(request)
    await asyncio.to_thread(board.wish, given.get("flags"))
    return JSONResponse({})


async def _stop(request: Request) -> Response:
    (await board_of(request)).stop()
    return JSONResponse({})


async def _together(request: Request) -> Response:
    board = await board_of(request)

    def held() -> dict[str, Any]:
        marks = board.marks.told()
        squares = []
        for path in square_files(board.folder):
            if int(path.stem) not in marks["away"]:
                side, at = picture_mm(read_square(path)), str(path.stat().st_mtime_ns)
                squares.append({"number": int(path.stem), "at": at, "side_mm": side})
        return {"squares": squares, "kept": marks["kept"], "colours": marks["colours"]}

    return answers.page("together", what=board.what, name=board.folder.name, **await asyncio.to_thread(held))


async def _like(request: Request) -> Response:
    name, number = request.path_params["name"], request.path_params["number"]
    wish = like_wish(number, await given_to(request))
    board = await asyncio.to_thread(room_of(request).like, name, wish)
    return JSONResponse({"study": board.folder.name, "command": board.typed})
