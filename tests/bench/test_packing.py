"""Packing of bars: against brute force, against its own bound, and its laws."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper.bench.cut_list.bound import plain_dual_prices, worth
from coper.bench.cut_list.dual_prices import best_dual_prices
from coper.bench.cut_list.packing import Stock, pack
from coper.bench.cut_list.task import Kind, Task, first_fit
from coper.errors import ShapeError
from tests.profiles import examples, seeds

KERF = 2.0
FITS_MM = 1e-6


def brute_force(lengths, stocks, kerf):
    """The least (total, bars) over every way to share the pieces out; None where there is none."""
    best = None

    def place(index, bars, left):
        nonlocal best
        cost = (sum(stocks[kind].length for kind, _ in bars), len(bars))
        if best is not None and cost >= best:
            return
        if index == len(lengths):
            best = cost
            return
        for at, (kind, held) in enumerate(bars):
            longer = (*held, lengths[index])
            if sum(longer) + (len(longer) - 1) * kerf <= stocks[kind].length + FITS_MM:
                place(index + 1, [*bars[:at], (kind, longer), *bars[at + 1:]], left)
        for kind, stock in enumerate(stocks):
            if left[kind] and lengths[index] <= stock.length + FITS_MM:
                fewer = [*left[:kind], left[kind] - 1, *left[kind + 1:]]
                place(index + 1, [*bars, (kind, (lengths[index],))], fewer)

    place(0, [], [len(lengths) if stock.count is None else stock.count for stock in stocks])
    return best


def check_whole(packing, lengths, stocks, kerf):
    """Each piece once, no bar too full, no more bars than there are, the rest as told."""
    assert sorted(index for bar in packing.bars for index in bar.pieces) == list(
        range(len(lengths)))
    for bar in packing.bars:
        cut = [lengths[index] for index in bar.pieces]
        assert cut and cut == sorted(cut, reverse=True)
        assert sum(cut) + (len(cut) - 1) * kerf <= bar.length + FITS_MM
        assert bar.rest == pytest.approx(max(0, bar.length - sum(cut) - len(cut) * kerf), abs=1e-5)
    for length in {bar.length for bar in packing.bars}:
        there = [stock.count for stock in stocks if stock.length == pytest.approx(length)]
        assert there
        if None not in there:
            assert sum(bar.length == length for bar in packing.bars) <= sum(there)
    assert packing.total == pytest.approx(sum(bar.length for bar in packing.bars))
    assert packing.least <= packing.total


PIECES = st.lists(st.one_of(st.sampled_from([150.0, 298.0, 333.3, 499.0]),
                            st.floats(60, 700).map(lambda value: round(value, 2))),
                  min_size=1, max_size=7)
STOCKS = st.lists(st.builds(Stock, st.sampled_from([400.0, 609.6, 700.0, 1000.0, 1500.0]),
                            st.sampled_from([None, None, 1, 2])), min_size=1, max_size=3)


@examples(120)
@given(PIECES, STOCKS, st.sampled_from([0.0, 2.0, 3.2]))
def test_few_pieces_take_as_little_stock_and_as_few_bars_as_brute_force_finds(
        lengths, stocks, kerf):
    known = brute_force(lengths, stocks, kerf)
    if known is None:
        with pytest.raises(ShapeError):
            pack(lengths, stocks, kerf)
        return
    packing = pack(lengths, stocks, kerf)
    check_whole(packing, lengths, stocks, kerf)
    assert packing.total == pytest.approx(known[0])
    assert len(packing.bars) == known[1]
    assert packing.over == 0


@examples(5)
@given(st.integers(0, 10**6), st.integers(15, 60))
def test_many_pieces_are_each_cut_once_and_the_bound_stays_below(seed, count):
    rng = random.Random(seed)
    lengths = [round(rng.uniform(80, 900), 2) for _ in range(count)]
    stocks = [Stock(1828.8), Stock(1000), Stock(733.1, 3)]
    packing = pack(lengths, stocks, KERF)
    check_whole(packing, lengths, stocks, KERF)
    assert packing.least >= sum(lengths)


@pytest.mark.parametrize("seed", seeds(4, 2521874576, 1573944580))
def test_a_shops_forty_pieces_take_at_most_one_bar_more_than_the_bound(seed):
    rng = random.Random(seed)
    lengths = [round(rng.uniform(100, 900), 1) for _ in range(40)]
    assert pack(lengths, [Stock(6000)], KERF).over == 0
    two = pack(lengths, [Stock(2000), Stock(1000)], KERF)
    assert two.total - two.least <= 1000


@examples(60)
@given(PIECES, st.lists(st.sampled_from([700, 1000, 1500]), min_size=1, max_size=3, unique=True))
def test_neither_kind_of_price_says_more_than_brute_force_needs(lengths, bars):
    task = Task(tuple(sorted({round(length * 100) for length in lengths}, reverse=True)),
                tuple(lengths.count(length) for length in sorted(set(lengths), reverse=True)),
                tuple(Kind(bar * 100, bar * 100, None) for bar in sorted(bars, reverse=True)))
    known = brute_force(lengths, [Stock(bar) for bar in bars], 0.0)
    for prices in (plain_dual_prices(task), best_dual_prices(task)):
        assert worth(prices, task.counts) <= known[0] * 100 + FITS_MM


def test_the_best_prices_see_what_lengths_alone_do_not():
    # A bar of 1 m gives two pieces of 0.4 m, so seven take 3.5 bars, though they are 2.8 m long.
    task = Task((400_000,), (7,), (Kind(1_000_000, 1_000_000, None),))
    assert worth(plain_dual_prices(task), task.counts) == 2_800_000
    assert worth(best_dual_prices(task), task.counts) == pytest.approx(3_500_000, abs=10)


def test_the_kerf_is_counted_between_pieces_but_not_behind_one_that_ends_with_the_bar():
    assert len(pack([499.0, 499.0], [Stock(1000)], 2.0).bars) == 1
    assert len(pack([499.1, 499.0], [Stock(1000)], 2.0).bars) == 2
    bar, = pack([499.0, 498.0], [Stock(1000)], 2.0).bars
    assert bar.rest == 0
    bar, = pack([499.0, 400.0], [Stock(1000)], 2.0).bars
    assert bar.rest == pytest.approx(97)


def test_an_offcut_is_taken_before_a_longer_bar_and_no_oftener_than_it_is_there():
    packing = pack([380.0, 380.0], [Stock(1000), Stock(400, 1)], 2.0)
    assert [bar.length for bar in packing.bars] == [1000]
    packing = pack([380.0, 700.0], [Stock(1000), Stock(400, 1)], 2.0)
    assert [bar.length for bar in packing.bars] == [1000, 400]
    packing = pack([380.0] * 3, [Stock(1000), Stock(400, 1)], 2.0)
    assert sorted(bar.length for bar in packing.bars) == [400, 1000]


def test_first_fit_alone_would_take_a_bar_too_many():
    lengths = [56.0, 37, 34, 29, 19, 19]  # 56 + 37 leave 7; but 56 + 19 + 19 and 37 + 34 + 29
    sizes = tuple(dict.fromkeys(round(length) for length in lengths))
    task = Task(sizes, (1, 1, 1, 1, 2), (Kind(100, 100, None),))
    assert len(first_fit(task, 0).cuts) == 3
    packing = pack(lengths, [Stock(100)], 0.0)
    assert len(packing.bars) == 2 and packing.over == 0


def test_the_same_input_is_packed_the_same_way():
    lengths = [round(100 + 37.7 * index % 611, 2) for index in range(25)]
    stocks = [Stock(1828.8), Stock(1000)]
    assert pack(lengths, stocks, 1.5) == pack(lengths, stocks, 1.5)


def test_five_hundred_different_pieces_are_packed_near_the_least():
    lengths = [100 + (index * 379.31) % 800 for index in range(500)]
    packing = pack(lengths, [Stock(6000), Stock(3000)], 2.0)
    check_whole(packing, lengths, [Stock(6000), Stock(3000)], 2.0)
    assert packing.over < 0.02


@pytest.mark.parametrize(("lengths", "stocks", "said"), [
    ([1200.0], [Stock(1000)], "a piece of 1200 mm (rail) is longer than every stock length; the "
                              "longest is 1000 mm"),
    ([1000.1], [Stock(1000), Stock(400)], "1000.1 mm"),
    ([600.0, 600.0], [Stock(1000, 1)], "all pieces (2, together 1200 mm)"),
])
def test_what_cannot_be_cut_is_refused_with_how_to_mend_it(lengths, stocks, said):
    with pytest.raises(ShapeError) as caught:
        pack(lengths, stocks, 2.0, ["rail", "other"])
    assert said in str(caught.value) and "; list " in str(caught.value)


def test_nothing_to_cut_takes_no_bar():
    assert pack([], [Stock(1000)], 2.0).bars == ()
