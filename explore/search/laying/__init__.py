"""Laying a stamp on the grid: where whole prints fit, what blocks show them best, and why none may.

`placement` is what every form shares. `sectors` tells the sectors of a square that a print may take, `places` a varied
choice of them, `simplified` what of a print can be shown at its size, `noticed` what an eye notices of that, `blocking`
the blocks that show it best (`hulls`: a first answer; `windows`: one bettered place by place, `bought`: with splits
where they pay; `mirror`: along its own axis), `detail` what they show of thin limbs, `laid` which to use, `together`
how several prints lie clear of each other, `spots` whether at the corners, along the sides or over the middle, `why`
what to say if none may; `falls` lays a stamp alone at every size and turn, `bolder` tries how thin limbs are kept.
"""
