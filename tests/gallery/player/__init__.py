"""A player of the words: it reads a printed order of work and follows it with pairs of its own on a pillow of its own.

What it knows is what a lacemaker has before her, and no more:

- the text, as it is written to a file;
- the pricking: where every pinhole of the piece lies, where every numbered pin stands (`pricking.Pricking.pins`; those
  at the outer side of a headside before that side is curved), which pinholes the map of the blocks shows in which
  block, which blocks lie along the edge as a headside, which have a gimp drawn round them, and which pinholes the
  diagram shows in a ground of its own;
- the rules of the trade, written anew here: pairs run from a pinhole to the two below it; a pin of the ground takes the
  two pairs that come down to it; at an edge the edge pair goes from pin to pin with its passives beside it; a worker
  goes to and fro through all pairs of its block, and each turn is round a pin or said; a cross-over joins two pairs
  that pass a hole side by side at a corner of a rose (Edkins' teaching pages; Dillmont 1886 for the order of pairs in
  plain ground; the worker's ways are common practice, no source).

These facts are independent of what they judge: nothing here imports `constraints` or `gallery`; which pair is where
follows from the hanging on and from the sentences followed so far, never from the work that was told. A sentence that
cannot be read is a fault, and so is one that cannot be done.
"""
