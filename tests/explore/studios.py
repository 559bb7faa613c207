"""A studio without a browser: its threshold and its pages on a folder, and a client that has been let in."""

from __future__ import annotations

import asyncio
import os
import re
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from queue import Queue
from typing import Any

import pytest
from starlette.testclient import TestClient

from explore.search.attempt import Defect
from explore.studio.app import app
from explore.studio.streams import Stream
from explore.studio.threshold import ENTRANCE, Threshold
from explore.studio.workroom import Workroom

PORT = 4711
HOUSE = f"http://127.0.0.1:{PORT}"
SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="40" height="40"><path d="M2 2 H38 L20 38 Z"/></svg>'


@dataclass
class Visited:
    """A studio as a page of it sees it. stranger: who has no pass."""

    room: Workroom
    threshold: Threshold
    client: TestClient

    @property
    def stranger(self) -> TestClient:
        return TestClient(self.threshold, base_url=HOUSE, raise_server_exceptions=False)

    def post(self, path: str, data: bytes | str = "{}") -> tuple[int, dict[str, object]]:
        answer = self.client.post(path, content=data, headers={"origin": HOUSE})
        return answer.status_code, answer.json()


@contextmanager
def visited(folder: Path, cores: int = 1) -> Iterator[Visited]:
    with Workroom(folder, cores=cores) as room:
        threshold = Threshold(app(room), PORT)
        client = TestClient(threshold, base_url=HOUSE, raise_server_exceptions=False, follow_redirects=False)
        assert client.get(ENTRANCE, params={"key": threshold.key}).status_code == 303
        yield Visited(room, threshold, client)


def told(house: Visited, name: str, enough: Any, within: float = 60) -> list[dict[str, Any]]:
    """The events of a study until there are enough of them."""
    events: list[dict[str, Any]] = []

    async def hear() -> None:
        async for _, event in house.room.board(name).stream.listen():
            events.append(dict(event))
            if enough(events):
                return

    asyncio.run(asyncio.wait_for(hear(), within))
    return events


def heard(stream: Stream, *ends: str) -> list[dict[str, Any]]:
    """All that a stream tells up to an event of one of these kinds."""
    events: list[dict[str, Any]] = []

    async def hear() -> None:
        async for _, event in stream.listen():
            events.append(dict(event))
            if event["kind"] in ends:
                return

    asyncio.run(asyncio.wait_for(hear(), 120))
    return events


def ended(events: list[dict[str, Any]]) -> bool:
    return events[-1].get("state") == "ended"


@dataclass
class Running:
    """A studio in a process of its own. address: as its one line tells it. folder: the one it is in."""

    process: subprocess.Popen[str]
    address: str
    folder: Path

    @property
    def port(self) -> int:
        found = re.search(r":(\d+)/", self.address)
        assert found
        return int(found[1])

    def within(self, path: str) -> str:
        """The address of a page."""
        return f"http://127.0.0.1:{self.port}{path}"

    def end(self, how: signal.Signals = signal.SIGTERM) -> float:
        """End it; the seconds that took."""
        begun = time.monotonic()
        self.process.send_signal(how)
        self.process.wait(20)
        return time.monotonic() - begun


@contextmanager
def running(folder: Path, *words: str) -> Iterator[Running]:
    command = [sys.executable, "-m", "explore", "studio", "--no-open", "--cores", "1", *words]
    # In a group of its own, so that Ctrl-C reaches all of it as a terminal sends it.
    process = subprocess.Popen(
        command,
        cwd=folder,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
        env={**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])},
    )
    try:
        assert process.stdout is not None
        line = process.stdout.readline()
        found = re.fullmatch(r"studio: (http://127\.0\.0\.1:\d+/\S+) \(Ctrl-C ends it\)\n", line)
        assert found, (line, process.stderr and process.stderr.read())
        yield Running(process, found[1], folder)
    finally:
        process.kill()
        process.communicate()


def broken_off(monkeypatch: pytest.MonkeyPatch, breaks: str, tells: Callable[[], Stream]) -> None:
    """Work in a thread that meets a defect tells that it failed, and the defect stays one. breaks: what is called and
    meets it. tells: begins the work."""
    met: Queue[object] = Queue()
    monkeypatch.setattr(threading, "excepthook", lambda what: met.put(what.exc_value))

    def defect(*given: object) -> None:
        raise Defect("no piece")

    monkeypatch.setattr(breaks, defect)
    assert heard(tells(), "failed")[-1] == {"kind": "failed"}
    assert isinstance(met.get(timeout=60), Defect)
