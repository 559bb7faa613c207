"""Words set in lines."""

from explore.lines import columns, one_line, spans


def test_every_column_is_as_wide_as_its_longest_word_and_no_line_ends_in_blanks() -> None:
    assert columns([("number", "size", ""), ("01", "a longer one", "x"), ("112", "-", "")]) == [
        "number  size",
        "01      a longer one  x",
        "112     -",
    ]
    assert columns([]) == []


def test_a_title_is_one_line_without_control_signs() -> None:
    assert one_line("  a\nb\u202ec\x00 d ") == "a b c d"
    assert len(one_line("x" * 10_000)) == 400


def test_numbers_in_words() -> None:
    assert spans([1, 2, 3, 7, 9, 10]) == "1 to 3, 7, 9 to 10"
    assert spans([4]) == "4"
