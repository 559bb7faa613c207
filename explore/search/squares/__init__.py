"""Squares as a form of the search: where a stamp may lie on them (`placing`), where it suits best by geometry
(`suiting`) and is known once it is blocked (`suited`), their jobs (`workshop`), for which what was laid before is
`remembered`, what goes round it (`composing`), and what is laid beside blocks that stay (`adding`). `kind` is what
squares are to several stamps."""
