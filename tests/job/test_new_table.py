"""A table that a file has not yet stands before the points and tubes, and all else stays."""

import tomllib

import pytest

from coper.errors import CoperError
from coper.job.new_table import with_table


def test_a_new_table_stands_between_those_before_the_points_and_their_comments():
    text = 'units = "mm"\n\n[shop]\nkerf = 1 # a\n\n# of the frame\n[points]\na = [0, 0, 0]\n'
    assert with_table(text, "drive") == text.replace("kerf = 1 # a\n",
                                                     "kerf = 1 # a\n\n[drive]\n")


@pytest.mark.parametrize("text", [
    "", 'title = "x"', '[tubes.a]\nshape = "x"\n', "[points]\n", "\ufeff[points]\r\na = 1\r\n"])
def test_a_file_of_any_kind_gets_it_once(text):
    made = with_table(text, "table")
    bare = made.removeprefix("\ufeff")
    assert tomllib.loads(bare) == {**tomllib.loads(text.removeprefix("\ufeff")), "table": {}}
    assert with_table(made, "table") == made


def test_a_file_that_has_points_at_its_top_is_refused():
    with pytest.raises(CoperError, match="cannot change"):
        with_table("points.a = [0, 0, 0]\n", "drive")
