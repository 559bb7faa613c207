"""Sheets of many designs, plots of budgets, two designs compared.

`sheet` and its `captions`, `rows` with headings, one design `large`; `differences` of two; `materials`; `chart`,
`stairs` and `frontier`, the plot of a budget; `mirror` (corners and turnovers); `redraft` (an original beside the
grid) and `readings` of its pins.
"""
