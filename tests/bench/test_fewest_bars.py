"""Of two ways that take as much stock, the one of fewer bars."""

import pytest

from coper.bench.cut_list.packing import Stock, pack


# Each by hand. Three pieces of 450 and one of 150 take 1000 + 500 + 400 (two of 450 together, one
# on 500, the 150 on 400); any bar less would be 2 x 1000. Two bars of 1200 + 600 hold 1800 mm of
# pieces with nothing left.
@pytest.mark.parametrize(("pieces", "bars", "total", "fewest"), [
    ((150, 450, 450, 450), (500, 1000, 400), 1900, 3),
    ((450, 300, 150, 200, 100, 400, 200), (300, 1200, 600), 1800, 2),
    ((250, 450, 200, 400, 300), (1000, 300, 700), 1700, 2),
])
def test_as_little_stock_in_as_few_bars_as_can_be(pieces, bars, total, fewest):
    packing = pack(pieces, [Stock(bar) for bar in bars], 0.0)
    assert (packing.total, len(packing.bars)) == (total, fewest)
