"""Squares as a form of the search: where a stamp may lie on them, what is composed round it."""
