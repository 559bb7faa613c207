"""Answers of the studio: pages made of templates, parts of the page, and refusals in one line."""

from __future__ import annotations

import json
import logging
from collections.abc import Awaitable, Callable
from functools import lru_cache, wraps
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from jinja2 import Environment, FunctionLoader, StrictUndefined
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from explore.bad_input import BadInput
from explore.studio.folder import Elsewhere
from explore.studio.threshold import told

if TYPE_CHECKING:
    from explore.studio.workroom import Workroom

_LOG = logging.getLogger(__name__)
_KINDS = {"js": "text/javascript", "css": "text/css", "ttf": "font/ttf", "svg": "image/svg+xml"}
_AMISS = "Something went wrong here. Try it again; the terminal in which the studio was begun tells more."
# Files of the page do not change while the studio runs.
_KEEP = {"cache-control": "private, max-age=86400, immutable"}


def page(template: str, /, **given: Any) -> Response:
    """A page made of the template of that name."""
    return HTMLResponse(_templates().get_template(f"{template}.html").render(given))


def part(request: Request) -> Response:
    """A script, a style or a font that pages are made with."""
    name = request.path_params["name"]
    ending = name.rpartition(".")[2]
    held = _held()
    if name not in held:
        raise HTTPException(404, "There is nothing here.")
    return Response(held[name], media_type=_KINDS[ending], headers=_KEEP)


@lru_cache(maxsize=1)
def _held() -> dict[str, bytes]:
    fonts = files("gallery") / "paper" / "fonts"
    scripts = files("explore") / "studio" / "scripts"
    wanted = [scripts, fonts]
    found = {each.name: each.read_bytes() for place in wanted for each in place.iterdir() if "." in each.name}
    return {name: data for name, data in found.items() if name.rpartition(".")[2] in _KINDS}


@lru_cache(maxsize=1)
def _templates() -> Environment:
    folder = files("explore") / "studio" / "pages"
    load = FunctionLoader(lambda name: (folder / name).read_text(encoding="utf-8"))
    return Environment(loader=load, autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)


async def refused(request: Request, error: Exception) -> Response:
    """What is said of what cannot be taken, and of files that cannot be read or written."""
    match error:
        case HTTPException():
            return _line(request, error.status_code, str(error.detail))
        case BadInput():
            return _line(request, 404 if isinstance(error, Elsewhere) else 422, _sentence(str(error)))
        case OSError():
            _LOG.warning("a file", exc_info=error)
            return _line(request, 507, _sentence(f"{error.strerror or 'a file cannot be used'}: nothing was changed"))
    raise error


async def ending(request: Request, error: Exception) -> Response:
    """What is said to who waits when the studio ends."""
    return _line(request, 503, "The studio ends.")


async def failed(request: Request, error: Exception) -> Response:
    """What is said of a defect; the server logs it."""
    return _line(request, 500, _AMISS)


def in_turn(act: Callable[[Request], Awaitable[Response]]) -> Callable[[Request], Awaitable[Response]]:
    """What changes something small: in the order in which it is asked for, so that of two changes the later one holds,
    however soon they follow each other."""

    @wraps(act)
    async def acted(request: Request) -> Response:
        async with room_of(request).turn:
            return await act(request)

    return acted


def room_of(request: Request) -> Workroom:
    """The workroom that a request is for."""
    room: Workroom = request.app.state.room
    return room


async def given_to(request: Request) -> dict[str, Any]:
    """What a page sends: values by their names. Raises BadInput."""
    try:
        given = json.loads(await request.body())
    except (ValueError, RecursionError):
        given = None
    if not isinstance(given, dict):
        raise BadInput("what was sent cannot be understood")
    return given


def after(request: Request) -> int:
    """The number of the last event that a tab was told; 0 for none."""
    return number(request, "after", 0)


def number(request: Request, name: str, usual: int | None = None) -> int:
    """A whole number in an address. Raises BadInput."""
    text = request.headers.get("last-event-id", "") if name == "after" else ""
    text = text or request.query_params.get(name, "")
    if not text and usual is not None:
        return usual
    if not text.isascii() or not text.isdecimal() or len(text) > 9:
        raise BadInput(f"{name} must be a whole number")
    return int(text)


def svg(data: bytes) -> Response:
    """A drawing of ours; its address has what it shows in it, so that it never changes."""
    return picture(data, "image/svg+xml")


def picture(data: bytes, kind: str) -> Response:
    """The same of any kind."""
    return Response(data, media_type=kind, headers=_KEEP)


def _line(request: Request, status: int, words: str) -> Response:
    words = "".join(c if c.isprintable() else "?" for c in words)
    if "text/html" in request.headers.get("accept", ""):
        answer = page("refused", words=words)
        answer.status_code = status
        return answer
    return told(status, words)


def _sentence(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}{'' if words.endswith('.') else '.'}"
