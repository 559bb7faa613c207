"""Squares as a form of the search: where a stamp may lie on them (`placing`) and their jobs (`workshop`)."""
