"""What fits a budget of pairs: figures of every half-size, and the best of them that each budget affords.

`offers` are the sizes, `showing` and `room` their figures, `survey` all of them worked out, `frontier` the running
best, so that no figure falls. `words`, `reasons`, `listing`, `charting`, `record` and `writing` tell it; `door` tries
mends.
"""
