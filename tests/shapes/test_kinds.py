"""The kinds of tube: words to numbers and back, every form of the grammar among them."""

import pytest

from coper.errors import WordsError
from coper.shapes.kinds import KINDS, kind_named, kind_words, measured_kind
from coper.shapes.read import forms, parse_tube


@pytest.mark.parametrize("words", [*forms(), "1-1/8in x 18bwg", "PIPE dn32 SCH 40", "40",
                                   "box 1-1/4 by 3/4 x .065", "12 x 0.8mm"])
def test_every_form_is_of_one_kind_and_its_numbers_make_the_same_tube_again(words):
    kind, numbers = measured_kind(words)
    assert parse_tube(kind_words(kind, numbers)) == parse_tube(words)
    assert [other for other in KINDS if measured_kind(words)[0] == other] == [kind]


def test_every_kind_has_a_form_and_its_name_leads_to_it():
    assert {measured_kind(words)[0] for words in forms()} == set(KINDS)
    assert [kind_named(kind.name) for kind in KINDS] == list(KINDS)
    assert kind_named("nothing") == KINDS[0]


def test_the_numbers_are_as_they_were_written():
    assert measured_kind("22.2 TO 14 over 15in x 20swg") == (
        kind_named("tapered"), {"": "22.2", "to": "14", "over": "15in", "x": "20swg"})


def test_a_number_that_is_missing_is_asked_for_by_its_name():
    with pytest.raises(WordsError, match="give other side too"):
        kind_words(kind_named("box"), {"box": "40", "by": " "})
    assert measured_kind("some tube") is None and measured_kind("40 over 3") is None
