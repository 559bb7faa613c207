"""How many block layouts there are: exactly, at the least, or estimated.

A sweep fixes the pinholes one after another and keeps, in place of the layouts so far, what they still ask
of the pinholes to come. Layouts that ask the same go on together. That is a dynamic program over a
frontier, as in Knuth, The Art of Computer Programming 4A, 7.1.4 (frontier-based search).

`space` is what is counted, with its classes, and `motions` what takes it to itself; `sweep` the order of the pinholes,
`states` all states one step on, `tally` exact and least counts, `estimate` unbiased estimates; `answer` the best that
an effort allows.
"""
