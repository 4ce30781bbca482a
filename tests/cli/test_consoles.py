"""Whoever listens, and on whatever console: the status says what was done, no line is raw."""

import io
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from coper.cli.console import Console
from coper.cli.main import main
from coper.cli.progress import CLEAR, Progress
from coper.cli.terminal import set_lines
from coper.telling.grid import Grid
from tests.cli.run import run
from tests.cli.test_job import DEMO
from tests.cli.test_random_jobs import SMALL

JOINT = ("joint", "28.6 x 0.9", "38.1", "--angle", "62")
REFUSED = ("joint", "28.6 x 0.9", "38.1", "--angle", "steep")
SHORT = ("fit", "28.6 x 0.9", "38.1", "--angle", "62", "--cut", "square", "--limit", "0.1")
TOP = Path(__file__).parents[2]
CODECS = ("ascii", "latin-1", "cp437", "cp850", "cp874", "cp1252", "utf-8")


class Gone(io.StringIO):
    """A stream whose reader has left, as a pager's that was quit."""

    def write(self, text):
        raise BrokenPipeError(32, "Broken pipe")


class Full(Gone):
    """A stream into a disk that is full."""

    def write(self, text):
        raise OSError(28, "No space left on device")


class FullLater(io.StringIO):
    """A stream that takes all, and cannot hand it on."""

    def flush(self):
        raise OSError(28, "No space left on device")


def command(*words, env=None, redirect="", **how):
    """The command as a process of its own; ``redirect`` as a shell writes it."""
    return subprocess.Popen(
        ["sh", "-c", f'exec "$@" {redirect}', "sh", sys.executable, "-m", "coper", *words],
        env={**os.environ, "PYTHONPATH": str(TOP), **(env or {})}, **how)


@pytest.fixture
def small(tmp_path):
    file = tmp_path / "small.toml"
    file.write_text(SMALL)
    return file


# who listens


def test_a_packet_is_written_though_its_reader_leaves_after_one_line(small, tmp_path):
    with command("job", str(small), "--out", str(tmp_path / "out"), stdout=subprocess.PIPE,
                 stderr=subprocess.STDOUT) as process:
        assert process.stdout.readline() == b"cut list \xe2\x80\xa6\n"
        process.stdout.close()
        assert process.wait() == 0
    assert (tmp_path / "out" / "small.pdf").read_bytes().startswith(b"%PDF")
    assert (tmp_path / "out" / "small.svg").is_file()


@pytest.mark.parametrize(("words", "status"), [(JOINT, 0), (SHORT, 1), (REFUSED, 2)])
@pytest.mark.parametrize("out", [Gone, type(None)])
@pytest.mark.parametrize("err", [Gone, Full, type(None)])
def test_the_status_is_the_same_though_nobody_listens(words, status, out, err):
    assert main(words, out(), err()) == status


def test_a_fault_of_copers_own_keeps_its_status_though_nobody_listens(monkeypatch):
    def broken(*asked):
        raise ZeroDivisionError("planted")

    monkeypatch.setattr("coper.verbs.joint.joint", broken)
    monkeypatch.delenv("COPER_TRACEBACK", raising=False)
    assert main(JOINT, Gone(), Gone()) == 3


@pytest.mark.parametrize("words", [JOINT, SHORT, ("joint", "--help"), ("--version",),
                                   (*JOINT, "--json")])
@pytest.mark.parametrize("out", [Full, FullLater])
def test_an_answer_that_a_full_disk_loses_is_complained_of_in_one_line(words, out):
    err = io.StringIO()
    assert main(words, out(), err) == 2
    assert err.getvalue().count("\n") == 1
    assert "standard output: the answer cannot be written (no space left" in err.getvalue()


def test_files_are_written_though_the_answer_is_lost(tmp_path):
    target = tmp_path / "cope.svg"
    err = io.StringIO()
    assert main((*JOINT, "--svg", str(target)), Full(), err) == 2
    assert target.read_text().rstrip().endswith("</svg>")
    assert "files that were asked for are written" in err.getvalue()


@pytest.mark.parametrize(("words", "redirect", "status"), [
    (JOINT, ">&- 2>&-", 0), (REFUSED, "2>/dev/full", 2), (JOINT, ">/dev/full", 2)])
def test_a_process_with_shut_or_full_streams_ends_with_its_status(words, redirect, status):
    with command(*words, redirect=redirect, stderr=subprocess.PIPE) as process:
        complaint = process.stderr.read().decode()
        assert process.wait() == status
    assert complaint.count("\n") <= 1 and "Traceback" not in complaint


