"""What fits a budget of pairs: what every half-size reaches, and the best of them that each budget affords.

`asked` is what is asked for; `sizes` those that it affords, `showing` and `verdicts` what is reached at each, `survey`
all of them worked out, `frontier` the running best, so that no number falls. `words`, `reasons`, `charting`, `record`
and `writing` tell it; `door` tries mends.
"""

# Where a range of budgets begins if none is named; it ends with the pairs of the brief.
FEWEST = 16
