"""The studio as a program that answers requests: its table, and what belongs to prints and to studies."""

from __future__ import annotations

import asyncio
from typing import Any
from urllib.parse import quote

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from constraints.stopping import Stopped
from explore.asking.stamps import stamp_name
from explore.bad_input import BadInput
from explore.reading import built_in_names
from explore.storage.study import square_files
from explore.studio import answers, of_ladders, of_mirrors, of_papers, of_prints, of_studies, of_walls
from explore.studio.answers import room_of
from explore.studio.board import colours_in, form_of, numbers_kept
from explore.studio.workroom import Workroom


def app(room: Workroom) -> Starlette:
    """The studio of a workroom, without its threshold."""
    made = Starlette(
        routes=[
            Route("/", _table),
            Route("/parts/{name}", answers.part),
            *of_prints.routes(),
            *of_ladders.routes(),
            *of_papers.routes(),
            *of_walls.routes(),
            *of_mirrors.routes(),
            *of_studies.routes(),
        ],
        exception_handlers={
            HTTPException: answers.refused,
            BadInput: answers.refused,
            OSError: answers.refused,
            Stopped: answers.ending,
            Exception: answers.failed,
        },
    )
    made.state.room = room
    return made


async def _table(request: Request) -> Response:
    room = room_of(request)

    def held() -> dict[str, Any]:
        return {
            "prints": [(each, stamp_name(each.removeprefix("opened:"))) for each in room.prints.references()],
            "ours": [(each, each) for each in built_in_names()],
            "studies": [_study(room, each) for each in room.folder.studies()],
        }

    return answers.page("table", **await asyncio.to_thread(held))


def _study(room: Workroom, name: str) -> dict[str, str]:
    """A study as it is shown among others: by a square that she kept, else its first."""
    folder = room.folder.study(name)
    numbers = [int(path.stem) for path in square_files(folder)]
    kept = [number for number in numbers_kept(folder) if number in numbers]
    told = f"{len(numbers)} {form_of(folder)}{'' if len(numbers) == 1 else 's'}"
    told += f", {len(kept)} kept" if kept else ""
    first = f"/study/{quote(name)}/{(kept or numbers)[0]}/lace.svg?in={colours_in(folder).ink}" if numbers else ""
    return {"name": name, "told": told, "first": first}
