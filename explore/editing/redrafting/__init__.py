"""Redrafting: from an old pricking, written down or as a picture, to the grid and to blocks that its pins allow.

`card` opens the file, `rows` is what is written down. Of a picture: `marks` of every size, `steps` from mark to mark,
the `net` beneath them, `homography` of a camera held aslant, `dots` among the marks, the `body` they make, `snapping`
onto the `grid`; `edges` which of the `edge_shapes` the pins show, `laid_edges` its pins in the `draft`. `folding`
onto one `repeat`, `assuming` what is doubtful, `settling` of doubts; `redraft` is all of it. Then `bed`, `options`
and `readings` are the blocks that pins allow, `headsides`, `blank`, `strips` and `proposals` those that make a strip,
`stamps` the others. `door`, `telling`, `writing`, `making`.
"""
