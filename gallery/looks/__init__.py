"""The two looks of a square, and the lines and threads they are made of."""
