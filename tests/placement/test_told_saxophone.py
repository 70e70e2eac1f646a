"""The saxophone that a user told for a part whose name tells none."""

import re

import pytest

from reedchord.errors import RequestError
from reedchord.placement.place import place
from reedchord.saxophones import FAMILY
from samples import COLLECTION, RESTS, at


def test_what_was_told_of_a_part_once_holds_for_the_next_placement():
    unnamed = re.sub(rb"<part-name>[^<]*</part-name>", b"<part-name>Lind</part-name>", RESTS)
    unnamed = re.sub(rb"<instrument-sound>[^<]*</instrument-sound>", b"", unnamed)
    unnamed = re.sub(rb"<instrument-name>[^<]*</instrument-name>", b"", unnamed)
    with pytest.raises(RequestError, match="for no saxophone"):
        place(unnamed, [at(2, 3)], COLLECTION)
    told = at(1).model_copy(update={"saxophone": FAMILY["alto"]})
    once = place(unnamed, [told], COLLECTION)
    twice = place(once.data, [at(2, 3)], COLLECTION)
    assert [one.saxophone for one in (row.wish for row in twice.record.placements)] == [
        FAMILY["alto"],
        FAMILY["alto"],
    ]
    named_again = at(2, 3).model_copy(update={"saxophone": FAMILY["alto"]})
    assert twice.data == place(once.data, [named_again], COLLECTION).data
