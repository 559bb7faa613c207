"""What the page of a wall asks for: frames filled by hand and by itself, a title, and its papers."""

from __future__ import annotations

import asyncio
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from starlette.requests import Request
from starlette.responses import FileResponse, JSONResponse, Response, StreamingResponse
from starlette.routing import Route

from explore.bad_input import BadInput
from explore.editing.series import FEWEST, MOST
from explore.storage.study import square_files
from explore.studio import answers, hanging, typed
from explore.studio.answers import given_to, in_turn, room_of
from explore.studio.board import Board
from explore.studio.of_papers import OF_PDF
from explore.studio.of_studies import board_of

# What may make them a family, in her words.
_SHARES = {"stamp": "the print", "border": "the border", "centre": "the middle", "trail": "the longest trail"}

# What she would type names this file with the titles of single squares.
_TITLES = "titles.txt"


def routes() -> list[Route]:
    """Those of walls."""
    at = "/study/{name}/wall"
    return [
        Route(at, _page),
        Route(f"{at}/hang", _hang, methods=["POST"]),
        Route(f"{at}/fill", _fill, methods=["POST"]),
        Route(f"{at}/grow", _grow, methods=["POST"]),
        Route(f"{at}/write", _write, methods=["POST"]),
        Route(f"{at}/progress", _progress),
        Route(f"{at}/papers", _papers),
        Route(f"{at}/papers/{{file}}", _file),
    ]


async def _page(request: Request) -> Response:
    board = await board_of(request)
    about = {"shares": _SHARES, "fewest": FEWEST, "most": MOST, "empty": hanging.EMPTY}
    return answers.page("wall", name=board.folder.name, **about)


async def _wall(request: Request) -> tuple[Board, dict[str, Any]]:
    """The board and the wall that a request brings. Raises BadInput."""
    board, given = await board_of(request), await given_to(request)
    held = {int(path.stem) for path in square_files(board.folder)}
    return board, hanging.wall_of(given, held)


async def _hung(board: Board, wall: Mapping[str, Any]) -> Response:
    return JSONResponse(await asyncio.to_thread(board.changed, lambda marks: marks.hang(wall)))


@in_turn
async def _hang(request: Request) -> Response:
    return await _hung(*await _wall(request))


async def _fill(request: Request) -> Response:
    board, wall = await _wall(request)
    marks = await asyncio.to_thread(board.marks.told)
    # A square that she changes for another does not come again.
    other = (await given_to(request)).get("without")
    without = [*marks["away"], *([other] if isinstance(other, int) else [])]
    easel = room_of(request).easel
    full = await asyncio.wrap_future(easel.ask(hanging.filled, str(board.folder), wall, marks["kept"], without))
    if other is not None and 0 in full["frames"]:
        raise BadInput("no other of these squares belongs there; take it off, and find a new one for the empty frame")
    return await _hung(board, full)


async def _grow(request: Request) -> Response:
    board, wall = await _wall(request)
    await asyncio.to_thread(board.changed, lambda marks: marks.hang(wall))
    await asyncio.to_thread(room_of(request).grow, board.folder.name, wall)
    return JSONResponse({})


async def _write(request: Request) -> Response:
    board, wall = await _wall(request)
    wall["frames"] = [number for number in wall["frames"] if number]
    if len(wall["frames"]) < FEWEST:
        raise BadInput(f"a wall has {FEWEST} squares at the least")
    room = room_of(request)
    into = await asyncio.to_thread(hanging.place_of, room.folder, board.folder.name)
    given = str(board.folder), wall, str(into)
    await asyncio.to_thread(board.write, 0, hanging.write_wall, given, room.stream())
    return JSONResponse({})


async def _progress(request: Request) -> Response:
    board = await board_of(request)
    if 0 not in board.scribes:
        raise BadInput("no papers of the wall are being made")
    return StreamingResponse(board.scribes[0].stream.lines(answers.after(request)), media_type="text/event-stream")


def _place(request: Request, board: Board) -> Path:
    room = room_of(request)
    return hanging.place_of(room.folder, board.folder.name)


async def _papers(request: Request) -> Response:
    """Where the papers of the wall are, if they are there, and the command that makes them."""
    board = await board_of(request)

    def told() -> dict[str, Any]:
        place, wall = _place(request, board), board.marks.told()["wall"] or hanging.EMPTY
        out = place.name
        busy = 0 in board.scribes and not board.scribes[0].stream.over
        sheet = place / hanging.PAPERS[0]
        at = str(sheet.stat().st_mtime_ns) if sheet.is_file() else ""
        titles = "\n".join(hanging.titles_of(wall))
        named = wall["title"], _TITLES if titles.strip() else ""
        line = typed.hanging(board.folder.name, wall["frames"], wall["share"], *named, out)
        told = {"study": out if at else "", "at": at, "busy": busy, "command": line if any(wall["frames"]) else ""}
        return {**told, "titles": titles if titles.strip() else "", "titles_file": _TITLES}

    return JSONResponse(await asyncio.to_thread(told))


async def _file(request: Request) -> Response:
    board, name = await board_of(request), request.path_params["file"]
    path = await asyncio.to_thread(_place, request, board) / name
    if name not in hanging.PAPERS or not path.is_file():
        raise BadInput("there is no paper of that name")
    room_of(request).folder.refuse_outside(path)
    kind = "image/png" if name.endswith(".png") else "application/pdf"
    how = "attachment" if "save" in request.query_params else "inline"
    headers = {**(OF_PDF if kind != "image/png" else {}), "content-disposition": f'{how}; filename="{name}"'}
    return FileResponse(path, media_type=kind, headers=headers)
