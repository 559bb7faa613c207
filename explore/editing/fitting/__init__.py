"""Fitting a chosen piece to something she owns.

`asked` lengths; `fits`, how it can be made to fit and what each takes, `variants` of it with other edgings; `telling`
as a table, `door` of what mends.
"""
