"""What a piece of Torchon lace is, and when it can be worked. No files, no clock, no printing.

The grid: `lattice` and `symmetry` (pinholes, neighbour steps, images and orbits), `piece` (a grid with quarters,
working directions and edges), `forms` that make one, `repeats` of strips.
What stands on it: `design`, the finished piece as a frozen value, with `design_file` and `reader`; `stitches`,
`moves`, `colours` and `fillings`; `edgings` and the `catalogue` of them, `agreeing`; `stamp` and `targets` (the outline
of a print, the pinholes it asks for, the match), `character` and `lying` (the axes and turns of a print, which way up
its copies are). `whole`: what is lacking in a class of one thing a file.
What is asked: `brief`, `ruleset` and `square_sizes`. What is allowed: `variables` (the Model), `rules` and the
`rulebook` that lists them, over a `formula` that needs no solver to be judged, and `restricting`, which fixes most of
one; `solver`, the only importer of ortools, and `stopping` it; `alignment` of figures in line; `encoding` between a
design and the values of a model; `explain` and `conflict`, why nothing fits; `counting`.
What is read off a design: `layout` (what every pinhole belongs to), `places` (how each is worked), `corners`, `links`,
`seams`, `swings` (blocks at corner lines), `eyes` (small holes in blocks), `nodes`, `flow`, `pins`, `difference` and
`differing`; `working`, pair by pair; `thread` and `materials`; `mirrors` and `fitting`. `wording` has measures for
texts. `check` is the second check.
"""
