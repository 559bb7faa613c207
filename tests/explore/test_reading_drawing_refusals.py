"""Drawings that are refused, and what of others is left out."""

from __future__ import annotations

import numpy as np
import pytest
from reading_prints import drawn

from explore.reading import StampError
from explore.reading.drawing import read_drawing


def notes(body: str) -> list[str]:
    return read_drawing(f"<svg>{body}<rect width='9' height='9'/></svg>".encode())[1]


def test_what_was_left_out_is_said() -> None:
    assert notes("<text>Lace</text>") == ["text was left out: turn it into paths first"]
    assert notes('<image href="http://example.invalid/a.png"/>') == ["an embedded picture was left out"]
    assert notes('<use href="other.svg#a"/>') == ["'other.svg#a' was left out: it is not in the file"]
    assert notes('<path d="M0 0H5V5Z L 3 q"/>') == ["a damaged path was read up to the damage"]
    assert notes('<line x2="5" stroke="red" stroke-dasharray="2"/>') == ["dashed lines were read as whole lines"]
    assert notes('<rect clip-path="url(#a)" width="2" height="2"/>') == ["clip paths and masks were left out"]


@pytest.mark.parametrize(
    ("body", "words"),
    [
        ("<text>Lace</text>", "no shape with an area; text was left out"),
        ("", "no shape with an area"),
        ('<path d="M0 0L10 10"/>', "no shape with an area"),
        ('<rect width="1e9" height="1"/>', "width that cannot be read: '1e9'"),
        ('<rect width="nan" height="1"/>', "width that cannot be read: 'nan'"),
        ('<path d="M0 0H1e300V5Z"/>', "coordinates beyond 10000000 pixels"),
        ('<rect width="9" height="9" transform="scale(1e9)"/>', "coordinates beyond"),
        ('<rect width="9" height="9" transform="matrix(1 2)"/>', "transform that cannot be read"),
        ('<rect width="1e-9" height="1e-9"/>', "less than 0.001 pixels"),
        ('<g id="a"><use href="#a"/></g>', "uses parts of itself"),
        ("<g>" * 200 + "</g>" * 200, "nests elements more than 100 deep"),
        ("<g/>" * 6000, "more than 5000 elements"),
    ],
)
def test_drawings_that_show_nothing_or_too_much_are_refused(body: str, words: str) -> None:
    with pytest.raises(StampError, match=words):
        drawn(body)


def test_a_use_bomb_is_refused() -> None:
    levels = "".join(f'<g id="a{i}">' + f'<use href="#a{i - 1}"/>' * 10 + "</g>" for i in range(1, 9))
    with pytest.raises(StampError, match="over and over"):
        drawn('<g id="a0"><rect width="1" height="1"/></g>' + levels)


def test_a_scribble_of_countless_crossings_is_refused() -> None:
    rng = np.random.default_rng(3)
    points = " ".join(f"{x},{y}" for x, y in rng.integers(0, 1000, (3000, 2)))
    with pytest.raises(StampError, match="crossings"):
        drawn(f'<polygon points="{points}"/>')


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16"])
@pytest.mark.parametrize("entity", ['"lol"', 'SYSTEM "file:///etc/hostname"'])
def test_xml_entities_are_refused_in_any_encoding(entity: str, encoding: str) -> None:
    text = f'<?xml version="1.0" encoding="{encoding}"?><!DOCTYPE svg [<!ENTITY a {entity}>]><svg>&a;</svg>'
    with pytest.raises(StampError, match="declares the XML entity 'a'"):
        read_drawing(text.encode(encoding))


def test_a_plain_doctype_is_no_offence() -> None:
    doctype = b'<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">'
    assert read_drawing(doctype + b'<svg><rect width="9" height="9"/></svg>')[0].area == 81
