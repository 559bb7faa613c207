"""The traits of the squares of studies: `python tests/bench/traits.py STUDY... [--keep FILE]`.

What it prints is usual and spread of each trait for the table of `gallery/seeing/traits.py`. FILE keeps the traits of
each square, by which the tests of learnt taste have squares to choose from (tests/explore/tasted.json).
"""

from __future__ import annotations

import argparse
import json
from pathlib import Path

import numpy as np

from constraints.design_file import from_text
from gallery.seeing.traits import TRAITS, Looked


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("studies", nargs="+", type=Path)
    asked.add_argument("--keep", type=Path)
    given = asked.parse_args()
    files = [file for study in given.studies for file in sorted((study / "squares").glob("*.json"))]
    looked = [Looked.at(from_text(file.read_text(encoding="utf-8"))) for file in files]
    every = np.array([[trait.measure(each) for trait in TRAITS.values()] for each in looked])
    for name, usual, spread in zip(TRAITS, every.mean(axis=0), every.std(axis=0), strict=True):
        print(f"{name:10} {usual:8.3f} {spread:8.3f}")
    print(f"{len(files)} squares")
    if given.keep:
        rows = np.round((every - every.mean(axis=0)) / every.std(axis=0), 2).tolist()
        given.keep.write_text(json.dumps({"traits": list(TRAITS), "squares": rows}), encoding="utf-8")


if __name__ == "__main__":
    main()
