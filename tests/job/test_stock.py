"""``[stock]`` and the sawing keys of ``[shop]``, right and wrong."""

import pytest

from coper import Box, JobError, Oval, Round, make_pieces, parse_job
from coper.bench.cut_list.packing import Stock
from coper.bench.cut_list.stock import KERF_MM
from coper.job.stock import job_cut_list

TUBE = """
[tubes.rail]
shape = "28.575 x 0.9"
start = { at = [0, 0, 0] }
end = { at = [0, 0, 420] }
"""


def test_without_keys_the_kerf_is_the_usual_one_and_no_length_is_known():
    job = parse_job(TUBE)
    assert (job.shop.kerf, job.shop.allowance) == (KERF_MM, 0)
    assert job.rack.shelf(Round(28.575, 0.9)).stocks == ()


def test_lengths_are_read_in_the_jobs_unit_and_in_their_own():
    job = parse_job('units = "cm"\n[shop]\nkerf = 0.15\nallowance = "5mm"\nstock = ["2m", 60]\n'
                    + TUBE.replace("28.575 x 0.9", "28.6mm x 0.9mm"))
    assert (job.shop.kerf, job.shop.allowance) == (1.5, 5)
    assert job.rack.any_tube.stocks == (Stock(2000), Stock(600))
    assert job.rack.any_tube.where == "shop.stock"


def test_a_tube_is_named_in_any_words_that_describe_it():
    job = parse_job(TUBE + """
[stock]
'1-1/8in x 0.9' = ["1m", { length = "600mm", count = 2 }, { length = 500 }]
"oval 30 by 17 x 0.9" = [400]
"box 12 by 20 corner 2 x 1.2" = [300]
"16 bent to 110 x 1.2" = [200]
""")
    assert job.rack.own[Round(28.575, 0.9)].stocks == (Stock(1000), Stock(600, 2), Stock(500))
    assert job.rack.own[Round(28.575, 0.9)].where == 'stock."1-1/8in x 0.9"'
    assert set(job.rack.own) == {Round(28.575, 0.9), Oval(30, 17, 0.9), Box(20, 12, 2, 1.2),
                                 Round(16, 1.2)}
    stock, = job_cut_list(job, make_pieces(job)).stocks
    assert [bar.length for bar in stock.packing.bars] == [500]


