"""The threshold of the studio: who may come in, how much they may bring, and what every answer says for safety.

Pages of other servers run in the same browser, and names can be made to lead here (DNS rebinding). So a request is let
in only if it is addressed to the loopback, comes from no other page, and bears the pass that is given once for the key
in the address. Headers as the Fetch, CSP 3 and RFC 6265bis (SameSite) texts have them.
"""

from __future__ import annotations

import asyncio
import hmac
import json
import secrets
from urllib.parse import parse_qs

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

# Where the key of the address is handed in.
ENTRANCE = "/come-in"
# The most that a request brings, bytes: a print; anything else. And how long it may take to bring it, s.
MOST_PRINT, MOST_WORDS, PATIENCE = 64 * 10**6, 64_000, 20.0
PRINTS = "/prints"

_READING = {"GET", "HEAD"}
_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; font-src 'self'; connect-src 'self'; "
    "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
_SAFE = {
    "content-security-policy": _POLICY,
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), microphone=(), geolocation=()",
}
_KEPT_OUT = "The studio does not know this page. Come in by the address that its terminal shows."


class Threshold:
    """Every request passes here first. port: at which the studio is. first: the page that is shown to who comes in."""

    def __init__(self, within: ASGIApp, port: int, first: str = "/", patience: float = PATIENCE) -> None:
        self._within, self._first, self._patience = within, first, patience
        self._hosts = {f"{name}:{port}" for name in ("127.0.0.1", "localhost")}
        self.key, self._pass = secrets.token_urlsafe(32), secrets.token_urlsafe(32)
        # Cookies know no ports: two studios at a time need two names.
        self._cookie = f"studio-{port}"

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            return  # nothing else is spoken here

        async def send_safely(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in _SAFE.items():
                    headers.setdefault(name, value)
                headers.setdefault("cache-control", "no-store")
            await send(message)

        answer = self._stopped(scope)
        if answer is None and scope["method"] not in _READING:
            receive, answer = await self._carried(scope, receive)
        await (answer or self._within)(scope, receive, send_safely)

    def _stopped(self, scope: Scope) -> Response | None:
        """The answer to a request that gets no further; None for one that is let in."""
        headers = Headers(scope=scope)
        host, origin = headers.getlist("host"), headers.getlist("origin")
        if len(host) != 1 or host[0] not in self._hosts:
            return _refused(421, _KEPT_OUT)
        reading = scope["method"] in _READING
        if origin != [f"http://{host[0]}"] and (origin or not reading):
            return _refused(403, _KEPT_OUT)
        if headers.get("sec-fetch-site", "none") not in ("none", "same-origin"):
            return _refused(403, _KEPT_OUT)
        if scope["path"] == ENTRANCE and reading:
            return self._let_in(scope)
        return None if self._has_pass(headers) else _refused(403, _KEPT_OUT)

    def _let_in(self, scope: Scope) -> Response:
        given = parse_qs(scope["query_string"].decode("latin-1")).get("key", [""])
        if not _same(given[-1], self.key):
            return _refused(403, _KEPT_OUT)
        answer = RedirectResponse(self._first, status_code=303)
        answer.set_cookie(self._cookie, self._pass, httponly=True, samesite="strict", path="/")
        return answer

    def _has_pass(self, headers: Headers) -> bool:
        pairs = (each.strip().partition("=") for line in headers.getlist("cookie") for each in line.split(";"))
        return any(name == self._cookie and _same(value, self._pass) for name, _, value in pairs)

    async def _carried(self, scope: Scope, receive: Receive) -> tuple[Receive, Response | None]:
        """What a request brings, taken in whole before anything is done with it; or the answer to one that brings too
        much or takes too long."""
        most = MOST_PRINT if scope["path"] == PRINTS else MOST_WORDS
        told = Headers(scope=scope).get("content-length", "0")
        if not told.isdecimal() or int(told) > most:
            return receive, _refused(413, too_large(most))
        parts: list[bytes] = []
        try:
            async with asyncio.timeout(self._patience):
                more = True
                while more:
                    message = await receive()
                    if message["type"] == "http.disconnect":
                        return receive, _refused(400, "The request broke off.")
                    parts.append(message.get("body", b""))
                    more = message.get("more_body", False)
                    if sum(map(len, parts)) > most:
                        return receive, _refused(413, too_large(most))
        except TimeoutError:
            return receive, _refused(408, "It took too long to arrive; try again.")
        return _handing_on(b"".join(parts), receive), None


def _handing_on(body: bytes, receive: Receive) -> Receive:
    """What gives a body that is there already, and after it what else comes."""
    given = False

    async def hand_on() -> Message:
        nonlocal given
        if given:
            return await receive()
        given = True
        return {"type": "http.request", "body": body, "more_body": False}

    return hand_on


def too_large(most: int) -> str:
    """What is said of more than so many bytes."""
    return f"That is larger than {most // 10**6} MB, the most that is read." if most >= 10**6 else "That is too long."


def told(status: int, words: str, **more: object) -> Response:
    """A refusal that the page shows as one line."""
    content = json.dumps({"why": words, **more}, ensure_ascii=False)
    return Response(content, status, media_type="application/json")


def _refused(status: int, words: str) -> Response:
    # Who brings too much is not waited for.
    return PlainTextResponse(words, status, headers={"connection": "close"})


def _same(given: str, own: str) -> bool:
    return hmac.compare_digest(given.encode("utf-8", "replace"), own.encode())
