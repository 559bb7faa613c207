"""A series for an exhibition: squares that share what makes them a family and differ in all else."""

# How many squares hang in one.
FEWEST, MOST = 2, 40
