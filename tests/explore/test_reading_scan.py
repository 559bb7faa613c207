"""Scans: glyphs of a bundled font and handwritten digits, shapes that nobody here drew, printed in many ways."""

from __future__ import annotations

import io
import math
from pathlib import Path

import numpy as np
import pytest
import shapely
import shapely.affinity
from PIL import Image, ImageDraw
from reading_prints import agreement, counts, coverage, glyph, placed, save_clean, save_worn
from shapely.geometry import MultiPolygon, Point, box
from sklearn.datasets import load_digits

from explore.reading import StampError, read
from explore.reading.outline import MOST_VERTICES

LETTERS = "ABDEGHKMPQRSTWXZabdeghikpqsx0123456789&%@?!$#"


@pytest.mark.parametrize("letter", LETTERS)
def test_a_clean_drawing_keeps_its_area_parts_and_holes(letter: str, tmp_path: Path) -> None:
    truth = placed(glyph(letter), 400)
    shape = read(save_clean(truth, tmp_path / "letter.png"), turn=0).shape
    assert shape.area == pytest.approx(truth.area, rel=0.03)
    assert counts(shape) == counts(truth)
    assert agreement(shape, truth) > 0.95
    assert shapely.get_num_coordinates(shape) <= MOST_VERTICES


@pytest.mark.parametrize(
    ("letter", "wear"),
    [
        ("B", {}),
        ("&", {"missing": 0.06, "seed": 2}),
        ("8", {"noise": 12.0}),
        ("R", {"shadow": 0.4}),
        ("A", {"gradient": 0.6}),
        ("e", {"ink": (240, 200, 60)}),  # yellow, hardly darker than the paper
        ("g", {"ink": (188, 186, 180)}),  # pale grey
        ("K", {"paper": (32, 30, 34), "ink": (225, 220, 210)}),  # light on dark
        ("5", {"paper": (180, 140, 95), "ink": (240, 238, 230)}),  # white on brown
        ("Q", {"pale": 0.7}),
        ("a", {"specks": 80}),
    ],
)
def test_a_worn_print_badly_scanned_keeps_its_shape(letter: str, wear: dict[str, float], tmp_path: Path) -> None:
    truth = placed(glyph(letter), 700)
    shape = read(save_worn(truth, tmp_path / "print.jpg", **wear), turn=0).shape
    assert agreement(shape, truth) > 0.9
    assert counts(shape) == counts(truth)
    assert shape.is_valid
    assert shapely.get_num_coordinates(shape) <= MOST_VERTICES


@pytest.mark.parametrize(("letter", "lean"), [("A", 5.0), ("M", -3.0), ("T", 9.0), ("E", -6.5), ("V", 2.0)])
def test_a_tilt_is_found_within_a_degree_and_taken_out(letter: str, lean: float, tmp_path: Path) -> None:
    path = save_worn(placed(glyph(letter), 500, lean=lean), tmp_path / "print.jpg", page=500, missing=0.01)
    stamp = read(path)
    assert stamp.tilt_degrees == pytest.approx(lean, abs=1.0)
    # Set upright, it is as wide and high as the letter that never leant.
    upright = glyph(letter).bounds
    left, top, right, bottom = stamp.shape.bounds
    aspect = (upright[2] - upright[0]) / (upright[3] - upright[1])
    assert (right - left) / (bottom - top) == pytest.approx(aspect, rel=0.05)
    side = "right" if lean > 0 else "left"
    assert any("degrees to the " + side in note for note in stamp.notes)


def test_turn_replaces_the_tilt_that_was_found(tmp_path: Path) -> None:
    path = save_clean(placed(glyph("A"), 400, lean=6), tmp_path / "a.png")
    as_it_is, turned = read(path, turn=0), read(path, turn=30)
    assert as_it_is.tilt_degrees == 0
    assert turned.tilt_degrees == -30
    assert turned.notes == ("the print was turned 30 degrees clockwise, as asked",)
    again = shapely.affinity.rotate(as_it_is.shape, 30, origin="center")
    assert agreement(again, turned.shape) > 0.99


