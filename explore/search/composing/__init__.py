"""Composing squares: the solver chooses figures that look right together.

`desk` is what figures are drawn on; `rings`, `courses`, `rows` and `motifs` are families of figures, `families` lists
them; `candidates` are figures that a square with its print has room for; `manners` say what a composition is after;
`taste` is what a designer would like of figures and pairs of them; `choosing` is the model that chooses.
"""
