"""What the page of a ladder asks for: a print at rising numbers of pairs, told as it is worked out."""

from __future__ import annotations

import asyncio
from urllib.parse import urlencode

from starlette.requests import Request
from starlette.responses import Response, StreamingResponse
from starlette.routing import Route

from explore.asking.stamps import stamp_name
from explore.bad_input import BadInput
from explore.studio import answers, typed
from explore.studio.answers import room_of
from explore.studio.ladder import RUNGS, PrintLadder
from explore.studio.of_prints import turn_of


def routes() -> list[Route]:
    """Those of ladders."""
    return [Route("/ladder", _page), Route("/ladder/told", _told), Route("/ladder/drawing", _drawing)]


async def _page(request: Request) -> Response:
    reference, turn, room = request.query_params.get("of", ""), turn_of(request), room_of(request)
    await asyncio.to_thread(room.prints.path, reference)
    asked = {"of": reference, **({} if turn is None else {"turn": f"{turn:g}"})}
    return answers.page(
        "ladder",
        name=stamp_name(reference.removeprefix("opened:")),
        asked=urlencode(asked),
        rungs=RUNGS,
        command=typed.budgeting(room.prints.word(reference), turn, RUNGS),
    )


async def _ladder(request: Request) -> PrintLadder:
    return await asyncio.to_thread(room_of(request).ladder, request.query_params.get("of", ""), turn_of(request))


async def _told(request: Request) -> Response:
    ladder = await _ladder(request)
    return StreamingResponse(ladder.stream.lines(answers.after(request)), media_type="text/event-stream")


async def _drawing(request: Request) -> Response:
    ladder = await _ladder(request)
    svg = ladder.drawings.get((answers.number(request, "pairs"), request.query_params.get("state", "")))
    if svg is None:
        raise BadInput("there is no drawing of so many pairs")
    return answers.svg(svg.encode())
