"""Redrafting: from an old pricking, written down or as a picture, to the grid and to blocks that its pins allow."""
