"""Papers for the pillow written: which squares, where the files go, and each kind of paper."""
