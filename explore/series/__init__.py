"""A series for an exhibition: squares that share what makes them a family and differ in all else."""
