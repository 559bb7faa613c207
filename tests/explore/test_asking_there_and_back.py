"""Any brief, written as TOML and read again: nothing is lost, and any text is a brief or one line."""

import math
import tomllib

from asked import brief_of, brief_or_refusal
from hypothesis import example, given
from hypothesis import strategies as some

from constraints.brief import Brief
from constraints.fillings import ALLOWED
from explore import asking
from explore.asking import KEYS, NAMED
from explore.asking.tastes import TASTES

# --- there and back ----------------------------------------------------------------------------------------


def _length(low: float, high: float) -> some.SearchStrategy[str]:
    number = some.floats(low, high).map(lambda value: f"{value:.6f}".rstrip("0").rstrip("."))
    return some.builds(str.__add__, number, some.sampled_from(["mm", ""]))


def _ranges(low: int, high: int, factor: float = 1.0) -> some.SearchStrategy[str]:
    ends = some.tuples(some.integers(low, high), some.integers(low, high)).map(sorted)
    return ends.map(lambda pair: f"{pair[0] * factor:g}-{pair[1] * factor:g}")


FITTING_FLAGS = some.fixed_dictionaries(
    {},
    optional={
        "stamp": some.text(max_size=12).filter(lambda text: "\0" not in text),
        "pairs": some.integers(2, 500).map(str),
        "width": _length(5, 250),
        "pitch": _ranges(5, 999, 0.1),
        "symmetry": some.sampled_from(["full", "none", "quarter-turn"]),
        "worked": some.sampled_from(["round", "across"]),
        "passives": some.integers(0, 100).map(str),
        "stitches": some.dictionaries(some.sampled_from(ALLOWED), some.integers(0, 999)).map(
            lambda least: ",".join(["half:3", *(f"{name}:{n}" for name, n in least.items() if name != "half")])
        ),
        "narrowest": some.integers(1, 12).map(str),
        "splits": some.integers(0, 99).map(str),
        "solid": _ranges(1, 100, 0.01),
        "match": some.floats(0, 1).map(lambda share: f"{share:.9f}"),
        "stamp_size": _ranges(1, 500),
        "turns": some.lists(some.integers(-360, 360), min_size=1).map(lambda turns: ",".join(map(str, turns))),
        "taste": some.lists(some.sampled_from([*TASTES, "closed:1.5", "roses:-0.25"]), min_size=1, max_size=3).map(
            ",".join
        ),
        "apart": some.integers(1, 90).map(lambda share: f"{share}%"),
        "seed": some.integers(0, 2**31 - 1).map(str),
        "effort": some.floats(0.01, 1000).map(lambda effort: f"{effort:.4f}"),
    },
)


@given(FITTING_FLAGS)
@example({"stamp": "a.png.jpg "})
@example({"stamp": ".."})
@example({"form": "strip", "columns": "15", "repeat": "12-24", "edging": "half scallop 3 with 6 pairs"})
@example({"form": "strip", "repeats": "5", "symmetry": "glide", "sides": "both", "edging": "cloth  fan 2"})
@example({"edging": "half fan 4"})
@example({"form": "frame", "half_size": "20-24", "half_height": "30", "band": "9"})
@example({"form": "rectangle", "width": "100mm", "height": "15cm"})
def test_a_brief_written_out_reads_the_same(flags: dict[str, str]) -> None:
    brief = brief_of(**flags)
    text = asking.to_toml(brief)
    assert asking.from_toml(text, "brief.toml") == brief
    assert asking.to_toml(asking.from_toml(text, "brief.toml")) == text
    keys = list(tomllib.loads(text))
    assert keys == [key.name for key in KEYS if key.name in keys]
    own = {key.name for key in KEYS if key.goes_with(brief.piece.form)}
    missing = own - set(keys)
    assert set(keys) <= own
    of_forms = {"columns", "repeats", "half_height", "height", "band"}
    assert missing <= {"half_size", "width", "stamp_size", "turns", "place", "taste"} | of_forms
    assert missing.isdisjoint(flags)


_tiny = some.floats(min_value=0.0, max_value=1.0, exclude_min=True, allow_subnormal=True)


@given(_tiny, _tiny)
def test_no_digit_is_lost(one: float, other: float) -> None:
    brief = Brief.of(solid=(min(one, other), max(one, other)), pitch_mm=(1 + one, 99 + other))
    again = asking.from_toml(asking.to_toml(brief), "brief.toml")
    assert (again.rules.solid, again.piece.pitch_mm) == (brief.rules.solid, brief.piece.pitch_mm)


_toml_values = some.recursive(
    some.one_of(
        some.booleans().map(lambda value: str(value).lower()),
        some.integers().map(str),
        some.floats().map(lambda value: repr(value) if math.isfinite(value) else "nan"),
        some.sampled_from(['"4-6mm"', '"x"', '"cloth:3"', "1979-05-27", "inf", '"5%"', "{ a = 1 }"]),
    ),
    lambda inner: some.lists(inner, max_size=3).map(lambda items: f"[{', '.join(items)}]"),
    max_leaves=4,
)
_lines = some.tuples(some.sampled_from([*NAMED, "symetry", "pair", '"a b"']), _toml_values).map(" = ".join)


@given(some.one_of(some.lists(_lines, max_size=4).map("\n".join), some.text(max_size=30)))
def test_any_text_is_a_brief_or_one_line(text: str) -> None:
    outcome = brief_or_refusal(lambda: asking.from_toml(text, "roses.toml"))
    if isinstance(outcome, str):
        assert outcome.startswith("roses.toml: ")
        assert len(outcome.splitlines()) == 1
        assert len(outcome) < 500
    else:
        assert asking.from_toml(asking.to_toml(outcome), "brief.toml") == outcome


_values = some.one_of(some.text(max_size=20), some.text("0123456789.-,:%mcin \"'", max_size=12))


@given(some.sampled_from(sorted(NAMED)), _values)
@example("pairs", "9" * 5000)
@example("width", "9" * 18 + "in")
@example("pitch", "\u0665mm")
@example("turns", "-0.0000000000000001")
def test_any_flag_is_a_brief_or_one_line(name: str, text: str) -> None:
    outcome = brief_or_refusal(lambda: brief_of(**{name: text}))
    if isinstance(outcome, str):
        assert outcome.startswith(NAMED[name].flag + " is ")
        assert len(outcome.splitlines()) == 1
    else:
        assert asking.from_toml(asking.to_toml(outcome), "brief.toml") == outcome
