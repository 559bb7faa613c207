"""The threshold of the studio: an attacker's pages and scripts are served nothing, and nothing of theirs is done.

What browsers send is as the Fetch standard has it: Origin with every POST, Sec-Fetch-Site with every request to the
loopback; other pages can set neither.
"""

from __future__ import annotations

import asyncio
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Route
from starlette.testclient import TestClient
from starlette.types import Message
from studios import HOUSE, PORT

from explore.studio import answers, threshold
from explore.studio.threshold import ENTRANCE, Threshold

SECRET = "what is within"


class House:
    """A threshold with something behind it that notes who got in."""

    def __init__(self) -> None:
        self.reached: list[str] = []
        handlers = {Exception: answers.failed}
        routes = [
            Route("/", self.within, methods=["GET", "POST", "DELETE"]),
            Route("/prints", self.within, methods=["POST"]),
            Route("/fails", self.fails),
        ]
        self.threshold = Threshold(Starlette(routes=routes, exception_handlers=handlers), PORT, patience=0.2)
        self.client = TestClient(self.threshold, HOUSE, raise_server_exceptions=False, follow_redirects=False)

    async def within(self, request: Request) -> Response:
        body = await request.body()
        self.reached.append(f"{request.method} {len(body)}")
        return PlainTextResponse(SECRET)

    async def fails(self, request: Request) -> Response:
        raise RuntimeError("the inside of the program")

    def come_in(self) -> Response:
        answer = self.client.get(ENTRANCE, params={"key": self.threshold.key})
        assert answer.status_code == 303
        return answer


@pytest.fixture
def house() -> House:
    return House()


@pytest.fixture
def inside(house: House) -> House:
    house.come_in()
    return house


def test_who_has_the_key_is_let_in_for_good_and_the_key_is_not_in_the_next_address(house: House) -> None:
    answer = house.come_in()
    assert answer.headers["location"] == "/"
    cookie = answer.headers["set-cookie"]
    assert cookie.startswith(f"studio-{PORT}=")
    assert house.threshold.key not in cookie
    assert {"httponly", "samesite=strict", "path=/"} <= set(cookie.lower().split("; "))
    assert house.client.get("/").text == SECRET


def test_keys_are_long_and_no_two_alike() -> None:
    keys = {Threshold(PlainTextResponse(""), PORT).key for _ in range(20)}
    assert len(keys) == 20
    # 32 random bytes in base64 (RFC 4648) are 43 signs.
    assert all(len(key) >= 43 for key in keys)


@pytest.mark.parametrize("key", ["", "x", "é", "x" * 5000, "\r\nset-cookie: a=b"])
def test_no_other_key_lets_in(house: House, key: str) -> None:
    answer = house.client.get(ENTRANCE, params={"key": key})
    assert (answer.status_code, "set-cookie" in answer.headers) == (403, False)
    assert house.client.get("/").status_code == 403


def test_a_pass_of_an_earlier_studio_lets_nobody_in(house: House) -> None:
    earlier = House()
    earlier.come_in()
    house.client.cookies = earlier.client.cookies
    assert house.client.get("/").status_code == 403
    assert house.reached == []


HOSTS = ["evil.example", f"evil.example:{PORT}", "127.0.0.1", f"127.0.0.1:{PORT + 1}",
         f"127.0.0.1.evil.example:{PORT}", ""]  # fmt: skip


@pytest.mark.parametrize("host", HOSTS)
@pytest.mark.parametrize("path", ["/", ENTRANCE])
def test_a_name_that_was_made_to_lead_here_is_no_address_of_it(inside: House, host: str, path: str) -> None:
    """DNS rebinding: the browser sends the pass, for it takes the name for this house."""
    answer = inside.client.get(path, params={"key": inside.threshold.key}, headers={"host": host})
    assert (answer.status_code, SECRET in answer.text) == (421, False)
    assert inside.reached == []


FOREIGN = ["https://evil.example", "null", f"http://127.0.0.1:{PORT + 1}", f"https://127.0.0.1:{PORT}",
           f"http://localhost:{PORT}"]  # fmt: skip


@pytest.mark.parametrize("origin", FOREIGN)
@pytest.mark.parametrize("method", ["GET", "POST", "DELETE"])
def test_another_page_asks_in_vain(inside: House, method: str, origin: str) -> None:
    answer = inside.client.request(method, "/", headers={"origin": origin})
    assert (answer.status_code, inside.reached) == (403, [])


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_what_another_page_fetches_without_telling_its_origin_is_not_served(inside: House, site: str) -> None:
    assert inside.client.get("/", headers={"sec-fetch-site": site}).status_code == 403
    assert inside.client.get("/", headers={"sec-fetch-site": "none"}).text == SECRET


