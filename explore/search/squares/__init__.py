"""Squares as a form of the search: where a stamp may lie on them (`placing`), where it suits best by geometry
(`suiting`) and is known once it is blocked (`suited`), their jobs (`workshop`), and what is laid beside
blocks that stay (`adding`)."""
