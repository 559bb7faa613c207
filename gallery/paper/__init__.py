"""Pages in millimetres, text, layers, tiles. Knows nothing of lace.

`page` (pages, text), `setting` (words fitted into any room), `faces` (the fonts that come with the program; `embedding`
brings them in SVG), `letters` (those that they lack), `placing` (files that appear whole, and what killed commands
left); `paths` (pens and paths); one description of a paper in `layers`, with its `title_block`, written as PDF and by
`layers_svg` as SVG, cut by `cutting` and `nearby` into tiles (`tiling`).
"""