def test_nothing_is_done_for_who_does_not_tell_an_origin(inside: House) -> None:
    assert inside.client.post("/").status_code == 403
    assert inside.reached == []
    assert inside.client.post("/", headers={"origin": HOUSE}).text == SECRET


def test_every_answer_is_safe_to_show_also_refusals_and_failures(inside: House) -> None:
    every = [inside.client.get("/"), inside.client.get("/nowhere"), inside.client.get("/fails"), inside.come_in(),
             inside.client.get("/", headers={"host": "evil.example"}), inside.client.post("/")]  # fmt: skip
    assert [each.status_code for each in every] == [200, 404, 500, 303, 421, 403]
    for answer in every:
        # What OWASP's list of secure headers asks of pages that are nobody else's (from memory).
        assert answer.headers["x-content-type-options"] == "nosniff"
        assert answer.headers["referrer-policy"] == "no-referrer"
        assert answer.headers["cache-control"] == "no-store"
        assert answer.headers["cross-origin-resource-policy"] == "same-origin"
        policy = dict(each.split(" ", 1) for each in answer.headers["content-security-policy"].split("; "))
        assert policy["default-src"] == policy["frame-ancestors"] == policy["base-uri"] == "'none'"
        assert {value for name, value in policy.items() if name.endswith("-src")} == {"'none'", "'self'"}


def test_a_failure_is_one_line_for_her_and_the_rest_is_left_to_the_log(inside: House) -> None:
    told = inside.client.get("/fails").json()["why"]
    assert "terminal" in told
    assert "inside" not in told
    assert "\n" not in told
    with pytest.raises(RuntimeError):
        # What the server is given to log.
        TestClient(inside.threshold, HOUSE, cookies=dict(inside.client.cookies)).get("/fails")


def sent_in_parts(size: int) -> Iterator[bytes]:
    """A body whose length is not told beforehand."""
    for _ in range(0, size, 50_000):
        yield b"x" * 50_000


@pytest.mark.parametrize("told", [True, False], ids=["length told", "in parts"])
@pytest.mark.parametrize(("path", "most"), [("/", threshold.MOST_WORDS), ("/prints", threshold.MOST_PRINT)])
def test_more_than_is_read_is_turned_away(inside: House, path: str, most: int, told: bool) -> None:
    content = b"x" * (most + 1) if told else sent_in_parts(most + 50_000)
    answer = inside.client.post(path, content=content, headers={"origin": HOUSE})
    assert (answer.status_code, inside.reached) == (413, [])
    assert re.search("larger than 64 MB|too long", answer.text)


@pytest.mark.parametrize("length", ["-1", "1e3", "999999999999999999999", "x"])
def test_a_length_that_is_none_is_turned_away(inside: House, length: str) -> None:
    answer = inside.client.post("/", content=b"x", headers={"origin": HOUSE, "content-length": length})
    assert (answer.status_code, inside.reached) == (413, [])


def test_who_sends_and_never_ends_is_not_waited_for(inside: House) -> None:
    answers_given: list[Message] = []
    cookie = "; ".join(f"{name}={value}" for name, value in inside.client.cookies.items())
    headers = {"host": f"127.0.0.1:{PORT}", "origin": HOUSE, "cookie": cookie}
    scope = {
        "type": "http",
        "method": "POST",
        "path": "/prints",
        "query_string": b"",
        "headers": [(name.encode(), value.encode()) for name, value in headers.items()],
    }

    async def drip() -> Message:
        await asyncio.sleep(0.05)
        return {"type": "http.request", "body": b"x", "more_body": True}

    async def note(message: Message) -> None:
        answers_given.append(message)

    asyncio.run(asyncio.wait_for(inside.threshold(scope, drip, note), 5))
    assert answers_given[0]["status"] == 408
    assert inside.reached == []


def test_pages_hold_no_script_and_no_style_of_their_own() -> None:
    """The policy would stop them, and an attacker's with them."""
    folder = Path(answers.__file__).parent / "pages"
    for path in folder.glob("*.html"):
        text = path.read_text(encoding="utf-8")
        assert not re.search(r"<script(?! type=\"module\" src=\"/parts/)|<style|\son\w+=|\sstyle=|javascript:", text), (
            path
        )
        assert "|safe" not in text.replace(" ", "")
        assert not re.search(r"(?:src|href)=\"(?!/|#|\{\{)", text), path


def test_scripts_never_make_markup_of_words() -> None:
    folder = Path(answers.__file__).parent / "scripts"
    for path in folder.glob("*.js"):
        text = path.read_text(encoding="utf-8")
        assert not re.search(r"innerHTML|outerHTML|insertAdjacentHTML|document\.write|eval\(|new Function", text), path
        assert not re.search(r"https?://(?!www\.w3\.org/)", text), path
