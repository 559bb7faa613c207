"""Other pieces made of those that were found.

`varying` (cousins and small steps), `series` for a wall, `budget` (what pairs allow), `mirroring` (a strip round a
frame), `fitting` (to something she owns), `edgings` tried on, `redrafting` (from an old pricking); `comparing` two
designs, `counts` of all there are; `plain` refuses what is no square.
"""
