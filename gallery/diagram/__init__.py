"""The working diagram of a design: every pair a line.

`standing` and `spreading` say where what is worked stands, `guides` and `start` what is drawn round it, `pairlines` how
every pair runs, `inking` in which colours; `numbers` and the `legend`; `drawn` all of it in layers, `pages` on paper.
"""
