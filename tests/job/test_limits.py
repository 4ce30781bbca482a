"""The shop's limits, saws and material in a job file."""

import json

import pytest

from coper import JobError, parse_job
from coper.job.job import Shop
from coper.job.limits import shop_limit
from coper.joint.fit.limits import PROCESSES, process_limit
from tests.cli.run import run

TUBE = """
[tubes.shell]
shape = "40 x 3"
start = { at = [0, -34, 0] }
end = { at = [0, 34, 0] }
"""


def shop(text, units="mm"):
    return parse_job(f'units = "{units}"\n[shop]\n{text}\n{TUBE}').shop


def test_a_process_of_the_table_has_the_tables_limit_and_source():
    # Machinery's Handbook 31, table 1a, after AWS A5.8: .002 to .005 in.
    limit = shop_limit(shop('process = "Silver Braze"'))
    assert limit.mm == pytest.approx(0.127) and "Machinery's Handbook" in limit.source
    assert limit == PROCESSES["silver-braze"]


def test_a_limit_of_the_jobs_own_goes_before_the_tables_and_adds_to_it():
    own = 'limits = { tig = 0.25, "My Lap" = "1/64in" }\n'
    for process, mm in (("TIG", 0.25), ("my lap", 25.4 / 64), ("mig", 1.0)):
        limit = shop_limit(shop(f'{own}process = "{process}"'))
        assert limit.mm == pytest.approx(mm)
        assert (limit.source == "as given in the job") == (process != "mig")
    assert process_limit("tig").mm == 0.3  # the table itself stays as it is


def test_bare_limits_are_in_the_jobs_unit():
    assert shop("limits = { tig = 0.01 }", "in").limits == {"tig": pytest.approx(0.254)}


def test_a_gap_limit_stands_above_every_process():
    limit = shop_limit(shop('process = "tig"\nlimits = { tig = 0.25 }\ngap_limit = 0.4'))
    assert (limit.mm, limit.process, limit.source) == (0.4, "tig", "as given in the job")
    assert limit.words() == "0.40 mm (tig, as given in the job)"
    assert shop_limit(shop("gap_limit = 0.4")).words() == "0.40 mm (as given in the job)"
    assert shop_limit(Shop()) is None


def test_depth_and_material_are_read():
    read = shop('depth = "1-7/8in"\nmaterial = "stainless steel"')
    assert (read.depth, read.material) == (pytest.approx(47.625), "stainless steel")


BAD = [
    ('process = "tgi"', "shop.process", "did you mean tig?"),
    ('process = "mine"', "shop.process", "known are fillet-braze, mig"),
    ('process = "mien"\nlimits = { mine = 0.4 }', "shop.process", "did you mean mine?"),
    ("limits = 0.3", "shop.limits", "not a table"),
    ("limits = { tig = 0 }", "shop.limits.tig", "above 0"),
    ("limits = { tig = 250 }", "shop.limits.tig", "up to 25 mm"),
    ('limits = { tig = "much" }', "shop.limits.tig", "much"),
    ("limits = { tig = 0.2, TIG = 0.3 }", "shop.limits.TIG", "has a limit already"),
    ('limits = { "my lap" = -1 }', 'shop.limits."my lap"', "above 0"),
    ("gap_limit = 30", "shop.gap_limit", "up to 25 mm"),
    ("depth = 0", "shop.depth", "above 0"),
    ('depth = "deep"', "shop.depth", "deep"),
    ('material = "mild steal"', "shop.material", "did you mean mild steel?"),
    ("material = 4130", "shop.material", "in quotes"),
]


@pytest.mark.parametrize(("text", "path", "said"), BAD, ids=lambda value: value[:40])
def test_a_fault_of_the_shop_is_named_with_its_path_and_how_to_mend_it(text, path, said):
    with pytest.raises(JobError) as caught:
        shop(text)
    fault, = caught.value.faults
    assert fault.where == path and said in str(fault) and "; " in str(fault)


def test_the_command_tells_which_limit_the_job_works_to(tmp_path):
    file = tmp_path / "job.toml"
    file.write_text(f'[shop]\nprocess = "tig"\nlimits = {{ tig = 0.25 }}\ndepth = 40\n{TUBE}')
    status, out, err = run("job", str(file), "--json")
    assert (status, err) == (0, "")
    read = json.loads(out)["shop"]
    assert (read["process"], read["limit"], read["limit_source"]) == (
        "tig", 0.25, "as given in the job")
    assert read["depth"] == 40
    assert "gap limit 0.25 mm (tig, as given in the job)" in run("job", str(file))[1]
