"""The two looks of a design, and the lines and threads they are made of.

`drawing` and `lace` are functions of a design and a pen, `named` knows both by name. `marks` says which lines there
are, as `pair_steps`; `edges` those along footsides, `fans` what a headside adds, `blocks` and `cloth` how blocks lie;
`strands` and `threads` how threads run, `passings` and `played` how each runs as it is played, `settling` and
`swinging` how rows and passives settle and turn over corner lines; `palette` the inks. `bent` moves strips to their
middle and curves headsides, `excerpt` takes the first repeats of a long strip.
"""
