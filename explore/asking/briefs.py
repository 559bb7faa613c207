"""From TOML and flags to a Brief, and back to TOML."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import tomli_w

from constraints.brief import KNOWN, MOST_OWN_SPLITS, UNKNOWN, Brief
from constraints.edgings import FOOTSIDE
from constraints.forms import FORMS, LARGEST_HALF_SIZE, USUAL
from constraints.piece import ROUND
from constraints.square_sizes import largest_half_size
from constraints.symmetry import SUITS
from explore.asking import settings
from explore.asking.keys import KEYS, NAMED, Key
from explore.asking.kinds import Kind, Unfit, shown
from explore.asking.names import nearest
from explore.asking.stamps import stamp_names
from explore.bad_input import BadInput
from explore.files import content
from explore.search.sizing import SIZING

_LARGEST_FILE = 10**6  # bytes; a brief takes about one thousand


class BriefError(BadInput):
    """A brief that cannot be taken. The message is one line: file or flag, key, value, what is allowed."""

    code = "brief"


@dataclass(frozen=True)
class BriefRequest:
    """A brief as asked. stamps: the file or the built-in stamp to read, of each."""

    brief: Brief
    stamps: tuple[str, ...]


@dataclass(frozen=True)
class _Given:
    """One value that was given. place: where, for messages ("brief.toml: width" or "--width")."""

    value: Any
    place: str


def read(
    file: Path | None = None, flags: Mapping[str, str] | None = None, usual: Mapping[str, str] | None = None
) -> BriefRequest:
    """Read a brief from a TOML file, flags, or both; flags win.

    usual: what holds of squares, as flags, where neither says. Her settings hold where none of these says, if any are
    in force.

    flags: texts by the name of the key, as the command line gave them. A stamp that the file names is
    looked for beside the file first. Raises BriefError.
    """
    given = {} if file is None else _from_toml(_text_of(file), str(file))
    if file is not None and "stamp" in given:
        beside = [(name, file.parent / name) for name in given["stamp"].value]
        stamps = tuple(str(path) if _is_file(path) else name for name, path in beside)
        given["stamp"] = _Given(stamps, given["stamp"].place)
    for name, text in (flags or {}).items():
        key = NAMED[name]
        given[name] = _taken(key.flag, key.kind, text, key.kind.from_text)
    for length, half in (("width", "half_size"), ("height", "half_height")):
        if flags and (length in flags) != (half in flags):
            # One of the two as a flag sets aside the other in the file.
            given.pop(half if length in flags else length, None)
    of_squares = "form" not in given or given["form"].value == USUAL
    for name, text in (usual or {}).items() if of_squares else ():
        given.setdefault(name, _taken(NAMED[name].flag, NAMED[name].kind, text, NAMED[name].kind.from_text))
    hers = settings.in_force()
    for name in settings.OF_BRIEFS:
        if name in hers.values:
            given.setdefault(name, _Given(hers.values[name], f"{shown_path(hers.file)}: {name}"))
    return BriefRequest(_brief(given), _value(given, NAMED["stamp"]))


def read_option(flag: str, text: str, kind: Kind) -> Any:
    """The value of an option that is no key of a brief, refused in the same words. Raises BriefError."""
    return _taken(flag, kind, text, kind.from_text).value


def from_toml(text: str, where: str) -> Brief:
    """The brief that the TOML text of a study gives. where: the file's name for messages. Raises BriefError.

    A study has every key written out: what one made before they were asked does not say of corners, and of how surely
    the print is known, is not asked.
    """
    given = _from_toml(text, where)
    brief = _brief(given)
    if "known" not in given:
        brief = brief.changed(known=UNKNOWN)
    return brief if "corners" in given else brief.changed(corners="")


def to_toml(brief: Brief) -> str:
    """The brief fully written out: every key in order, but for those without a default that were not chosen.

    `from_toml` reads the same brief, with the least match of its way of working in place of none.
    """
    values: dict[str, Any] = {}
    for key in KEYS:
        value = key.value_in(brief)
        # A footside is None and is asked for, as is all that has a default, but for corners in an older study.
        asked = (key.default or value not in (None, ())) and (key.name != "corners" or value)
        if asked and key.goes_with(brief.piece.form):
            values[key.name] = key.kind.to_toml(value)
    return tomli_w.dumps(values)


def _text_of(file: Path) -> str:
    try:
        return content(file, _LARGEST_FILE).decode("utf-8-sig")
    except OSError as error:
        raise BriefError(f"{shown_path(file)}: cannot be read ({error.strerror})") from None
    except ValueError:
        raise BriefError(f"{shown_path(file)}: not a TOML text in UTF-8") from None


def _from_toml(text: str, where: str) -> dict[str, _Given]:
    where = shown_path(where)
    try:
        data = tomllib.loads(text)
    except RecursionError:
        raise BriefError(f"{where}: not a brief (nested too deeply)") from None
    except ValueError as error:  # TOMLDecodeError, and numbers too long for Python
        raise BriefError(f"{where}: not a TOML text ({_one_line(str(error))})") from None
    given = {}
    for name, value in data.items():
        if name not in NAMED:
            hint = nearest(name, NAMED) or f"known keys: {', '.join(NAMED)}"
            raise BriefError(f"{where}: unknown key {shown(name)}; {hint}")
        key = NAMED[name]
        given[name] = _taken(f"{where}: {name}", key.kind, value, key.kind.from_toml)
    return given


def _taken(place: str, kind: Kind, value: Any, read_value: Callable[[Any], Any]) -> _Given:
    try:
        return _Given(read_value(value), place)
    except Unfit as unfit:
        reason = f" ({unfit})" if str(unfit) else ""
        line = f"{place} is {shown(value)}{reason}; allowed: {kind.allowed}"
        raise BriefError(line, "value", place=place, allowed=kind.allowed) from None


def _value(given: Mapping[str, _Given], key: Key) -> Any:
    if key.name in given:
        return given[key.name].value
    return key.kind.from_text(key.default) if key.default else None


def _brief(given: Mapping[str, _Given]) -> Brief:
    fields = {key.place: _value(given, key) for key in KEYS}
    least = fields.pop("stitches")
    fields["stitches"] = tuple(least)
    fields["least"] = {name: number for name, number in least.items() if number}
    names = stamp_names(fields.pop("stamp"))
    fields["stamp"] = names[0] if names else ""
    spots = _spots(given, fields.pop("spot") or (), names)
    for none_named in ("turns", "taste"):
        fields[none_named] = fields[none_named] or ()
    form = FORMS[fields["form"]]
    if len(form.ways) == 1:
        fields["worked"] = form.ways[0]
    elif "worked" not in given and (form.name != USUAL or fields["headside"] is not None or not fields["stamp"]):
        fields["worked"] = ROUND
    shown = bool(fields["stamp"])
    if fields["splits"] is None:
        fields.update(splits=0, own_splits=MOST_OWN_SPLITS if shown else 0)
    if fields["known"] is None:
        fields["known"] = KNOWN if shown and "stamp_size" not in given else UNKNOWN
    if fields["match"] is None:
        del fields["match"]
    brief = Brief.of(**fields)
    if names:
        brief = brief.showing(list(zip(names, spots, strict=True)))
    if "symmetry" not in given:
        brief = brief.changed(symmetry=SIZING[brief.piece.form].symmetry(brief))
    _refuse_contradictions(brief, given)
    return brief


def _spots(given: Mapping[str, _Given], asked: Sequence[tuple[str, str]], names: Sequence[str]) -> list[str]:
    """The spot of each stamp."""
    spots = dict.fromkeys(names, SUITS)
    for name, spot in asked:
        if name and name not in spots:
            hint = nearest(name, names) or f"the stamps are {', '.join(names)}" if names else "there is no stamp"
            raise BriefError(f"{given['place'].place} is of {shown(name)}; {hint}")
        spots.update(dict.fromkeys([name] if name else names, spot))
    return list(spots.values())


def _refuse_contradictions(brief: Brief, given: Mapping[str, _Given]) -> None:
    def place(name: str) -> str:
        return given[name].place if name in given else f"{name} (the default)"

    _refuse_other_forms(brief, given, place)
    if brief.piece.width_mm is not None and brief.piece.half_size is not None:
        raise BriefError(f"{place('width')} and {place('half_size')} are both given; give one of them")
    if brief.piece.height_mm is not None and brief.piece.half_height is not None:
        raise BriefError(f"{place('height')} and {place('half_height')} are both given; give one of them")
    if brief.rules.narrowest > brief.rules.widest:
        raise BriefError(
            f"{place('narrowest')} is {brief.rules.narrowest}, above {place('widest')} {brief.rules.widest}; "
            "no block can be both"
        )
    if brief.rules.solid[1] == 0.0:
        raise BriefError(f"{place('solid')} is 0, which leaves no block at all; allowed: more than 0")
    for name, length in (("width", brief.piece.width_mm), ("height", brief.piece.height_mm)):
        most = LARGEST_HALF_SIZE * brief.piece.pitch_mm[1]
        if length is not None and length > most:
            raise BriefError(
                f"{place(name)} is {length:g} mm; at this pitch the largest piece is {most:g} mm "
                f"({LARGEST_HALF_SIZE} pitches)"
            )
    if brief.piece.width_mm is None and brief.piece.half_size is None and FORMS[brief.piece.form].one_side:
        reach = largest_half_size(brief.rules.pairs, brief.piece.first_way, brief.piece.edge_passives)
        if reach > LARGEST_HALF_SIZE:
            raise BriefError(
                f"{place('pairs')} is {brief.rules.pairs}, which alone asks for half-size {reach}; the largest is "
                f"{LARGEST_HALF_SIZE}: give half_size or width too"
            )


def _refuse_other_forms(brief: Brief, given: Mapping[str, _Given], place: Callable[[str], str]) -> None:
    """Keys that go with another form than the one asked for."""
    form = FORMS[brief.piece.form]
    for key in KEYS:
        if not key.goes_with(brief.piece.form) and key.name in given:
            raise BriefError(f"{given[key.name].place} is given, but a {brief.piece.form} has none; leave it out")
    if brief.piece.headside is not None and not form.edged:
        raise BriefError(f"{place('edging')} is {brief.piece.edging}; allowed for a {brief.piece.form}: {FOOTSIDE}")
    if brief.piece.headside is not None and brief.piece.worked not in form.edged:
        raise BriefError(
            f"{place('edging')} is {brief.piece.edging}, which goes round a square worked round; "
            f"{place('worked')} is {brief.piece.worked}"
        )
    worked = brief.piece.worked
    if "worked" in given and given["worked"].value != worked:
        raise BriefError(
            f"{given['worked'].place} is {given['worked'].value}, but a {brief.piece.form} is worked {worked}"
        )
    free = SIZING[brief.piece.form].symmetry(brief) == SUITS
    allowed = (*form.symmetries, SUITS) if free else form.symmetries
    several = brief.piece.symmetry.split(",")
    if not set(several) <= set(allowed) or (len(several) > 1 and not free):
        raise BriefError(
            f"{place('symmetry')} is {brief.piece.symmetry}, which a {brief.piece.form} cannot have; "
            f"allowed: {', '.join(allowed)}"
        )


def shown_path(path: Path | str) -> str:
    """A path for a one-line message."""
    return _one_line(str(path))


def _one_line(text: str) -> str:
    return "".join(c if c.isprintable() else "?" for c in " ".join(text.split()))


def _is_file(path: Path) -> bool:
    try:
        return path.is_file()
    except (OSError, ValueError):  # a name too long for the system, or one it cannot hold
        return False
