"""Tabs of a studio in a real browser."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from playwright.sync_api import Browser, BrowserContext, Page, expect
from studios import Running


@contextmanager
def tab(browser: Browser, studio: Running, **options: object) -> Iterator[Page]:
    """A browser that has come in; whatever its pages complain of fails the test."""
    context: BrowserContext = browser.new_context(**options)
    context.set_default_timeout(15_000)
    expect.set_options(timeout=15_000)
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
