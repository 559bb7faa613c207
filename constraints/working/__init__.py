"""How a design is worked, pair by pair and thread by thread.

`habits` says with how many twists and which moves; `ledger` writes crossings down and the pairs between them; `arcs`
tells which pair comes from where; `rows`, `blocks`, `figures` and `footside` work the parts; `order` is a
lacemaker's, `numbers` those of the pins; `start` and `ends` say where pairs are hung, finished and sewn, `gimp` what
goes round a block (apart from the ledger: it only adds twists); `steps` and `block_rows` are what is told, `pillow`
the pairs node by node. `work` puts all of it together; `threads` plays the moves and measures threads,
`check` checks them.
"""
