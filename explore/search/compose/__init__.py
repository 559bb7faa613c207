"""Composing a square in the trade's manner: named parts laid round the stamp, each kept only if it can be worked."""
