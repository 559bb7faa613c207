"""The order of work in words and on paper.

`words` says all of it, `steps` one step, `block_parts` one in a block, `numbers` its pins and pairs; `stitches` how
things are worked, `edges` those of the piece, `called` what a block is called, `both_ends` what is hung and finished,
`repeats` what is told once, `checks` where the pairs hang on the way; `block_map` and `pages` put it on paper.
"""
