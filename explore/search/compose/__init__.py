"""Composing a square in the trade's manner: named parts laid round the stamp, each kept only if it can be worked.

On a `canvas`; `plans` draw what is laid, `borders` first, then `ornaments` made of `parts`, and diamonds in the `bays`
that they leave; `adding` is what a form lays beside blocks that stay; `stitching` chooses the stitches and `fillings`
fills the fields as a `liking` says.
"""