BAD = [
    ("[shop]\nkerf = -1", "shop.kerf", "-1 is below 0; give 0"),
    ("[shop]\nkerf = 'thin'", "shop.kerf", "thin"),
    ("[shop]\nallowance = -0.5", "shop.allowance", "below 0"),
    ("[shop]\nalowance = 5", "shop.alowance", "did you mean allowance?"),
    ("[shop]\nstock = '2m'", "shop.stock", 'write ["2m", "1m"]'),
    ("[shop]\nstock = ['2m', 0]", "shop.stock[1]", "above 0"),
    ("stock = 3", "stock", "not a table"),
    ("[stock]\n'28.6 by 0.9' = ['1m']", 'stock."28.6 by 0.9"', "; "),
    ("[stock]\n'28.6 x 15' = ['1m']", 'stock."28.6 x 15"', "too thick"),
    ("[stock]\n'28.6 x 0.9' = '1m'", 'stock."28.6 x 0.9"', "not a list"),
    ("[stock]\n'28.6 x 0.9' = []", 'stock."28.6 x 0.9"', "lists no length"),
    ("[stock]\n'28.6 x 0.9' = ['1m', '1x']", 'stock."28.6 x 0.9"[1]', "1x"),
    ("[stock]\n'28.6 x 0.9' = [-5]", 'stock."28.6 x 0.9"[0]', "above 0"),
    ("[stock]\n'28.6 x 0.9' = [{ count = 2 }]", 'stock."28.6 x 0.9"[0].length', "missing"),
    ("[stock]\n'28.6 x 0.9' = [{ length = 9, cont = 2 }]", 'stock."28.6 x 0.9"[0].cont',
     "did you mean count?"),
    ("[stock]\n'28.6 x 0.9' = [{ length = 9, count = 0 }]", 'stock."28.6 x 0.9"[0].count',
     "0 is not a number of pieces"),
    ("[stock]\n'28.6 x 0.9' = [{ length = 9, count = 1.5 }]", 'stock."28.6 x 0.9"[0].count',
     "whole number"),
    ("[stock]\n'28.6 x 0.9' = [{ length = 9, count = true }]", 'stock."28.6 x 0.9"[0].count',
     "true is not a number"),
    ("[stock]\n'28.6 x 0.9' = [9]\n'28.6mm x 0.9' = [9]", 'stock."28.6mm x 0.9"',
     'the same tube as stock."28.6 x 0.9"'),
    ("[stock]\n'22 to 14 over 400 x 0.8' = [{ length = 390, from = 400 }]",
     'stock."22 to 14 over 400 x 0.8"[0].from', "past the end of a tube of 390 mm"),
    ("[stock]\n'22 to 14 over 400 x 0.8' = [{ length = 390, straight = -4 }]",
     'stock."22 to 14 over 400 x 0.8"[0].straight', "below 0"),
    ("[stock]\n'22 to 14 over 400 x 0.8' = [{ from = 4 }]",
     'stock."22 to 14 over 400 x 0.8"[0].length', "missing"),
    ("[stock]\n'28.6 x 0.9' = [{ length = 390, from = 4 }]",
     "stock.\"28.6 x 0.9\"[0].from", ""),
    ("[tubes.post]\nshape = '28.6 x 0.9'\nshape_from = 4\nstart = { at = [0, 0, 0] }\n"
     "end = { at = [9, 9, 9] }", "tubes.post.shape_from", "is the same all along"),
    ("[stock]\n'plate 6' = [9]", 'stock."plate 6"', "a plate"),
]


@pytest.mark.parametrize(("text", "path", "said"), BAD, ids=lambda value: value[-30:])
def test_a_wrong_number_is_named_with_its_key_and_how_to_mend_it(text, path, said):
    with pytest.raises(JobError) as caught:
        job = parse_job(text + TUBE)
        job_cut_list(job, make_pieces(job))
    found = [(fault.where, str(fault)) for fault in caught.value.faults]
    assert [line for where, line in found if where == path and said in line], found


@pytest.mark.parametrize(("text", "where", "longest"), [
    ("[shop]\nstock = [400]", "shop.stock", 400),
    ("[stock]\n'28.575 x 0.9' = [400]", 'stock."28.575 x 0.9"', 400),
    ("[shop]\nallowance = 5\nstock = [425]", "shop.stock", 425)])
def test_a_blank_longer_than_its_stock_is_stated_and_its_tube_made_all_the_same(
        text, where, longest):
    job = parse_job(text + TUBE + TUBE.replace("rail", "short").replace("420", "300"))
    cuts = job_cut_list(job, make_pieces(job)).stocks[0]
    shortage, = cuts.shortages
    assert ([blank.name for blank in shortage.blanks], shortage.where, shortage.longest) == (
        ["rail"], where, longest)
    assert [cuts.blanks[index].name for bar in cuts.packing.bars for index in bar.pieces] == [
        "short"]


def test_bars_that_are_counted_and_do_not_suffice_are_stated():
    text = TUBE + TUBE.replace("rail", "other")
    job = parse_job("[stock]\n'28.575 x 0.9' = [{ length = 500, count = 1 }]\n" + text)
    cuts = job_cut_list(job, make_pieces(job)).stocks[0]
    shortage, = cuts.shortages
    assert shortage.too_few and shortage.where == 'stock."28.575 x 0.9"'
    assert [blank.name for blank in shortage.blanks] == ["rail", "other"]


def test_a_stock_that_no_tube_uses_is_no_fault():
    job = parse_job("[stock]\n'50 x 2' = [10]\n" + TUBE)
    assert job_cut_list(job, make_pieces(job)).stocks[0].packing is None