@pytest.mark.parametrize("turn", [math.nan, math.inf, 361.0])
def test_a_turn_beyond_a_whole_one_is_refused(turn: float, tmp_path: Path) -> None:
    path = save_clean(placed(glyph("A"), 100), tmp_path / "a.png", 100)
    with pytest.raises(StampError, match="-360 to 360"):
        read(path, turn=turn)


@pytest.mark.parametrize("quarters", [1, 2, 3])
def test_turning_the_picture_turns_what_is_read(quarters: int, tmp_path: Path) -> None:
    path = save_worn(placed(glyph("R"), 500), tmp_path / "print.jpg", page=500)
    pixels = np.asarray(Image.open(path))
    # numpy turns anticlockwise as seen on the page.
    Image.fromarray(np.rot90(pixels, -quarters)).save(tmp_path / "turned.png")
    shape = read(path, turn=0).shape
    expected = shapely.affinity.rotate(shape, 90 * quarters, origin=(250, 250))
    turned = read(tmp_path / "turned.png", turn=0).shape
    assert agreement(turned, expected) > 0.985
    assert counts(turned) == counts(shape)


def test_handwritten_digits_are_all_read(tmp_path: Path) -> None:
    # scikit-learn's bundled digits (UCI, 8 x 8 pixels of 0 to 16).
    path = tmp_path / "digit.png"
    for image in load_digits().images[::30]:
        page = np.pad(image, 1) * (255 / 16)
        Image.fromarray((255 - page).astype(np.uint8)).resize((120, 120), Image.Resampling.BICUBIC).save(path)
        shape = read(path).shape
        assert shape.is_valid
        # More than the dark pixels, hardly more than all that are not white.
        assert 12**2 * (image >= 12).sum() < shape.area < 1.1 * 12**2 * (image >= 1).sum()


def test_a_picture_of_ten_pixels_is_read(tmp_path: Path) -> None:
    image = Image.new("L", (10, 10), 255)
    ImageDraw.Draw(image).rectangle((3, 2, 6, 7), fill=0)
    image.save(tmp_path / "tiny.png")
    assert read(tmp_path / "tiny.png").shape.area == pytest.approx(24, rel=0.15)


def test_specks_and_pinpricks_are_counted_and_cleaned_away(tmp_path: Path) -> None:
    disc = Point(300, 300).buffer(200)
    specks = [Point(x, 40).buffer(3) for x in range(50, 600, 50)]
    pinpricks = [Point(x, 300).buffer(3) for x in range(150, 460, 50)]
    shape = disc.difference(shapely.union_all(pinpricks)).union(shapely.union_all(specks))
    stamp = read(save_clean(MultiPolygon(shapely.get_parts(shape).tolist()), tmp_path / "p.png", 600))
    assert stamp.notes[0] == "11 specks and 7 pinpricks in the ink were cleaned away"
    assert counts(stamp.shape) == (1, 0)
    assert agreement(stamp.shape, disc) > 0.98


def test_a_small_print_on_a_large_page_is_read_closely(tmp_path: Path) -> None:
    page = np.full((2400, 1800), 255, dtype=np.uint8)
    truth = placed(glyph("R"), 260)
    page[700:960, 900:1160] = 255 - (255 * coverage(truth, 260)).astype(np.uint8)
    Image.fromarray(page).save(tmp_path / "page.png")
    shape = read(tmp_path / "page.png").shape
    assert agreement(shape, shapely.affinity.translate(truth, 900, 700)) > 0.95


def test_the_dark_edge_of_a_scan_is_left_out(tmp_path: Path) -> None:
    truth = placed(glyph("R"), 500, share=0.6)
    edge = box(0, 0, 18, 500)
    path = save_clean(MultiPolygon([*truth.geoms, edge]), tmp_path / "edge.png", 500)
    stamp = read(path)
    assert "a dark edge of the scan was left out" in stamp.notes
    assert agreement(stamp.shape, truth) > 0.95


def test_a_print_that_runs_off_the_page_is_kept(tmp_path: Path) -> None:
    band = box(0, 100, 250, 200)
    shape = read(save_clean(MultiPolygon([band]), tmp_path / "band.png", 300)).shape
    assert agreement(shape, band) > 0.97


