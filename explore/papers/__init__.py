"""Papers for the pillow written: which designs and files (`places`), each kind of paper, all of them joined
(`booklet`).

`worked` checks the work first; `pricking`, `diagram`, `work`, `materials`, `showing` write a kind each; `colouring`
reads which threads she wants coloured.
"""
