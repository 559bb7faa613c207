"""`stampwork studio` as it is run: its one line, where it listens, and how it ends."""

from __future__ import annotations

import json
import re
import signal
import socket
import time
from pathlib import Path
from types import SimpleNamespace

import pytest
from asked import Ask
from fakes import petal, plain_square
from studios import SVG, running

from constraints.brief import Brief
from explore import cli
from explore.storage.picks import Picks, write_picks
from explore.storage.study import create
from explore.studio.opening import Opened, opened
from explore.studio.server import bound


def asked(port: int, head: str) -> str:
    with socket.create_connection(("127.0.0.1", port), 5) as line:
        line.sendall(head.encode())
        parts = []
        try:
            while part := line.recv(100_000):
                parts.append(part)
        except ConnectionResetError:
            parts.append(b"")  # what it would not read is thrown back
        return b"".join(parts).decode("utf-8", "replace")


def alive(group: int) -> list[int]:
    """The processes of a session that are still there."""
    found = []
    for path in Path("/proc").glob("[0-9]*/stat"):
        try:
            rest = path.read_text().rpartition(") ")[2].split()
        except (FileNotFoundError, ProcessLookupError):
            continue
        if int(rest[3]) == group and rest[0] != "Z":
            found.append(int(path.parent.name))
    return found


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="processes are counted where the system lists them")
@pytest.mark.parametrize("how", [signal.SIGINT, signal.SIGTERM], ids=["Ctrl-C", "SIGTERM"])
def test_it_ends_at_once_with_all_its_processes_while_a_tab_listens(tmp_path: Path, how: signal.Signals) -> None:
    (tmp_path / "kite.svg").write_text(SVG)
    with running(tmp_path) as studio:
        host = f"Host: 127.0.0.1:{studio.port}\r\n"
        path = studio.address.split(str(studio.port), 1)[1]
        entered = asked(studio.port, f"GET {path} HTTP/1.1\r\n{host}Connection: close\r\n\r\n")
        cookie = entered.partition("set-cookie: ")[2].partition(";")[0]
        head = f"{host}Cookie: {cookie}\r\nConnection: close\r\n\r\n"
        # With the process that reads others are begun.
        assert '"outline"' in asked(studio.port, f"GET /prints/read?of=kite.svg HTTP/1.1\r\n{head}")
        assert len(alive(studio.process.pid)) > 1
        with socket.create_connection(("127.0.0.1", studio.port), 20) as listening:
            listening.sendall(f"GET /prints/ribbon?of=kite.svg HTTP/1.1\r\n{head}".encode())
            assert b"text/event-stream" in listening.recv(10_000)
            assert studio.end(how) < 3
        assert studio.process.returncode == 0
        until = time.monotonic() + 5
        while alive(studio.process.pid) and time.monotonic() < until:
            time.sleep(0.05)
        assert alive(studio.process.pid) == []
        assert studio.process.stderr is not None
        assert "Traceback" not in studio.process.stderr.read()


def test_it_ends_without_ado_while_what_is_learnt_of_her_taste_is_waited_for(tmp_path: Path) -> None:
    study = create(tmp_path / "petals", Brief.of(stamp="petal"), (petal(),), (SVG.encode(),))
    study.keep(plain_square(1), 1).keep(plain_square(2), 2)
    write_picks(study.folder, Picks("petals", (1,), {}))
    with running(tmp_path) as studio:
        host = f"Host: 127.0.0.1:{studio.port}\r\n"
        path = studio.address.split(str(studio.port), 1)[1]
        entered = asked(studio.port, f"GET {path} HTTP/1.1\r\n{host}Connection: close\r\n\r\n")
        cookie = entered.partition("set-cookie: ")[2].partition(";")[0]
        with socket.create_connection(("127.0.0.1", studio.port), 20) as waiting:
            # What learns her taste has much to load.
            waiting.sendall(f"GET /study/petals/taste HTTP/1.1\r\n{host}Cookie: {cookie}\r\n\r\n".encode())
            time.sleep(0.2)
            # Processes that are just being begun are waited for.
            assert studio.end(signal.SIGINT) < 20
        assert studio.process.returncode == 0
        assert studio.process.stderr is not None
        assert studio.process.stderr.read() == ""


