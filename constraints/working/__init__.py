"""How a square is worked, pair by pair and thread by thread.

`habits` says with how many twists and which moves; `ledger` writes crossings down; `ways` tells which pair
comes from where; `rows`, `figures` and `footside` work the parts; `work` puts them together; `threads` plays
the moves. Nothing here judges a design: what the second check accepts can be worked.
"""
