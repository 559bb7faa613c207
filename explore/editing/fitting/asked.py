"""What `fit` is asked in lengths, as she writes them."""

from explore.asking.kinds import LENGTH, Number, Span

EASE = Number(0.0, 1000.0, "a length from 0 to 1000 mm, such as 5mm", LENGTH)
PITCH = Span(Number(0.5, 100.0, "a length from 0.5 to 100 mm or a range, such as 5mm or 3-6mm", LENGTH, "mm"))