def test_who_says_nothing_or_nonsense_or_too_much_is_served_nothing(tmp_path: Path) -> None:
    with running(tmp_path) as studio, socket.create_connection(("127.0.0.1", studio.port), 30) as silent:
        silent.sendall(b"GET / HTTP/1.1\r\nHost: ")
        begun = time.monotonic()
        assert asked(studio.port, "nonsense\r\n\r\n").startswith("HTTP/1.1 400 ")
        endless = asked(studio.port, f"GET / HTTP/1.1\r\nHost: 127.0.0.1:{studio.port}\r\nX: {'x' * 200_000}\r\n\r\n")
        assert re.match("HTTP/1.1 4|$", endless)
        twice = f"GET / HTTP/1.1\r\nHost: 127.0.0.1:{studio.port}\r\nHost: evil.example\r\n\r\n"
        assert asked(studio.port, twice).startswith("HTTP/1.1 4")
        # The head of the first request never ends.
        silent.settimeout(20)
        assert silent.recv(1000) == b""
        assert 5 < time.monotonic() - begun < 20


def test_it_listens_on_the_loopback_alone() -> None:
    with bound(0) as at, bound(0) as other:
        assert at.getsockname()[0] == other.getsockname()[0] == "127.0.0.1"
        assert at.getsockname()[1] != other.getsockname()[1]


def test_a_port_that_is_taken_is_told(ask: Ask) -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        status, _, errors = ask("studio", "--no-open", "--port", str(port))
    assert (status, len(errors)) == (2, 1)
    assert errors[0].startswith(f"stampwork: --port is {port}, which cannot be had (")


def test_it_is_opened_on_a_print_a_study_a_folder_or_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("kite.svg").write_text(SVG)
    Path("garden").mkdir()
    create(Path("garden/kite-study"), Brief.of(stamp="petal"), (petal(),), (SVG.encode(),))
    assert opened(None, None) == Opened(Path())
    assert opened(Path("garden"), None) == Opened(Path("garden"))
    assert opened(Path("kite.svg"), Path("garden")) == Opened(Path("garden"), "print", Path("kite.svg"))
    assert opened(Path("garden/kite-study"), None) == Opened((tmp_path / "garden").resolve(), "/study/kite-study")
    assert opened(Path("tulip"), None) == Opened(Path(), "/print?of=tulip")


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["nowhere"], "stampwork: nowhere does not exist; allowed: a print, a study, a folder, or one of bee,"),
        (["notes.txt"], "stampwork: notes.txt is no picture of a print; allowed: "),
        (["--folder", "nowhere"], "stampwork: --folder is nowhere, which is no folder"),
        (["garden", "--folder", "."], "stampwork: --folder is . and garden is a folder too; give one of them"),
    ],
)
def test_what_cannot_be_opened_is_one_line(
    words: list[str], told: str, ask: Ask, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("notes.txt").write_text("x")
    Path("garden").mkdir()
    status, _, errors = ask("studio", *words)
    assert (status, len(errors)) == (2, 1)
    assert errors[0].startswith(told)


def test_the_browser_is_opened_at_the_address_unless_that_is_not_wanted(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    shown: list[str] = []
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("explore.studio.opening.browser", lambda: SimpleNamespace(open=shown.append))
    monkeypatch.setattr("explore.studio.opening.serve", lambda app, at, ready, over: ready())
    for words in ([], ["--no-open"]):
        assert cli.run(["studio", *words]) == 0
    lines = capsys.readouterr().out.splitlines()
    time.sleep(0.1)
    assert len(lines) == 2
    assert shown == [lines[0].split()[1]]


def test_a_program_is_told_where_it_answers_and_once_it_has_ended_so_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("explore.studio.opening.serve", lambda app, at, ready, over: ready())
    assert cli.run(["studio", "--no-open", "--json"]) == 0
    out, err = capsys.readouterr()
    told = json.loads(out)
    assert set(told) == {"stampwork", "command", "files", "next", "address", "folder"}
    assert err.startswith(f"studio: {told['address']}/")
    assert told["address"].startswith("http://127.0.0.1:")
