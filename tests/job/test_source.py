"""Where a job's text may come from: a plain file or a pipe, of a size and in a time."""

import os
import threading

import pytest

from coper import read_job
from coper.errors import FileError
from coper.job import source
from tests.cli.run import run
from tests.job.test_faults import GOOD


@pytest.fixture
def pipe(tmp_path):
    path = tmp_path / "pipe"
    os.mkfifo(path)
    return path


def written(pipe, *pieces):
    """A thread that writes the pieces into a pipe, and stops where nobody reads on."""
    def write():
        try:
            with pipe.open("wb", buffering=0) as file:
                for piece in pieces:
                    file.write(piece)
        except BrokenPipeError:
            pass

    thread = threading.Thread(target=write)
    thread.start()
    return thread


def padded(size):
    """The good job with a comment, ``size`` bytes in all."""
    return f"{GOOD}# ".encode().ljust(size, b"x")


def test_a_job_of_just_a_mebibyte_is_read(tmp_path):
    file = tmp_path / "job.toml"
    file.write_bytes(padded(2**20))
    assert len(read_job(file).tubes) == 2


def test_a_larger_job_is_refused_with_the_size_that_is_allowed(tmp_path):
    file = tmp_path / "job.toml"
    file.write_bytes(padded(2**20 + 1))
    with pytest.raises(FileError, match=r"job.toml: larger than 1 MiB; .* 1 MiB \(1,048,576 byt"):
        read_job(file)


def test_no_more_of_a_file_is_read_than_shows_that_it_is_too_large(tmp_path):
    file = tmp_path / "job.toml"
    with file.open("wb") as sparse:
        sparse.truncate(2**40)  # a tebibyte that takes no room
    with pytest.raises(FileError, match="larger than 1 MiB"):
        read_job(file)


def test_a_job_comes_through_a_pipe_in_pieces(pipe):
    thread = written(pipe, *(padded(300_000)[start:start + 7000]
                             for start in range(0, 300_000, 7000)))
    assert len(read_job(pipe).tubes) == 2
    thread.join()


def test_a_pipe_without_an_end_is_left_once_it_is_too_large(pipe):
    thread = written(pipe, *[b"#" * 65536] * 64)
    with pytest.raises(FileError, match="larger than 1 MiB"):
        read_job(pipe)
    thread.join()


def test_a_pipe_that_nobody_writes_into_is_waited_for_no_longer_than_allowed(pipe, monkeypatch):
    monkeypatch.setattr(source, "LONGEST_WAIT_S", 0.05)
    with pytest.raises(FileError, match=r"has not ended after 0\.05 s; write the job to a file"):
        read_job(pipe)


def test_a_pipe_whose_writer_pauses_is_waited_for_no_longer_than_allowed(pipe, monkeypatch):
    monkeypatch.setattr(source, "LONGEST_WAIT_S", 0.3)
    held = threading.Event()

    def write():
        with pipe.open("wb", buffering=0) as file:
            file.write(b"# not yet\n")
            held.wait()

    thread = threading.Thread(target=write)
    thread.start()
    try:
        with pytest.raises(FileError, match="has not ended after"):
            read_job(pipe)
    finally:
        held.set()
        thread.join()


@pytest.mark.parametrize("name", ["/dev/zero", "/dev/null"])
def test_what_is_neither_a_file_nor_a_pipe_is_refused(name):
    status, out, err = run("job", name)
    assert (status, out) == (2, "")
    assert err == f"coper: {name}: neither a file nor a pipe; give a job file, or pipe one in\n"
