"""Whatever a file holds, it is read or refused with one line that names it."""

from __future__ import annotations

import gzip
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from PIL import Image, ImageDraw

from constraints.stamp import Stamp
from explore.reading import StampError, built_in, read

SUFFIXES = st.sampled_from([".png", ".jpg", ".svg"])
HEADS = st.sampled_from([b"", b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff\xe0", b"<svg>", b"<?xml version='1.0'?><svg "])
MANY = settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])


def outcome(path: Path) -> Stamp | str:
    """The stamp, or the refusal; anything else escapes and fails the test."""
    try:
        return read(path)
    except StampError as error:
        return str(error)


def is_sound(result: Stamp | str, path: Path) -> bool:
    if isinstance(result, Stamp):
        return bool(result.shape.is_valid and result.shape.area > 0)
    return result.startswith(str(path)) and len(result.splitlines()) == 1 and len(result) < 300 + len(str(path))


@MANY
@given(st.binary(max_size=300), SUFFIXES, HEADS)
def test_random_bytes_are_refused_with_one_line(tmp_path: Path, data: bytes, suffix: str, head: bytes) -> None:
    path = tmp_path / f"bytes{suffix}"
    path.write_bytes(head + data)
    result = outcome(path)
    assert isinstance(result, str)
    assert is_sound(result, path)


@pytest.fixture(scope="module")
def samples(tmp_path_factory: pytest.TempPathFactory) -> list[bytes]:
    folder = tmp_path_factory.mktemp("samples")
    image = Image.new("RGB", (60, 60), (240, 235, 220))
    ImageDraw.Draw(image).ellipse((12, 8, 45, 50), fill=(90, 10, 20))
    image.save(folder / "a.png")
    image.save(folder / "a.jpg")
    return [(folder / "a.png").read_bytes(), (folder / "a.jpg").read_bytes(), built_in("snail").read_bytes()]


@MANY
@given(st.integers(0, 2), st.floats(0, 1, exclude_max=True))
def test_cut_short_files_are_read_or_refused(tmp_path: Path, samples: list[bytes], which: int, share: float) -> None:
    path = tmp_path / "short"
    path.write_bytes(samples[which][: int(share * len(samples[which]))])
    assert is_sound(outcome(path), path)


@MANY
@given(st.integers(0, 2), st.lists(st.tuples(st.floats(0, 1, exclude_max=True), st.integers(0, 255)), min_size=1))
def test_damaged_files_are_read_or_refused(
    tmp_path: Path, samples: list[bytes], which: int, damage: list[tuple[float, int]]
) -> None:
    data = bytearray(samples[which])
    for where, value in damage:
        data[int(where * len(data))] = value
    path = tmp_path / "damaged"
    path.write_bytes(bytes(data))
    assert is_sound(outcome(path), path)


NUMBERS = st.sampled_from(["0", "-1", "1e999", "nan", "1e-300", "99999999", "5%", "", "3mm", "x", "7"])


@MANY
@example(n=["0", "nan", "1e-300", "0", "-1", "-1", "1e-300", *["0"] * 7])
@given(st.lists(NUMBERS, min_size=14, max_size=14))
def test_drawings_with_odd_numbers_are_read_or_refused(tmp_path: Path, n: list[str]) -> None:
    path = tmp_path / "odd.svg"
    path.write_text(
        f'<svg viewBox="0 0 {n[0]} {n[1]}" width="{n[2]}"><g transform="rotate({n[3]}) scale({n[4]},2)">'
        f'<rect width="{n[5]}" height="{n[6]}" rx="{n[7]}" stroke="red" stroke-width="{n[8]}"/>'
        f'<path d="M0 0 A{n[9]} 5 {n[10]} 0 1 9 {n[11]} C1 2 3 {n[12]} 5 5" opacity="{n[13]}"/></g></svg>'
    )
    assert is_sound(outcome(path), path)


def _gzipped(path: Path) -> None:
    path.write_bytes(gzip.compress(b"<svg/>"))


def _huge(path: Path) -> None:
    with path.open("wb") as file:
        file.truncate(65 * 10**6)


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda path: None, "does not exist"),
        (lambda path: path.mkdir(), "is not a file"),
        (lambda path: path.touch(), "is empty"),
        (lambda path: path.write_bytes(b"GIF89a" + bytes(50)), "is damaged or cut short"),
        (lambda path: path.write_bytes(b"%PDF-1.7"), "is no picture that is read"),
        (lambda path: path.write_text("<html></html>"), "holds <html> where an SVG drawing has <svg>"),
        (lambda path: path.write_text("<svg><rect></svg>"), "is not sound XML at line 1"),
        (lambda path: path.write_text("<svg>" + " " * 9 * 10**6), "is larger than 8 MB"),
        (_gzipped, "is compressed"),
        (_huge, "is larger than 64 MB"),
    ],
)
def test_files_that_are_no_stamps_are_refused_by_name(make: object, words: str, tmp_path: Path) -> None:
    path = tmp_path / "no stamp.svg"
    assert callable(make)
    make(path)
    result = outcome(path)
    assert isinstance(result, str)
    assert result.startswith(f"{path} ")
    assert words in result
    assert is_sound(result, path)


def test_a_file_is_known_by_its_content_not_its_name(tmp_path: Path, samples: list[bytes]) -> None:
    for name, data in zip(["png.svg", "jpeg.png", "svg.jpg"], samples, strict=True):
        (tmp_path / name).write_bytes(data)
        assert read(tmp_path / name).name == Path(name).stem


@pytest.mark.parametrize("suffix", ["tif", "bmp", "gif", "webp"])
def test_other_pictures_show_the_print_that_a_png_shows_and_the_first_of_several_is_read(
    tmp_path: Path, suffix: str
) -> None:
    sheet = Image.new("RGB", (300, 300), (240, 235, 220))
    blank = sheet.copy()
    ImageDraw.Draw(sheet).ellipse((60, 40, 200, 250), fill=(90, 10, 20))
    sheet.save(tmp_path / "a.png")
    exact = {"lossless": True} if suffix == "webp" else {}
    sheet.save(tmp_path / f"a.{suffix}", **exact)
    png, other = read(tmp_path / "a.png", 0).shape, read(tmp_path / f"a.{suffix}", 0).shape
    assert png.symmetric_difference(other).area < 0.01 * png.area
    if suffix != "bmp":
        sheet.save(tmp_path / f"two.{suffix}", save_all=True, append_images=[blank], **exact)
        two = read(tmp_path / f"two.{suffix}", 0)
        assert png.symmetric_difference(two.shape).area < 0.01 * png.area
        assert "of its several pages or frames the first was read" in two.notes
