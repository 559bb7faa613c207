"""The pricking of a design at true size.

`parts` cuts a piece, `drawn` draws one in layers with its `numbering` and `entries`, `pages` puts them on paper.
"""