@pytest.mark.parametrize(("ink", "mode"), [((255, 255, 255), "RGBA"), ((20, 60, 20), "RGBA"), (255, "LA")])
def test_transparent_parts_are_paper_whatever_the_ink(ink: object, mode: str, tmp_path: Path) -> None:
    truth = placed(glyph("R"), 300)
    alpha = Image.fromarray((255 * coverage(truth, 300)).round().astype(np.uint8))
    image = Image.new(mode[:-1], (300, 300), ink)
    image.putalpha(alpha)
    image.save(tmp_path / "clear.png")
    assert agreement(read(tmp_path / "clear.png", turn=0).shape, truth) > 0.95


def test_white_lines_on_a_transparent_print_stay_cut_out(tmp_path: Path) -> None:
    image = Image.new("RGBA", (300, 300), (0, 0, 0, 0))
    draw = ImageDraw.Draw(image)
    draw.rectangle((50, 50, 249, 249), fill=(10, 10, 60, 255))
    draw.rectangle((50, 130, 249, 169), fill=(255, 255, 255, 255))
    image.save(tmp_path / "clear.png")
    assert counts(read(tmp_path / "clear.png").shape) == (2, 0)


@pytest.mark.parametrize("mode", ["1", "P", "I;16", "CMYK"])
def test_every_kind_of_pixel_is_understood(mode: str, tmp_path: Path) -> None:
    truth = placed(glyph("R"), 300)
    grey = Image.fromarray((255 - 255 * coverage(truth, 300)).round().astype(np.uint8))
    path = tmp_path / ("r.jpg" if mode == "CMYK" else "r.png")
    image = Image.fromarray(np.asarray(grey).astype(np.uint16) * 257) if mode == "I;16" else grey.convert(mode)
    image.save(path)
    assert agreement(read(path, turn=0).shape, truth) > 0.95


def test_the_way_the_camera_was_held_is_obeyed(tmp_path: Path) -> None:
    # Exif 2.3, tag 0x0112: 6 means that the page must be turned a quarter clockwise to stand upright.
    truth = placed(glyph("R"), 300)
    sideways = Image.fromarray(np.rot90((255 - 255 * coverage(truth, 300)).round().astype(np.uint8)))
    exif = Image.Exif()
    exif[0x0112] = 6
    sideways.save(tmp_path / "photo.jpg", exif=exif)
    assert agreement(read(tmp_path / "photo.jpg", turn=0).shape, truth) > 0.95


def _blank(noise: float, slope: float) -> Image.Image:
    rng = np.random.default_rng(5)
    light = 230 - slope * np.linspace(0, 1, 400)[None, :]
    return Image.fromarray(np.clip(light + rng.normal(0, noise, (400, 400)), 0, 255).astype(np.uint8))


@pytest.mark.parametrize(("noise", "slope"), [(0, 0), (4, 0), (12, 0), (3, 120)])
def test_a_blank_page_shows_no_print(noise: float, slope: float, tmp_path: Path) -> None:
    _blank(noise, slope).save(tmp_path / "blank.png")
    with pytest.raises(StampError, match=r"blank.png shows no print"):
        read(tmp_path / "blank.png")


@pytest.mark.parametrize("size", [(9000, 8000), (3, 300), (4000, 20)])
def test_pictures_out_of_proportion_are_refused_before_they_are_unpacked(size: tuple[int, int], tmp_path: Path) -> None:
    path = tmp_path / "odd.png"
    Image.new("1", size).save(path)
    with pytest.raises(StampError, match="pixels"):
        read(path)


def test_a_bomb_is_refused_by_its_header_alone(tmp_path: Path) -> None:
    # A PNG header (PNG specification, 11.2.2) that promises 60000 x 60000 pixels and brings none.
    small = io.BytesIO()
    Image.new("L", (8, 8)).save(small, "PNG")
    header = bytearray(small.getvalue())
    header[16:24] = (60000).to_bytes(4, "big") * 2
    path = tmp_path / "bomb.png"
    path.write_bytes(bytes(header))
    with pytest.raises(StampError, match=r"bomb.png .*(million|damaged)"):
        read(path)


def test_no_number_of_tries_changes_the_outcome(tmp_path: Path) -> None:
    path = save_worn(placed(glyph("&"), 500), tmp_path / "print.jpg", page=500)
    assert read(path) == read(path)
