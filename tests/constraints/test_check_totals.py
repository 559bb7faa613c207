"""What a square takes in all: the stitches that its brief allows, and the places of what has no order of work.

The rules are common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace

from designs import blocks, diamond, doubled, made, roses, spiders
from strips import SCALLOP_OF_1886, strip

from constraints.check import check
from constraints.design import Design, FieldFilling
from constraints.edgings import GroundScallop
from constraints.edgings.own_figures import with_own
from constraints.forms import Strip

ONLY_CLOTH = {"stitches": ["cloth"]}


def told(rule: str, design: Design) -> list[tuple[str, set[tuple[int, int]]]]:
    return [(each.message, set(each.pinholes)) for each in check(design) if each.rule == rule]


def test_the_stitch_of_a_headside_is_allowed_with_it_and_that_of_a_block_is_not() -> None:
    """A scallop in half stitch; the diamonds, one in each repeat, are the brief's."""
    form, own = Strip(13, 12, 2, SCALLOP_OF_1886), diamond((4, 3), 3)
    assert told("stitches", strip(form, ("cloth", own), brief=ONLY_CLOTH)) == []
    # Told as it is worked, on the one repeat that all are like.
    assert told("stitches", strip(form, ("half", own), brief=ONLY_CLOTH)) == [
        ("the brief does not allow half stitch", own)
    ]


def test_the_spiders_of_ground_scallops_are_allowed_with_them_and_others_are_not() -> None:
    form = Strip(17, 8, 2, GroundScallop("", 4, 3, 5))
    own = with_own((), form.repeat())
    assert [each.kind for each in own] == ["spider-8"]
    assert told("stitches", strip(form, *own, brief=ONLY_CLOTH)) == []
    other = FieldFilling("spider-8", (*own[0].places, (4, 4)))
    [(words, places)] = told("stitches", strip(form, other, brief=ONLY_CLOTH))
    assert words == "the brief does not allow spider"
    assert (4, 4) in places


def test_what_waits_for_itself_is_told_with_its_places() -> None:
    """A spider over a corner line is worked whole before what stands between its legs, which must come first."""
    over = spiders({(-6, 6)})
    [(words, places)] = told("flow", made(12, over))
    assert words.startswith("no order of work")
    assert {(-7, 6), (-5, 6), (-6, 5), (-6, 7)} <= places


def test_the_least_of_stitches_and_figures_is_counted_in_pinholes_and_figures() -> None:
    """Two roses, one spider and a diamond of nine pinholes; one more of each is asked for."""
    parts = (roses({(-9, -1), (-9, 3)}), spiders({(9, 0)}), *blocks("half", diamond((0, -11), 3)))
    asked = {"rose": 2, "spider": 1, "half": 9}
    assert told("least", made(14, *parts, brief={"least": asked})) == []
    more = {name: number + 1 for name, number in asked.items()}
    assert [words for words, _ in told("least", made(14, *parts, brief={"least": more}))] == [
        f"{asked[name]} of {name}; the brief wants at least {more[name]}" for name in sorted(more)
    ]


def test_the_least_of_double_ground_is_counted_in_pinholes() -> None:
    model = doubled()
    [filling] = model.fillings
    count = len(filling.places)
    words_of_more = [f"{count} of double-ground; the brief wants at least {count + 1}"]
    for wanted, words in ((count, []), (count + 1, words_of_more)):
        asked = replace(model, brief={**model.brief, "least": {"double-ground": wanted}})
        assert [message for message, _ in told("least", asked)] == words
