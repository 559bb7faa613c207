"""Files of every version there has been are read as they were meant."""

from __future__ import annotations

import json
from dataclasses import replace

from constraints.check import check
from constraints.design_file import VERSION, from_text, to_text
from constraints.layout import lay
from constraints.seams import seams_of
from constraints.working.check import faults
from constraints.working.work import work
from gallery.order.stitches import stitch_lines
from gallery.pricking.drawn import PrickingOptions
from gallery.pricking.pages import told as told_of

# As earlier releases wrote them: squares alone; then forms, and corners that nobody had asked about; then one print.
FIRST = """{"format": "stampwork square", "version": 1, "number": 3, "half_size": 7, "pitch_mm": 5.0, "worked": "round",
 "start": "top-left", "symmetry": "quarter-turn", "passives": 1, "edging": "footside", "pairs": 9,
 "ground": "torchon ground", "splits": 0,
 "blocks": [{"stitch": "cloth", "pinholes": [[0, -1], [-1, 0], [1, 0], [0, 1]]}],
 "fillings": [{"filling": "spider", "legs": 8, "centres": [[0, -4], [-4, 0], [4, 0], [0, 4]]}],
 "seed": 1, "brief": {"pairs": 10, "narrowest": 2, "margin": 2}}"""
SECOND = """{"format": "stampwork square", "version": 2, "number": 4, "form": "square", "half_size": 12,
 "pitch_mm": 5.0, "worked": "round", "start": "top-left", "symmetry": "none", "passives": 1, "edging": "footside",
 "pairs": 14,
 "ground": "torchon ground", "splits": 0,
 "blocks": [{"stitch": "cloth", "pinholes": [[-4, 3], [-5, 4], [-3, 4], [-6, 5], [-4, 5], [-7, 6], [-5, 6], [-6, 7]]}],
 "fillings": [], "seed": 1, "brief": {"pairs": 14, "narrowest": 2, "margin": 2, "splits": 0, "solid": [0.0, 0.5]}}"""

THIRD = """{"format": "stampwork square", "version": 3, "number": 1, "form": "square", "half_size": 7, "pitch_mm": 5.0,
 "worked": "round", "start": "top-left", "symmetry": "quarter-turn", "passives": 1, "edging": "footside", "pairs": 9,
 "ground": "torchon ground", "splits": 0,
 "blocks": [{"stitch": "cloth", "pinholes": [[0, -1], [-1, 0], [1, 0], [0, 1]]}], "fillings": [],
 "stamp": {"name": "diamond", "size": 1.5, "turn_degrees": 0, "reverse": false, "match": 1.0,
           "outlines": [[[0, -2.2], [2.2, 0], [0, 2.2], [-2.2, 0]]]},
 "seed": 1, "brief": {"pairs": 10, "narrowest": 2, "margin": 2, "match": 0.65}}"""


def test_files_of_the_third_version_hold_one_print() -> None:
    design = from_text(THIRD)
    assert [(each.name, each.size, each.match) for each in design.prints] == [("diamond", 1.5, 1.0)]
    assert check(design) == []
    assert from_text(to_text(design)) == design


def test_the_first_files_hold_squares_without_a_form() -> None:
    design = from_text(FIRST)
    assert (design.form.name, design.half_size, design.number) == ("square", 7, 3)
    assert check(design) == []


def test_files_of_the_second_version_are_asked_no_rule_of_corners() -> None:
    """Its bar is one pinhole wide on either side of the corner line."""
    design = from_text(SECOND)
    assert check(design) == []
    asked = json.loads(SECOND)
    asked["brief"]["corners"] = "halves"
    assert [finding.rule for finding in check(from_text(json.dumps(asked)))] == ["narrowest"]


def test_blocks_of_old_files_are_worked_in_halves_too() -> None:
    design = from_text(SECOND)
    assert seams_of(lay(design)).number == 1
    assert faults(work(design)) == []


def test_what_is_written_again_says_the_version_of_today_and_the_same() -> None:
    for text in (FIRST, SECOND):
        design = from_text(text)
        again = to_text(design)
        assert json.loads(again)["version"] == VERSION == 4
        assert from_text(again) == design
        assert "corners" not in json.loads(again)["brief"]


def test_papers_of_an_old_square_say_that_its_older_ones_have_other_pins() -> None:
    """Who has the old pricking must not follow the new order of work on it."""
    text = json.loads(SECOND)
    text["blocks"][0]["pinholes"] = [[s - t, s + t + 1] for s in range(-2, 2) for t in range(2, 6)]
    old = from_text(json.dumps(text))
    new = replace(old, brief={**old.brief, "corners": "halves"})
    for design, said in ((old, True), (new, False)):
        worked = work(design)
        sentences = list(stitch_lines(worked, str))
        assert any("made before blocks were worked in two halves" in sentence for sentence in sentences) is said
        told = told_of(worked, "old", PrickingOptions(), "whole")
        assert any("Older papers" in fact for fact in told.facts) is said
