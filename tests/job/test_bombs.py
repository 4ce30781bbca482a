"""Job files made to exhaust: refused before the parser, or their faults gathered in linear time."""

import tomllib

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from coper import CoperError, JobError, parse_job
from coper.job import faults as gathering
from coper.job.bounds import MOST_DEPTH, MOST_PARTS, check_bounds
from tests.cli.run import run
from tests.job.test_faults import GOOD, SHELL
from tests.profiles import examples

LONG_KEY = ".".join("a" * (MOST_PARTS + 1))
DEEP = "[" * (MOST_DEPTH + 1) + "]" * (MOST_DEPTH + 1)

BOMBS = [
    ("a" + ".a" * 20_000 + " = 1", "line 1", "parts"),
    (f"{GOOD}\n{LONG_KEY} = 1", "line 12", "more than 6 parts"),
    (f"[{LONG_KEY}]", "line 1", "parts"),
    (f"x = {{ {LONG_KEY} = 1 }}", "line 1", "parts"),
    (f"x = {{ y = 1, {LONG_KEY} = 1 }}", "line 1", "parts"),
    ('"a" . ' * MOST_PARTS + "'b' = 1", "line 1", "parts"),
    (f"x = {DEEP}", "line 1", "16 deep at most"),
    ("x = " + "{a=" * 100_000, "line 1", "16 deep at most"),
    (f'x = """a"""", {DEEP}', "line 1", "16 deep at most"),  # a text may end in a quote of its own
    (f"x = ['''a''''', {DEEP}]", "line 1", "16 deep at most"),
    (f'x = ["\\\\", {DEEP}, "]"]', "line 1", "16 deep at most"),
]


@pytest.mark.parametrize(("text", "where", "said"), BOMBS)
def test_a_bomb_never_reaches_the_parser(text, where, said, monkeypatch):
    monkeypatch.setattr(tomllib, "loads", lambda text: pytest.fail("parsed"))
    with pytest.raises(JobError) as caught:
        parse_job(text)
    assert str(caught.value).startswith(where) and said in str(caught.value)


@pytest.mark.parametrize("text", [
    f'x = "{LONG_KEY} {DEEP}"', f"x = '{DEEP}'  # {DEEP}", f'x = """\n{DEEP}\\"""{DEEP}"""""',
    f"x = '''\n{DEEP}''{DEEP}'''''", ".".join("a" * MOST_PARTS) + " = 1",
    "x = " + "[" * MOST_DEPTH + "]" * MOST_DEPTH, f'"{LONG_KEY}" = 1.5',
    "[a.b]\n[c.d]\n[e.f]\n[g.h]",
    "x = [1.5, 2.5, 3.5, 4.5, 5.5, 6.5, 7.5, 8.5]"])
def test_what_only_looks_like_a_bomb_is_read(text):
    check_bounds(text)
    assert tomllib.loads(text)


QUOTES = st.sampled_from(['"', "'", "\\", "[", "]", "x", "\n", "#", '"""', "'''", "a=", ","])


@given(st.lists(QUOTES, max_size=14).map("".join))
@example('[""]')
@examples(300)
def test_brackets_in_texts_and_comments_are_counted_as_the_parser_counts_them(text):
    """A file that the parser takes nests as deep as its values do, and no deeper."""
    try:
        table = tomllib.loads(text + f"\nend = {DEEP}")
    except tomllib.TOMLDecodeError:
        return
    with pytest.raises(JobError, match="too deep"):
        check_bounds(text + f"\nend = {DEEP}")
    assert "end" in str(table)  # under whatever table the text ended in
    check_bounds(text)


@pytest.mark.parametrize("opener", ['"""', "'''", '"', "'", '\\"""'])
def test_a_text_without_an_end_is_looked_for_once(opener):
    """The parser stops there; each of those after it, looked for to the end, would take hours."""
    check_bounds(f"x = {opener}\n" + '\\"""\n' * 150_000)


# faults of a kind, thousands of them


def tube(number, shape="22 x 0.9", on="shell"):
    return (f'[tubes.t{number}]\nshape = "{shape}"\nstart = {{ at = [0, 0, 0], on = ["{on}"] }}\n'
            "end = { at = [400, 0, 0] }\n")


