"""Make the faces of type that the program ships from the variable fonts Noto Sans and Noto Serif.

Say `python tests/bench/faces.py FOLDER`, where FOLDER holds `NotoSans[wdth,wght].ttf` and `NotoSerif[wdth,wght].ttf` as
their makers give them out, with `OFL.txt`. Both are under the SIL Open Font License 1.1 and reserve no font name, so a
part of them may keep theirs.
"""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

from fontTools import subset
from fontTools.ttLib import TTFont
from fontTools.varLib import instancer

from gallery.paper.faces import FEATURES, FOLDER

# The file, and where on the axes of the variable font it lies: its weight and its width.
FACES = {
    "NotoSans-Regular.ttf": ("NotoSans[wdth,wght].ttf", 400, 100),
    "NotoSans-Bold.ttf": ("NotoSans[wdth,wght].ttf", 700, 100),
    "NotoSans-Condensed.ttf": ("NotoSans[wdth,wght].ttf", 400, 75),
    "NotoSerif-Regular.ttf": ("NotoSerif[wdth,wght].ttf", 400, 100),
    "NotoSerif-Bold.ttf": ("NotoSerif[wdth,wght].ttf", 700, 100),
}
# Latin with all its accents, Greek, the Cyrillic of today's alphabets, punctuation and the marks of texts (Unicode).
LETTERS = [
    *range(0x20, 0x7F), *range(0xA0, 0x24F), *range(0x2B9, 0x2DE), *range(0x300, 0x32A),
    *range(0x370, 0x400), *range(0x400, 0x460), 0x490, 0x491, *range(0x1E00, 0x1F00),
    *range(0x2010, 0x2028), *range(0x2030, 0x203B), 0x2044, 0x20AC, 0x2116, 0x2122, 0x2212, 0xFFFD,
]  # fmt: skip


def face(source: Path, weight: int, width: int) -> TTFont:
    """One face of a variable font with the letters above, without hints: papers are drawn without them."""
    font = TTFont(source, recalcTimestamp=False)
    font = instancer.instantiateVariableFont(font, {"wght": weight, "wdth": width}, updateFontNames=True)
    wanted = subset.Options(hinting=False, layout_features=list(FEATURES), name_IDs=["*"], notdef_outline=True)
    wanted.drop_tables += ["STAT"]
    cut = subset.Subsetter(wanted)
    cut.populate(unicodes=LETTERS)
    cut.subset(font)
    return font


if __name__ == "__main__":
    given = Path(sys.argv[1])
    for name, (source, weight, width) in FACES.items():
        face(given / source, weight, width).save(FOLDER / name)
        print(f"{name}: {(FOLDER / name).stat().st_size} bytes")
    shutil.copy(given / "OFL.txt", FOLDER)
