"""Other pieces made of those that were found.

`varying` (cousins and small steps), `series` for a wall, `budget` (what pairs allow), `mirroring` (a strip round a
frame), `fitting` (to something she owns), `edgings` tried on, `redrafting` (from an old pricking); `comparing` two
designs, `counts` of all layouts there are, which
`counts_told` puts into words and a file; `liking` learns her taste from her picks; `plain` refuses what a command does
not take.
"""
