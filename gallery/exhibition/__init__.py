"""What hangs beside designs on a wall: the sheet (`wall`), `labels`, the `catalogue`; the `cover` of a booklet."""
