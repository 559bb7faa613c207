"""Strips as a form of the search: repeats that meet themselves.

Their `measures`, the `laying` of the stamp, `composing` of one repeat, their jobs (`workshop`).
"""
