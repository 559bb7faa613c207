"""Tabs of a studio in a real browser."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, Page, expect
from studios import Running

# What axe looks for: WCAG 2.2 AA and all before it.
RULES = {"runOnly": {"type": "tag", "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}}

# So long is waited for what comes at once on an idle machine, ms: others may be at work too.
_PATIENCE = 40_000


@contextmanager
def tab(browser: Browser, studio: Running, **options: object) -> Iterator[Page]:
    """A browser that has come in; whatever its pages complain of fails the test."""
    context: BrowserContext = browser.new_context(**options)
    context.set_default_timeout(_PATIENCE)
    expect.set_options(timeout=_PATIENCE)
    complaints: list[str] = []
    context.on("console", lambda message: complaints.append(f"{message.type}: {message.text}"))
    context.on("weberror", lambda error: complaints.append(str(error.error)))
    page = context.new_page()
    page.goto(studio.address)
    yield page
    assert complaints == []
    context.close()


def drop(page: Page, name: str, text: str) -> None:
    """A file let go over the page."""
    data = page.evaluate_handle(
        "([name, text]) => { const held = new DataTransfer(); held.items.add(new File([text], name)); return held; }",
        [name, text],
    )
    page.dispatch_event("#drop", "dragover", {"dataTransfer": data})
    page.dispatch_event("#drop", "drop", {"dataTransfer": data})


def amiss(page: Page) -> list[tuple[str, list[str]]]:
    """What axe finds amiss on a page, each with the first few places of it."""
    found = Axe().run(page, options=RULES).response["violations"]
    return [(each["id"], [node["html"] for node in each["nodes"]][:3]) for each in found]
