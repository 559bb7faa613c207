"""Fitting a chosen piece to something she owns.

`fits`, how the `chosen` piece can be made to fit and what each takes, `variants` of it with other edgings; `telling` as
a table, `door` of what mends.
"""

from explore.asking.keys import PITCHES_MM
from explore.asking.kinds import LENGTH, Number
from explore.asking.several import Span

# How far off it may be, and the pitches it may have, as she writes them.
EASE = Number(0.0, 1000.0, "a length from 0 to 1000 mm, such as 5mm", LENGTH, "mm")
PITCH = Span(Number(*PITCHES_MM, "a length from 0.5 to 100 mm or a range, such as 5mm or 3-6mm", LENGTH, "mm"))
