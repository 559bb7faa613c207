"""Pages in millimetres, text, layers, tiles. Knows nothing of lace.

`page` (pages, text), `setting` (words fitted into any room), `letters` (those that fonts lack), `placing` (files that
appear whole, and what killed commands left); `paths` (pens and paths); one description of a paper in `layers`, with
its `title_block`, written as PDF and by `layers_svg` as SVG, cut by `cutting` and `nearby` into tiles (`tiling`).
"""
