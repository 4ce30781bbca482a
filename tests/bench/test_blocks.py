"""Stacks of set-up blocks, against every subset of them."""

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper import CoperError
from coper.bench.layout.blocks import FLUSH_MM, BlockSet
from coper.telling.words.blocks import block_name, stack_words
from tests.profiles import examples

INCH = 25.4
SHOP = (3 * INCH, 2 * INCH, INCH, INCH / 2, INCH / 8)
SIZES = st.lists(st.sampled_from([INCH / 8, INCH / 4, INCH / 2, INCH, 5.0, 10.0, 20.0, 50.0, 33.3]),
                 max_size=9).map(tuple)


def subsets(sizes):
    for count in range(len(sizes) + 1):
        yield from combinations(sizes, count)


@given(SIZES, st.floats(0, 250))
@examples(80)
def test_a_stack_is_the_best_of_all_subsets(sizes, height):
    """Flush within a tenth, else the highest that leaves room for a shim."""
    stack = BlockSet(sizes).stack(height)
    under = max(sum(some) for some in subsets(sizes) if sum(some) <= height + 1e-6)
    over = min((sum(some) for some in subsets(sizes) if sum(some) >= height - 1e-6),
               default=float("inf"))
    best = over if over - height <= FLUSH_MM and over - height < height - under else under
    assert sum(stack.blocks) == pytest.approx(best, abs=1e-5)
    rest = height - best
    assert stack.shim == pytest.approx(rest if rest > FLUSH_MM else 0.0, abs=1e-5)
    assert sorted(stack.blocks, reverse=True) == list(stack.blocks)


@given(SIZES, st.floats(0, 250))
@examples(80)
def test_no_stack_of_the_same_height_has_fewer_blocks_or_uses_one_twice(sizes, height):
    stack = BlockSet(sizes).stack(height)
    fewest = min(len(some) for some in subsets(sizes)
                 if abs(sum(some) - sum(stack.blocks)) < 1e-6)
    assert len(stack.blocks) == fewest
    assert all(stack.blocks.count(block) <= sizes.count(block) for block in stack.blocks)


@given(SIZES, st.floats(0, 250))
@examples(60)
def test_the_next_height_up_is_the_lowest_of_all_subsets_that_reach_it(sizes, height):
    found = BlockSet(sizes).next_up(height)
    reach = [sum(some) for some in subsets(sizes) if sum(some) >= height - 1e-6]
    assert found == (pytest.approx(min(reach), abs=1e-5) if reach else None)


def test_a_drop_set_by_one_block_and_a_shim_of_an_inch_and_an_eighth():
    # Common practice, no source: one block plus a shim of an inch and an eighth setting the drop.
    drop = (2 + 1 + 1 / 8) * INCH
    stack = BlockSet((2 * INCH,)).stack(drop)
    assert stack_words(stack) == "2 in + shim 28.58 mm (1-1/8 in)"
    assert stack_words(BlockSet(SHOP).stack(drop)) == "3 in + 1/8 in"


def test_the_words_name_inch_blocks_in_inches_and_mm_blocks_in_mm():
    assert stack_words(BlockSet((*SHOP, 10.0)).stack(36.3)) == (
        "1 in + 10 mm + shim 0.90 mm (1/32 in)")
    assert block_name(12.7) == "1/2 in" and block_name(12.0) == "12 mm"


def test_nothing_stands_under_what_lies_on_the_table():
    stack = BlockSet(SHOP).stack(0.0)
    assert (stack.blocks, stack.shim, stack_words(stack)) == ((), 0.0, "on the table")


def test_a_stack_a_sheet_of_paper_too_high_is_flush():
    stack = BlockSet((50.0, 45.0)).stack(49.95)
    assert (stack.blocks, stack.shim) == ((50.0,), 0.0)


@pytest.mark.parametrize(("sizes", "said"), [
    ((1.0,) * 25, "25 blocks"), ((10.0, -3.0), "-3"), ((0.0,), "not a size")])
def test_blocks_that_cannot_be_stacked_are_refused(sizes, said):
    with pytest.raises(CoperError, match=said):
        BlockSet(sizes)


def test_all_stacks_of_the_most_blocks_are_still_tried():
    sizes = tuple(2.0**k for k in range(16)) + (0.5,) * 8
    assert BlockSet(sizes).stack(43690.5).blocks == (*(2.0**k for k in range(15, 0, -2)), 0.5)
