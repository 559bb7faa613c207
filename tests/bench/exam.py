"""The exam: prints of signs that nobody here drew, drawn, printed, smudged and photographed, and what `explore` alone
makes of them.

    python tests/bench/exam.py --shapes 40 --count 24 --out exam

Signs are drawn by seed. Of each print: how many squares at how many pairs, how many of them are known, whether a copy
stands upright in every one, and the mean overlap of the blurred pictures.
"""

from __future__ import annotations

import argparse
import io
import json
import time
from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw, ImageFilter

from constraints import design_file
from constraints.brief import KNOWN, Brief
from constraints.character import character
from constraints.lying import has_upright, poses, under
from constraints.stamp import Stamp
from explore import asking, reading
from explore.search.search import Impossible, search
from gallery.seeing.knowing import seen_in, surely
from gallery.seeing.signs import signs

PAIRS = (24, 28, 32, 36, 40)
_SIDE = 1000


def photographed(name: str, seed: int) -> bytes:
    """A sign as a print on paper, smudged, leaning a little and unevenly lit, as JPEG."""
    rng = np.random.default_rng(seed)
    ink = Image.new("L", (_SIDE + 400, _SIDE + 400), 0)
    for ring in signs()[name]:
        one = Image.new("L", ink.size, 0)
        ImageDraw.Draw(one).polygon([(x + 200, y + 200) for x, y in ring], fill=255)
        ink = Image.fromarray(np.asarray(ink) ^ np.asarray(one))
    ink = ink.rotate(float(rng.uniform(-3, 3)), resample=Image.Resampling.BICUBIC).filter(ImageFilter.GaussianBlur(4))
    covered = np.asarray(ink, dtype=float) / 255
    # The pad takes unevenly, and the paper has a grain.
    patches = rng.normal(size=(28, 28))
    uneven = np.asarray(Image.fromarray(patches).resize(ink.size, Image.Resampling.BICUBIC))
    covered = np.clip(covered * (0.85 + 0.1 * uneven), 0, 1)
    down, right = np.mgrid[0 : ink.height, 0 : ink.width] / ink.height
    light = 235 - 40 * right * rng.uniform(0, 1) - 30 * down * rng.uniform(0, 1)
    page = light * (1 - 0.85 * covered) + rng.normal(scale=4, size=covered.shape)
    for x, y in rng.uniform(40, ink.width - 40, size=(6, 2)):
        away = np.hypot(right * ink.width - x, down * ink.height - y)
        page -= 90 * (away < rng.uniform(2, 5))
    file = io.BytesIO()
    Image.fromarray(np.clip(page, 0, 255).astype(np.uint8)).save(file, "JPEG", quality=88)
    return file.getvalue()


def examined(stamp: Stamp, pairs: int, count: int, folder: Path) -> dict[str, object]:
    """What a search with no other option makes of a stamp. folder: for the squares."""
    asked: Brief = asking.read(None, {"stamp": stamp.name, "pairs": str(pairs), "count": str(count)}).brief
    begun, found, note = time.monotonic(), [], ""
    try:
        for each in search(asked, stamp):
            if each.design is not None:
                found.append(each.design)
            note = each.note or note
    except Impossible as reason:
        note = str(reason)
    folder.mkdir(exist_ok=True)
    for design in found:
        (folder / f"{design.number:02}.json").write_text(design_file.to_text(design))
    seen = [seen_in(design) for design in found]
    shape = character(stamp)
    return {
        "print": stamp.name,
        "pairs": pairs,
        "squares": len(found),
        "known": sum(surely(each.known, KNOWN) for each in seen),
        "verdicts": sorted(each.known for each in seen),
        "upright": sum(
            has_upright([each for pose in poses(shown, stamp) for each in under(pose, design.symmetry)], shape)
            for design in found
            for shown in design.prints
        ),
        "overlap": round(float(np.mean([each.overlap for each in seen])), 3) if seen else None,
        "sizes": sorted(design.prints[0].size for design in found if design.prints),
        "seconds": round(time.monotonic() - begun, 1),
        "note": "" if len(found) == count else note,
    }


def main() -> None:
    given = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    given.add_argument("--shapes", type=int, default=40)
    given.add_argument("--count", type=int, default=24)
    given.add_argument("--seed", type=int, default=1)
    given.add_argument("--out", type=Path, default=Path("exam"))
    given.add_argument("prints", nargs="*", type=Path, help="further prints")
    options = given.parse_args()
    options.out.mkdir(parents=True, exist_ok=True)
    names = np.random.default_rng(options.seed).permutation(sorted(signs()))[: options.shapes].tolist()
    files = list(options.prints)
    for number, name in enumerate(names):
        files.append(options.out / f"{name.replace(' ', '-')}.jpg")
        files[-1].write_bytes(photographed(name, options.seed + number))
    rows = []
    for number, file in enumerate(files):
        try:
            stamp = reading.read(file)
        except reading.StampError as error:
            print(f"{file.stem}: {error}")
            continue
        rows.append(examined(stamp, PAIRS[number % len(PAIRS)], options.count, options.out / file.stem))
        print(json.dumps(rows[-1]), flush=True)
        (options.out / "exam.json").write_text(json.dumps(rows, indent=1) + "\n")
    squares = sum(int(str(row["squares"])) for row in rows)
    known, upright = (sum(int(str(row[what])) for row in rows) for what in ("known", "upright"))
    means = [float(str(row["overlap"])) for row in rows if row["overlap"] is not None]
    print(f"{squares} squares of {len(rows)} prints; {known} known, {upright} upright; {np.mean(means):.3f} overlap")


if __name__ == "__main__":
    main()