def test_nothing_is_written_where_the_answer_cannot_be_made(monkeypatch, tmp_path):
    def broken(*given):
        raise ZeroDivisionError("planted")
        yield

    monkeypatch.setattr("coper.verbs.joint.cope_facts", broken)
    monkeypatch.delenv("COPER_TRACEBACK", raising=False)
    status, out, _ = run(*JOINT, "--svg", str(tmp_path / "cope.svg"))
    assert (status, out) == (3, "")
    assert not list(tmp_path.iterdir())


# what they can read


def printed(codec, *words):
    """Status and what a console of that encoding gets."""
    out, err = (io.TextIOWrapper(io.BytesIO(), encoding=codec, errors="strict") for _ in range(2))
    status = main(words, out, err)
    return status, *(stream.buffer.getvalue().decode(codec) for stream in (out, err))


@pytest.mark.parametrize("codec", CODECS)
@pytest.mark.parametrize("words", [
    JOINT, ("joint", "--help"), ("help", "tubes"), ("help", "keys"), ("help", "paper"),
    ("saw", "28.6 x 0.9", "36", "--angle", "62", "--kit", "1-3/8in,1-1/2in"),
    ("bicycle", str(DEMO))], ids=" ".join)
def test_every_console_gets_every_line(codec, words):
    status, out, err = printed(codec, *words)
    _, whole, _ = run(*words)
    assert (status, err) == (0, "")
    assert out.count("\n") == whole.count("\n")
    signs = {sign for sign in whole if sign.encode(codec, "replace") == b"?" != sign.encode()}
    assert out == whole or signs
    assert "\\" not in out and out.count("?") == whole.count("?")


def test_plain_letters_say_what_the_signs_say():
    _, out, _ = printed("ascii", *JOINT)
    assert "28.6 x 0.9 on 38.1 at 62deg" in out
    _, _, err = printed("ascii", "help", "Röhre\N{BICYCLE}")
    assert r"Rohre\U0001f6b2" in err


def test_the_columns_of_a_table_stand_in_line_in_plain_letters():
    grid = Grid("Angles", ("which", "before", "after"), (("head", "69.5°", "70°"), ("×", "–", "→")))
    head, *rows = set_lines([grid], Console(io.TextIOWrapper(io.BytesIO(), "ascii")).spelt)
    assert head == "Angles"
    assert rows == ["  which  before   after", "  head   69.5deg  70deg", "  x      -        ->"]


@pytest.mark.parametrize("env", [
    {"PYTHONIOENCODING": "ascii"}, {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}])
