"""Settings of her own: a TOML file of defaults for all studies and papers, where neither an option nor a brief says."""

from __future__ import annotations

import os
import tomllib
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

import platformdirs
import tomli_w

from explore.asking.keys import NAMED
from explore.asking.kinds import LENGTH, KeyKind, Kind, Number, Unfit, shown
from explore.asking.names import Choice, nearest
from explore.asking.several import Box, Span
from explore.bad_input import BadInput
from explore.files import content, write_whole
from explore.lines import Row, RowTable

# The variable of the environment that names another file.
ELSEWHERE = "STAMPWORK_SETTINGS"
_LARGEST_FILE = 10**6  # bytes


@dataclass(frozen=True)
class OwnDefault:
    """kind: of its value. built_in: what holds where she sets nothing, as she would write it."""

    kind: KeyKind
    built_in: str
    meaning: str


SETTINGS: Mapping[str, OwnDefault] = {
    "pairs": OwnDefault(NAMED["pairs"].kind, NAMED["pairs"].default, "pairs of a brief that names none"),
    "taste": OwnDefault(NAMED["taste"].kind, NAMED["taste"].default, "what you like, of a brief that does not say"),
    "paper": OwnDefault(Choice(("a4", "a3", "letter")), "a4", "of papers and sheets that come in that size"),
    "footside": OwnDefault(Choice(("left", "right")), "left", "where it lies as it is worked"),
    "method": OwnDefault(Choice(("closed", "open")), "closed", "pins of the ground"),
    "unit": OwnDefault(Choice(tuple(filter(None, LENGTH))), "mm", "of lengths in options that name none"),
}
_TOLD: Mapping[str, Callable[[Row], str]] = {
    "setting": lambda row: row["name"],
    "value": lambda row: row["value"],
    "by": lambda row: "you" if row["set"] else "built in",
    "what it says": lambda row: row["meaning"],
}
# Those that are keys of a brief.
OF_BRIEFS = ("pairs", "taste")


@dataclass(frozen=True)
class Settings:
    """file: where they stand. values: those that are set."""

    file: Path = field(default_factory=Path)
    values: Mapping[str, Any] = field(default_factory=dict)

    def unit_for(self, kind: Kind, text: str) -> str:
        """A text for a kind, with her unit behind a length that ends in none."""
        bare = text.rstrip()
        if not takes_lengths(kind) or "unit" not in self.values or not bare[-1:].isdigit():
            return text
        return bare + str(self.values["unit"])

    def changed(self, words: Sequence[str]) -> Settings:
        """With others set, each as NAME=VALUE; an empty value takes it out. Raises BadInput."""
        values = dict(self.values)
        for word in words:
            name, sign, text = word.partition("=")
            if not sign:
                raise BadInput(f"{shown(word)} sets nothing; allowed: NAME=VALUE, such as pairs=28")
            setting = _known(name, "settings")
            values.pop(name, None)
            if text:
                values[name] = _fit(f"settings: {name}", setting, text, setting.kind.from_text)
        return replace(self, values={name: values[name] for name in SETTINGS if name in values})

    def table(self) -> RowTable:
        """What holds, a row a setting."""
        rows = [
            {
                "name": name,
                "value": str(self.values.get(name, each.built_in)),
                "set": name in self.values,
                "meaning": each.meaning,
            }
            for name, each in SETTINGS.items()
        ]
        return RowTable(_TOLD, rows)

    def write(self) -> None:
        """Write them to their file. Raises OSError."""
        self.file.parent.mkdir(parents=True, exist_ok=True)
        told = {name: SETTINGS[name].kind.to_toml(value) for name, value in self.values.items()}
        write_whole(self.file, tomli_w.dumps(told))


def takes_lengths(kind: Kind) -> bool:
    """Whether a kind of value is a length, or several."""
    number = kind.number if isinstance(kind, Span | Box) else kind
    return isinstance(number, Number) and number.units is LENGTH


def read() -> Settings:
    """Those of the file that the environment names, or else of hers; none if there is no such file.

    Raises BadInput, one line that names the file.
    """
    named = os.environ.get(ELSEWHERE)
    file = Path(named) if named else platformdirs.user_config_path("stampwork", appauthor=False) / "settings.toml"
    if not file.exists():
        return Settings(file)
    try:
        data = tomllib.loads(content(file, _LARGEST_FILE).decode("utf-8-sig"))
    except (ValueError, RecursionError):
        raise BadInput(f"{file}: not a TOML text") from None
    values = {}
    for name, value in data.items():
        setting = _known(name, str(file))
        values[name] = _fit(f"{file}: {name}", setting, value, setting.kind.from_toml)
    return Settings(file, values)


def _known(name: str, where: str) -> OwnDefault:
    if name not in SETTINGS:
        hint = nearest(name, SETTINGS) or f"there are {', '.join(SETTINGS)}"
        raise BadInput(f"{where}: unknown setting {shown(name)}; {hint}")
    return SETTINGS[name]


def _fit(place: str, setting: OwnDefault, value: Any, read_value: Any) -> Any:
    try:
        return read_value(value)
    except Unfit:
        allowed = setting.kind.allowed
        line = f"{place} is {shown(value)}; allowed: {allowed}"
        raise BadInput(line, "value", place=place, allowed=allowed) from None


# None but while a command runs: a program that calls the rooms below depends on no file of hers.
_IN_FORCE = ContextVar("settings", default=Settings())  # noqa: B039 - frozen


def in_force() -> Settings:
    """Those that hold now."""
    return _IN_FORCE.get()


@contextmanager
def holding(settings: Settings) -> Iterator[None]:
    """Within it these hold."""
    before = _IN_FORCE.set(settings)
    try:
        yield
    finally:
        _IN_FORCE.reset(before)
