"""Sheets of many designs, plots of budgets, two designs compared.

`sheet` and `rows` with headings, made of a `heading`, squares `placed` on a `grid`, `captions` (the table of all that
is told) and a `legend`; one design `large`; `differences` of two; `materials`; `ribbon`, a print at rising sizes;
`chart`, `stairs` and `frontier`, the plot of a budget; `mirror` (corners and turnovers); `redraft` (an original beside
the grid) and `readings` of its pins.
"""