def test_a_process_with_an_ascii_console_says_all_in_plain_letters(env):
    with command(*JOINT, env=env, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        out, err = process.communicate()
    assert (process.returncode, err) == (0, b"")
    assert b"at 62deg" in out and out.isascii()


# what they must not be made to do

NASTY = "\x1b[31m\x07\x9b2J\u202e"


def is_harmless(text):
    return all(character.isprintable() or character == "\n" for character in text)


NASTY_JOBS = [
    SMALL.replace('process = "tig"', "process = NASTY\nlimits = { NASTY = 0.3 }"),
    SMALL.replace('process = "tig"', 'process = "other"\nlimits = { NASTY = 0.3 }'),
    SMALL.replace('title = "Small"', "title = NASTY"),
    "[tubes.NASTY]\n", "NASTY = 1\n", "[stock]\nNASTY = 3\n", "x = NASTY NASTY\n",
    "[points]\na = { from = NASTY, by = [1, 0, 0] }\n",
    '[points]\nNASTY = { from = "b", by = [1, 0, 0] }\nb = { from = NASTY, by = [1, 0, 0] }\n',
    """[tubes.NASTY]
    shape = "20 x 1"
    start = { at = [0, 0, 0], on = ["b"] }
    end = { at = [9, 0, 0] }
    [tubes.b]
    shape = "20 x 1"
    start = { at = [0, 0, 0], on = [NASTY] }
    end = { at = [9, 0, 0] }
    """]


@pytest.mark.parametrize("text", NASTY_JOBS)
def test_no_control_character_of_a_file_reaches_a_terminal(text, tmp_path):
    file = tmp_path / "nasty.toml"
    quoted = json.dumps(f"{NASTY}\n\rcoper: fine")
    file.write_text(text.replace("NASTY", quoted))
    status, out, err = run("job", str(file))
    assert status in (0, 2)
    assert is_harmless(out + err)
    assert not any(line.startswith("coper: fine") for line in (out + err).splitlines())


@pytest.mark.parametrize("words", [
    ("job", f"f{NASTY}\nr.toml"), ("joint", NASTY, "38", "--angle", "62"),
    (*JOINT, f"--{NASTY}"), (*JOINT, "--process", NASTY), (*JOINT, "--cut", NASTY),
    ("help", NASTY), (NASTY,), (*JOINT, NASTY), ("new", f"{NASTY}/\n.toml")])
def test_no_control_character_of_the_command_line_reaches_a_terminal(words):
    status, out, err = run(*words)
    assert (status, out) == (2, "")
    assert is_harmless(err) and err.count("\n") == 1


def test_a_file_name_that_is_no_utf_8_is_written_by_its_bytes(tmp_path):
    name = os.fsdecode(b"f\xffr\x1b\n.toml")
    status, out, err = run("new", str(tmp_path / name))
    assert (status, err) == (0, "")
    assert r"wrote " in out and r"f\xffr\x1b\n.toml" in out and out.count("\n") == 3
    assert [os.fsencode(path.name) for path in tmp_path.iterdir()] == [b"f\xffr\x1b\n.toml"]
    status, _, err = run("job", str(tmp_path / os.fsdecode(b"g\xff.toml")))
    assert status == 2 and r"g\xff.toml: no such file" in err


@pytest.mark.parametrize("words", [
    ("joint", "2" * 100_000, "38", "--angle", "62"), ("job", "x/" * 50_000),
    (*JOINT, "--" + "x" * 100_000), (*JOINT, "--seam", "x" * 100_000), ("x" * 100_000,),
    (*JOINT, "--svg", "x" * 100_000), (*JOINT, "--process", "x y " * 30_000), ("help", "x" * 9999)])
def test_a_message_has_a_length_whatever_was_typed(words):
    status, out, err = run(*words)
    assert (status, out) == (2, "")
    assert len(err) < 900 and err.count("\n") == 1


# where they may write


@pytest.mark.parametrize("name", ["/", "..", ".", "/tmp/.."])
@pytest.mark.parametrize("option", ["--svg", "--pdf", "--table"])
def test_a_folder_is_no_name_of_a_file_however_many_pages_it_is_for(option, name):
    status, out, err = run("joint", "150 x 3", "168", "--angle", "70", option, name)
    assert (status, out) == (2, "")
    assert "this is a folder; name a file in it" in err and err.count("\n") == 1


def test_a_pdf_is_drawn_without_a_home_and_nothing_is_left_behind(tmp_path):
    left = tmp_path / "left"
    left.mkdir()
    nowhere = dict.fromkeys(("HOME", "MPLCONFIGDIR", "XDG_CACHE_HOME"), "/dev/null/x")
    target = tmp_path / "cope.pdf"
    with command(*JOINT, "--pdf", str(target), env={**nowhere, "TMPDIR": str(left)},
                 stdout=subprocess.DEVNULL, stderr=subprocess.PIPE) as process:
        assert process.stderr.read() == b""
        assert process.wait() == 0
    assert target.read_bytes().startswith(b"%PDF")
    assert not list(left.iterdir())


def test_where_the_drawing_library_can_write_nowhere_one_line_says_so(tmp_path):
    code = ("import sys, tempfile; tempfile.tempdir = '/dev/null/x'; "
            "from coper.cli.main import main; sys.exit(main(sys.argv[1:], None, sys.stderr))")
    target = tmp_path / "cope.pdf"
    said = subprocess.run(
        [sys.executable, "-c", code, *JOINT, "--pdf", str(target)], check=False, text=True,
        env={**os.environ, "PYTHONPATH": str(TOP), "MPLCONFIGDIR": "/dev/null/x"},
        capture_output=True)
    assert said.returncode == 2
    assert "set MPLCONFIGDIR to a folder" in said.stderr and said.stderr.count("\n") == 1
    assert not target.exists()


def test_settings_of_the_drawing_library_that_cannot_be_read_are_complained_of(tmp_path):
    (tmp_path / "matplotlibrc").write_bytes(b"font.size: \xff\n")
    with command(*JOINT, "--pdf", "cope.pdf", cwd=tmp_path, stdout=subprocess.PIPE,
                 stderr=subprocess.PIPE) as process:
        out, err = process.communicate()
    assert (process.returncode, out) == (2, b"")
    assert b"mend its file matplotlibrc" in err and err.count(b"\n") == 1
    assert [path.name for path in tmp_path.iterdir()] == ["matplotlibrc"]


def test_on_a_terminal_a_step_overwrites_the_one_before_it():
    class Terminal(io.StringIO):
        def isatty(self):
            return True

    stream = Terminal()
    progress = Progress(Console(stream))
    progress(f"stay{NASTY}")
    progress("layout")
    progress.done()
    first, *others = stream.getvalue().split(CLEAR)[1:]
    assert is_harmless(first) and first.startswith("stay") and first.endswith(" …")
    assert others == ["layout …", ""]
