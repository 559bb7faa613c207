"""Fitting a chosen piece to something she owns.

`asked` lengths; `ways` to make it fit and what each takes, `variants` of it with other edgings; `telling` as a table,
`door` of what mends.
"""
