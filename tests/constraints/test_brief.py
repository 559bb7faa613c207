"""What a brief must say."""

from __future__ import annotations

import pytest

from constraints.brief import Brief


@pytest.mark.parametrize("stitches", [(), ("rose",), ("spider", "double-ground")])
def test_a_brief_without_a_stitch_for_blocks_is_refused_in_one_line_that_names_them(stitches: tuple[str, ...]) -> None:
    with pytest.raises(ValueError, match="cloth, half, whole") as refused:
        Brief.of(stitches=stitches)
    allowed = ", ".join(stitches) or "nothing"
    assert str(refused.value) == f"blocks need at least one of cloth, half, whole; the brief allows {allowed}"
