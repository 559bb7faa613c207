"""What is told to every tab: all that was, or how things stand now."""

from __future__ import annotations

import asyncio

from explore.studio.streams import Stream


def test_whoever_comes_later_hears_all_and_whoever_comes_again_the_rest() -> None:
    stream = Stream()
    for number in range(3):
        stream.tell(number=number)
    stream.close()
    stream.tell(number=9)

    async def heard(after: int) -> list[int]:
        return [event["number"] async for _, event in stream.listen(after)]

    assert asyncio.run(heard(0)) == [0, 1, 2]
    assert asyncio.run(heard(2)) == [2]


def test_of_how_things_stand_whoever_comes_later_hears_the_last_alone() -> None:
    stream = Stream()
    for number in range(3):
        stream.tell(kind="marks", number=number)
        stream.tell(kind="square", number=number)
    stream.close()

    async def heard(after: int) -> list[tuple[int, str, int]]:
        return [(at, event["kind"], event["number"]) async for at, event in stream.listen(after)]

    assert asyncio.run(heard(0)) == [(2, "square", 0), (4, "square", 1), (5, "marks", 2), (6, "square", 2)]
    assert asyncio.run(heard(4)) == [(5, "marks", 2), (6, "square", 2)]
