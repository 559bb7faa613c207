"""A sample of the recording, while the inside is rebuilt. Temporary: the whole folder goes when that ends."""

from __future__ import annotations

import json
from importlib import metadata

import pytest
import record

# By task: the commands that are run again.
SAMPLE = {
    "square-stamp-full": ("check", "work", "pricking"),
    "across-none": ("check", "diagram"),
    "strip-half-scallop": ("check", "materials"),
    "frame-stamp": ("work of habits", "show"),
    "search-explore-bare-full": ("1 explore",),
    "search-explore-strip": ("1 explore",),
    "search-mends-width": ("1 explore",),
    "search-redraft": ("1 redraft",),
    "search-refused-words": ("1 explore", "2 explore", "3 explore"),
}
DRAWN = (".pdf", ".png", ".svg", ".html")


@pytest.mark.parametrize("name", SAMPLE)
def test_what_she_gets_is_what_was_recorded(name: str) -> None:
    (task,) = (each for each in record.everything(words=[name]) if each.name == name)
    result = record.done(record.part(task, SAMPLE[name]), None)
    lines = record.differences(name, record.recorded()[name], result.digests)
    # Other versions of what draws draw otherwise; what a search finds rests on versions that are pinned.
    with (record.HERE / "drawn_with.json").open(encoding="utf-8") as file:
        alike = all(metadata.version(tool) == version for tool, version in json.load(file).items())
    assert [line for line in lines if alike or not any(f"{ending}: " in line for ending in DRAWN)] == []


def test_every_task_is_recorded_with_every_command() -> None:
    now = {task.name: set(task.commands) for task in record.everything()}
    assert {name: set(digests) for name, digests in record.recorded().items()} == now
