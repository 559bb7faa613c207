"""What she would have typed: the command that does the same in a terminal, from the folder that is opened."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise

from explore.asking.stamps import BETWEEN_STAMPS
from explore.options import option_words
from explore.program import called, pasted


def looking(word: str, turn: float | None) -> str:
    """How a print falls on the grid."""
    return _line(["stamp", word, *_turned(turn)])


def budgeting(word: str, turn: float | None, rungs: Sequence[int]) -> str:
    """What fits so many pairs, from the fewest to the most."""
    step = min(more - fewer for fewer, more in pairwise(rungs))
    return _line(["budget", word, *_turned(turn), "--pairs", f"{rungs[0]}-{rungs[-1]}", "--every", str(step)])


def finding(word: str, turn: float | None, flags: Mapping[str, str], out: str = "") -> str:
    """Squares for a print, or several with `BETWEEN_STAMPS` between. flags: of the brief. out: the folder of the study,
    if that is known."""
    return _line(
        ["explore", *word.split(BETWEEN_STAMPS), *_turned(turn), *option_words(flags), *(["--out", out] if out else [])]
    )


def going_on(study: str, count: int, taste: str = "") -> str:
    """More squares for a study. taste: as the command takes it, "" for that of its brief."""
    return _line(["explore", study, "--more", str(count), *(["--taste", taste] if taste else [])])


def tasting(study: str) -> str:
    """What is learnt of what is kept."""
    return _line(["taste", study])


def picking(study: str, numbers: Iterable[int]) -> str:
    """Squares kept."""
    return _line(["pick", study, *map(str, numbers)])


def packing(study: str, number: int, options: Mapping[str, str]) -> str:
    """The booklet of a square; options: how she works."""
    return _line(["pack", study, str(number), *_options(options), "--force"])


def hanging(study: str, frames: Sequence[int], share: str, title: str, titles: str, out: str) -> str:
    """Squares hung on a wall, as they are named; empty frames are 0. titles: the file with those of single ones, or
    ""."""
    hers = [str(number) for number in frames if number]
    words = ["series", study, *hers, "--squares", str(len(hers)), "--order", "named"]
    named = [*(["--title", title] if title else []), *(["--titles", titles] if titles else [])]
    return _line([*words, "--share", share, *named, *(["--out", out, "--force"] if out else [])])


def mirroring(study: str, number: int) -> str:
    """The corners and turnovers of a strip."""
    return _line(["mirror", study, str(number)])


def framing(study: str, number: int) -> str:
    """A frame of a strip; its corner and turnover are still to be named."""
    return _line(["frame", study, str(number)])


def varying(study: str, number: int, keep: Sequence[str], change: str, count: int) -> str:
    """More squares like one."""
    kept = [word for each in keep for word in ("--keep", each)]
    return _line(["vary", study, str(number), *kept, "--change", change, "--count", str(count)])


def _turned(turn: float | None) -> list[str]:
    return [] if turn is None else ["--turn", f"{turn:g}"]


def _options(options: Mapping[str, str]) -> list[str]:
    return [word for name, value in options.items() for word in (f"--{name.replace('_', '-')}", value)]


def _line(words: list[str]) -> str:
    # A file or folder that is called like an option.
    told = [f"./{word}" if place and word.startswith("-") and not word.startswith("--") else word
            for place, word in enumerate(words)]  # fmt: skip
    return f"{called()} {pasted(told)}"
