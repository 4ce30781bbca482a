"""The look for words on each other, which the tests of every paper lean on."""

import pytest

from coper.drawing.marks import Text
from tests.pages.room import overlapping


@pytest.mark.parametrize(("other", "meets"), [
    (Text((5.0, 1.0), "toe", 4.0), True),
    (Text((40.0, 0.0), "toe", 4.0), False),
    (Text((5.0, -2.0), "toe", 4.0, turn=90.0), True),
    (Text((0.0, 12.0), "toe", 4.0), False)])
def test_only_words_that_stand_on_each_other_are_found(other, meets):
    assert bool(overlapping((Text((0.0, 0.0), "heel", 4.0), other))) == meets


def test_turned_words_side_by_side_are_apart_though_their_upright_bounds_meet():
    one, other = (Text((x, 0.0), "main's axis", 4.0, turn=45.0) for x in (0.0, 9.0))
    assert not overlapping((one, other))
    assert overlapping((one, Text((2.0, 0.0), "main's axis", 4.0, turn=45.0)))
