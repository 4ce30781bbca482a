"""Which of two stacks that come as near is built."""

from coper.bench.layout.blocks import BlockSet


def test_of_two_equally_high_stacks_the_one_of_fewer_blocks_is_built():
    for sizes in ((40.0, 30.0, 10.0, 20.0), (10.0, 20.0, 30.0, 40.0), (30.0, 10.0, 20.0, 40.0)):
        assert BlockSet(sizes).stack(40.0).blocks == (40.0,)
        assert BlockSet(sizes).stack(70.0).blocks == (40.0, 30.0)


def test_of_two_stacks_as_near_above_as_below_the_lower_one_is_built():
    # Both are flush; a sheet of paper can still be put on the lower one. Sixteenths are exact.
    for sizes in ((50.0625, 49.9375), (49.9375, 50.0625)):
        assert BlockSet(sizes).stack(50.0).blocks == (49.9375,)


def test_a_stack_is_flush_up_to_a_tenth_of_a_mm_above_and_no_further():
    assert BlockSet((50.09, 45.0)).stack(50.0).blocks == (50.09,)
    lower = BlockSet((50.11, 45.0)).stack(50.0)
    assert (lower.blocks, lower.shim) == ((45.0,), 5.0)
