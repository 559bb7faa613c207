"""Make the pictures of the README and the guides again, and the lines shown under their examples. Run by hand from
anywhere:

    python tests/readme/readme_pictures.py

Every picture but the ink print comes out of the examples themselves.
"""

import os
import re
import tempfile
from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw, ImageFilter
from readme_examples import PAGES, PICTURES, ROOT, Ran, as_shown, run_all

from explore.reading import built_in, read

# The beginning of an example, the picture made of its sheet, and its width in pixels.
FROM_EXAMPLES = {
    "stampwork stamp gallery/pictures/bee-print.jpg": ("bee-grid.png", 880),
    "stampwork explore tulip --pairs 30": ("tulip-sheet.png", 680),
    "stampwork explore gallery/pictures/bee-print.jpg": ("bees.png", 640),
    "stampwork explore tulip bee": ("tulip-and-bees.png", 640),
    "stampwork explore tulip --pairs 40": ("tulips-across.png", 640),
    "stampwork explore greenhouse --more 6": ("tulips-lace.png", 640),
    "stampwork explore --brief leaves.toml": ("leaves.png", 640),
    "stampwork explore --no-stamp --pairs 16": ("patterns.png", 640),
    "stampwork budget leaf": ("leaf-budget.png", 1000),
    "stampwork vary tulip-study 21 --steps": ("tulip-steps.png", 820),
    "stampwork series tulip-study": ("garden-at-dusk.png", 680),
    "stampwork show tulip-study 21 --look lace --colour": ("tulip-threads.png", 540),
    "stampwork explore tulip --form strip": ("tulip-strips.png", 760),
    "stampwork explore leaf --width 180mm": ("lamp-mat.png", 580),
    "stampwork mirror edgings 4": ("tulip-mirror.png", 620),
    "stampwork frame edgings 4 --corner 2 --repeats 1": ("tulip-mats.png", 800),
    "stampwork show edgings 13": ("tulip-frame.png", 560),
}
INK = "bee-print.jpg"
_COLOURS = 64


def main() -> None:
    PICTURES.mkdir(parents=True, exist_ok=True)
    ink_print().save(PICTURES / INK, quality=80)
    with tempfile.TemporaryDirectory() as folder:
        os.chdir(folder)
        ran = []
        for each in run_all(Path(folder)):
            ran.append(each)
            keep_picture(each)
        os.chdir(ROOT)
    for page in PAGES:
        own = [each for each in ran if each.example.page == page]
        page.write_text(with_output(page.read_text(encoding="utf-8"), own), encoding="utf-8")


def keep_picture(ran: Ran) -> None:
    """The sheet of an example that a page shows a picture of, before a later example replaces it."""
    for start, (name, width) in FROM_EXAMPLES.items():
        # A note may follow the line that names it.
        sheet = re.search(r"(?:sheet|plot|lace): (\S+\.png)", "\n".join(ran.lines[-2:]))
        if sheet and ran.example.command.startswith(start):
            shrunk(Image.open(sheet[1]), width).save(PICTURES / name, optimize=True)


def shrunk(picture: Image.Image, width: int) -> Image.Image:
    """A picture of that width in few colours, which keeps it small."""
    height = round(picture.height * width / picture.width)
    small = picture.convert("RGB").resize((width, height), Image.Resampling.LANCZOS)
    return small.quantize(_COLOURS, kmeans=2, dither=Image.Dither.NONE)


def with_output(text: str, ran: list[Ran]) -> str:
    """The text of a page with what its examples printed in place of what it shows."""
    lines = text.splitlines()
    for each in reversed(ran):
        first = each.example.first
        lines[first : first + len(each.example.shown)] = as_shown(each)
    return "\n".join(lines) + "\n"


def ink_print(side: int = 720, lean: float = 5.0) -> Image.Image:
    """The built-in bee as a scan would show its print: leaning, on off-white paper, with specks and pale ink."""
    rng = np.random.default_rng(1)
    stamp = read(built_in("bee"))
    shape = stamp.placed(0.31 * side, lean, (side / 2, side / 2))
    ink = Image.new("L", (side, side), 0)
    pen = ImageDraw.Draw(ink)
    for polygon in shape.geoms:
        pen.polygon(list(polygon.exterior.coords), fill=255)
        for hole in polygon.interiors:
            pen.polygon(list(hole.coords), fill=0)
    for colour, count in ((255, 40), (0, 40)):  # specks on the paper, pinpricks in the ink
        for x, y in rng.uniform(0, side, (count, 2)):
            pen.ellipse((x - 2, y - 2, x + 2, y + 2), fill=colour)
    cover = np.asarray(ink.filter(ImageFilter.GaussianBlur(1.2)), dtype=float)[..., None] / 255
    cover = cover * rng.uniform(0.72, 1.0, (side, side, 1))
    light = np.linspace(0.86, 1.0, side)[:, None, None] * np.linspace(1.0, 0.94, side)[None, :, None]
    paper, green = np.array([246.0, 241.0, 228.0]), np.array([38.0, 74.0, 52.0])
    page = (paper + cover * (green - paper)) * light + rng.normal(0, 3, (side, side, 1))
    return Image.fromarray(np.clip(page, 0, 255).astype(np.uint8))


if __name__ == "__main__":
    main()
