"""The pricking of a design at true size.

`parts` cuts a piece, `drawn` draws one in layers with its `numbering`, `entries` and `start`, `pages` puts them on
paper.
"""
