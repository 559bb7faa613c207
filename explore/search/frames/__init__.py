"""Frames and rectangles as forms of the search.

Their `measures`, `sides` (places told along them), the `laying` of the stamp, `composing`, their jobs (`workshop`).
"""