KINDS = {
    "shapes": lambda count: SHELL + "".join(tube(n, shape=f"{n}y x 0.9") for n in range(count)),
    "mains": lambda count: SHELL + "".join(tube(n, on=f"shel{n}") for n in range(count)),
    "keys": lambda count: SHELL + "[shop]\n" + "".join(f"sow{n} = 1\n" for n in range(count)),
    "points": lambda count: SHELL + "[points]\n" + "".join(
        f'p{n} = {{ from = "q{n}", by = [1, 0, 0] }}\n' for n in range(count)),
}


def faults_of(text):
    with pytest.raises(JobError) as caught:
        parse_job(text)
    return caught.value.faults


@pytest.mark.parametrize("kind", KINDS)
def test_every_fault_is_found_however_many_there_are(kind):
    assert len(faults_of(KINDS[kind](400))) == 400


@pytest.mark.parametrize("kind", KINDS)
def test_twice_the_faults_are_written_out_twice_as_often(kind, monkeypatch):
    written = []
    plain = CoperError.__str__
    monkeypatch.setattr(CoperError, "__str__", lambda error: written.append(1) or plain(error))

    def work(count):
        written.clear()
        faults_of(KINDS[kind](count))
        return len(written)

    assert work(200) <= 2.1 * work(100)


@pytest.mark.parametrize("kind", ["mains", "keys", "points"])
def test_unknown_names_are_compared_with_so_many_known_ones_and_no_more(kind, monkeypatch):
    compared = []
    nearest = gathering.nearest_known
    monkeypatch.setattr(gathering, "nearest_known", lambda word, known: compared.append(
        len(known)) or nearest(word, known))
    monkeypatch.setattr(gathering, "MOST_COMPARED", 1000)
    faults_of(KINDS[kind](500))
    assert sum(compared) < 1000 + 501  # the last one may exceed it


def test_the_first_hundred_faults_are_printed_and_the_others_counted(tmp_path):
    file = tmp_path / "job.toml"
    file.write_text(KINDS["shapes"](250))
    status, out, err = run("job", str(file))
    assert (status, out) == (2, "")
    lines = err.splitlines()
    assert len(lines) == 101
    assert lines[-1] == "coper: 150 more faults; mend these first"


def test_a_message_names_a_few_of_many(tmp_path):
    many = "".join(tube(n, on=f"t{n + 1}") for n in range(400)) + tube(400, on="t0")
    fault, = faults_of(many)
    assert "in a circle: t0 on t1 on t2" in str(fault) and "... on t400 on t0" in str(fault)
    assert len(str(fault)) < 300
    far = "".join(tube(n, on="t0") for n in range(1, 400)) + tube(0, on="qqqq")
    fault, = faults_of(far)
    assert "known are t1, t10, t100" in str(fault) and "and 3" in str(fault)
    assert len(str(fault)) < 400


@pytest.mark.parametrize(("text", "where"), [
    (f'title = "{"w" * 201}"\n{GOOD}', "title"),
    (GOOD.replace("tubes.stay", f'tubes.{"w" * 81}'), "tubes.w"),
    (f'{GOOD}[points]\n{"w" * 81} = [0, 0, 0]', "points.w"),
    (GOOD.replace("40 x 3", "40 x 3" + " " * 200), "tubes.shell.shape"),
    (f'[shop.limits]\n{"w" * 81} = 1\n{GOOD}', "shop.limits.w"),
])
def test_titles_names_and_texts_have_a_length(text, where):
    fault, = faults_of(text)
    assert str(fault).startswith(where) and "at most" in str(fault)
    assert len(str(fault)) < 400
    shorter = text.replace("w" * 201, "w" * 200).replace("w" * 81, "w" * 80)
    assert parse_job(shorter.replace(" " * 200, " " * 100)).tubes


def test_the_line_of_a_long_fault_is_not_searched_for_what_was_meant():
    fault, = faults_of("x = " + '"1' * 100_000 + "?\n")
    assert "not valid TOML" in str(fault) and len(str(fault)) < 300


@pytest.mark.parametrize("key", ["saws", "blocks", "stock"])
def test_a_list_has_a_length(key):
    def listing(count):
        return f"[shop]\n{key} = [{', '.join(['500'] * count)}]\n{GOOD}"

    fault, = faults_of(listing(1001))
    assert str(fault) == f"shop.{key}: a list of 1001; list 1000 at most"
    assert parse_job(listing(1000)).tubes
