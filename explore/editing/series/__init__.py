"""A series for an exhibition: squares that share what makes them a family and differ in all else.

`family` is what they share, `part` by pinhole, `trail` the longest one; `pool` gathers squares without doubles,
`kin` makes new ones with the part fixed (`fixing`) and the print laid again (`prints`); `contrast` and `order` choose
and hang them, `reading` says how the wall reads; `making`, `keeping`, `telling`; `mends` tried.
"""

# How many squares hang in one.
FEWEST, MOST = 2, 40
