"""Tables of text: columns stand under each other, and no line ends in blanks."""

from reedchord.text_table import aligned


def test_columns_stand_under_each_other():
    assert aligned([("tone", "concert"), ("1", "F4"), ("10", "")]) == [
        "tone  concert",
        "1     F4",
        "10",
    ]


def test_no_rows_are_no_lines():
    assert aligned([]) == []
