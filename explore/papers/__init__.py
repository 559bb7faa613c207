"""Papers written: each kind for the pillow, all of them joined (`booklet`), and how a stamp `falls` on the grid.

`worked` checks the work first; `pricking`, `diagram`, `work`, `materials`, `showing` write a kind each; `colouring`
finds the threads that she wants coloured.
"""
