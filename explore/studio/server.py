"""The server of the studio: on the loopback alone, at rest while nobody asks, ended at once by Ctrl-C and SIGTERM."""

from __future__ import annotations

import asyncio
import signal
import socket
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType
from typing import Any

import uvicorn
from starlette.types import ASGIApp
from uvicorn.protocols.http.h11_impl import H11Protocol

from explore.bad_input import BadInput

LOOPBACK = "127.0.0.1"
# So long may the head of a request take to arrive, s; and so many connections are open at a time.
_HEAD, _CONNECTIONS = 10.0, 200


def bound(port: int) -> socket.socket:
    """A socket on the loopback, at a free port if that is 0. Raises BadInput if the port is taken."""
    made = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        made.bind((LOOPBACK, port))
    except OSError as error:
        made.close()
        raise BadInput(
            f"port is {port}, which cannot be had ({error.strerror}); 0 takes a free one", of="port"
        ) from None
    return made


def serve(app: ASGIApp, at: socket.socket, ready: Callable[[], None], over: Callable[[], None]) -> None:
    """Answer until Ctrl-C or SIGTERM. ready: called once it answers; over: as soon as it is to end, so that what
    is told without end ends too."""
    config = uvicorn.Config(
        app,
        http=PatientProtocol,
        ws="none",
        lifespan="off",
        log_config=None,
        access_log=False,
        server_header=False,
        date_header=False,
        limit_concurrency=_CONNECTIONS,
        timeout_graceful_shutdown=1,
    )
    _QuietServer(config, ready, over).run(sockets=[at])


class _QuietServer(uvicorn.Server):
    """It waits to be ended without looking again and again whether it shall."""

    def __init__(self, config: uvicorn.Config, ready: Callable[[], None], over: Callable[[], None]) -> None:
        super().__init__(config)
        self._ready, self._over = ready, over

    async def main_loop(self) -> None:
        """From the first answer on until a signal."""
        self._loop, self._ended = asyncio.get_running_loop(), asyncio.Event()
        if self.should_exit:
            self._ended.set()
        self._ready()
        await self._ended.wait()
        self._over()

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        """A signal: end, and at the second one do not wait for anybody."""
        self.force_exit = self.should_exit
        self.should_exit = True
        if hasattr(self, "_ended"):
            self._loop.call_soon_threadsafe(self._ended.set)

    @contextmanager
    def capture_signals(self) -> Iterator[None]:
        """Signals end the server, and not the command that goes on after it."""
        before = {each: signal.signal(each, self.handle_exit) for each in (signal.SIGINT, signal.SIGTERM)}
        try:
            yield
        finally:
            for each, handler in before.items():
                signal.signal(each, handler)


class PatientProtocol(H11Protocol):
    """HTTP, but who opens a connection and does not say what is wanted is not waited for."""

    def connection_made(self, transport: Any) -> None:
        """A connection is open."""
        super().connection_made(transport)
        self._late = self.loop.call_later(_HEAD, self._too_late)

    def connection_lost(self, exc: Exception | None) -> None:
        """A connection is closed."""
        self._late.cancel()
        super().connection_lost(exc)

    def _too_late(self) -> None:
        if self.cycle is None:
            self.transport.close()
