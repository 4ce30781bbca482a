"""A packet is old or new, whenever its writing is stopped: the next run sees to that."""

import errno
import os
from contextlib import suppress
from pathlib import Path

import pytest

from coper.cli import lock, swap
from coper.cli.files import write_whole
from coper.cli.own_files import LEDGER, write_own
from coper.errors import CoperError
from tests.cli.stops import forked, stopped

OLD = {"frame.svg": b"old A", "frame-B.svg": b"B", "frame-C.svg": b"old C", "frame.pdf": b"old"}
NEW = {"frame.svg": b"new A", "frame-B.svg": b"B", "frame-D.svg": b"new D", "frame.pdf": b"new"}
MINE = {"notes.txt": b"mine", "frame-plan.svg": b"mine too"}


@pytest.fixture(autouse=True)
def disk_that_is_never_waited_for(monkeypatch):
    monkeypatch.setattr(os, "fsync", lambda descriptor: None)


def packet(folder, files=NEW, force=False):
    return write_own(folder, Path("frame.toml"), files.items(), force)


def begun(folder, old):
    """A folder with a person's own files, and the old packet."""
    folder.mkdir()
    for name, content in MINE.items():
        (folder / name).write_bytes(content)
    if old:
        packet(folder, OLD)
    return folder


def held(folder):
    return {path.name: path.read_bytes() if path.is_file() else None for path in folder.iterdir()
            if path.name != LEDGER}


def moments(tmp_path, old):
    """The number of every call."""
    folder = begun(tmp_path / "counted", old)
    with stopped(None, None) as seen:
        packet(folder)
    assert len(seen) > 60 and {"link", "unlink", "rename", "fsync", "flock"} & set(seen)
    return range(len(seen))


def no_room():
    raise OSError(errno.ENOSPC, "No space left on device")


def interrupted():
    raise KeyboardInterrupt


@pytest.mark.parametrize("after", [False, True])
@pytest.mark.parametrize("old", [False, True], ids=["into an empty folder", "over an old packet"])
def test_a_kill_at_any_call_leaves_what_the_next_run_makes_whole(tmp_path, old, after):
    for moment in moments(tmp_path, old):
        folder = begun(tmp_path / f"{moment}", old)

        def killed(moment=moment, folder=folder):
            with stopped(moment, lambda: os._exit(9), after):
                packet(folder)

        assert os.waitstatus_to_exitcode(forked(killed)) == 9
        assert MINE.items() <= held(folder).items()
        packet(folder)
        assert held(folder) == NEW | MINE, moment


@pytest.mark.parametrize("after", [False, True])
@pytest.mark.parametrize("stop", [no_room, interrupted])
@pytest.mark.parametrize("old", [False, True], ids=["into an empty folder", "over an old packet"])
def test_a_fault_at_any_call_leaves_the_old_packet_or_the_new_one(tmp_path, old, stop, after):
    for moment in moments(tmp_path, old):
        folder = begun(tmp_path / f"{moment}", old)
        with suppress(CoperError, KeyboardInterrupt), stopped(moment, stop, after):
            packet(folder)
        left = {name: content for name, content in held(folder).items() if content is not None}
        if stop is no_room:
            assert left in ((OLD if old else {}) | MINE, NEW | MINE), moment
        packet(folder)
        assert held(folder) == NEW | MINE, moment


def stopped_halfway(folder):
    """A new packet over the old one, its process ended with one page of it renamed."""
    replace = Path.replace

    def once(path, target):
        replace(path, target)
        if target.name == "frame.svg":
            os._exit(9)

    def killed():
        Path.replace = once
        packet(folder)

    assert os.waitstatus_to_exitcode(forked(killed)) == 9
    assert (folder / "frame.svg").read_bytes() == NEW["frame.svg"]
    assert (folder / "frame.pdf").read_bytes() == OLD["frame.pdf"]


@pytest.mark.parametrize("name", ["frame.svg", "frame.pdf"])
def test_what_a_person_changes_after_a_kill_is_kept(tmp_path, name):
    folder = begun(tmp_path / "out", old=True)
    stopped_halfway(folder)
    (folder / name).write_bytes(b"changed")
    with pytest.raises(CoperError, match="changed since"):
        packet(folder)
    assert held(folder) == OLD | MINE | {name: b"changed"}


def test_single_outputs_that_were_stopped_are_old_or_new_after_the_next_run(tmp_path):
    files = {"a.svg": b"new", "a-B.svg": b"new B"}

    def write(folder):
        write_whole(((folder / name, content) for name, content in files.items()), force=True)

    def begin(name):
        folder = tmp_path / name
        folder.mkdir()
        (folder / "a.svg").write_bytes(b"old")
        return folder

    with stopped(None, None) as seen:
        write(begin("counted"))
    for moment in range(len(seen)):
        folder = begin(f"{moment}")

        def killed(moment=moment, folder=folder):
            with stopped(moment, lambda: os._exit(9)):
                write(folder)

        forked(killed)
        write_whole([(folder / "other.svg", b"")], force=False)
        assert held(folder) in ({"a.svg": b"old", "other.svg": b""}, files | {"other.svg": b""})


def test_a_second_run_says_so_when_the_first_does_not_end(tmp_path, monkeypatch):
    monkeypatch.setattr(lock, "WAIT_S", 0.0)
    with lock.locked(tmp_path), pytest.raises(CoperError, match="another run of coper"):
        packet(tmp_path)
    packet(tmp_path)
    assert held(tmp_path) == NEW


def forge(folder, journal):
    room = folder / f".coper-{'0' * 32}"
    room.mkdir()
    (room / "journal").write_text(journal)
    (room / "0.old").write_bytes(b"forged")


@pytest.mark.parametrize("journal", [
    "[" * 100_000, "{}", "[[1]]", '[["../mine", null, true]]', '[["..", null, true]]',
    '[["a\\u0000", null, true]]', '[["\\ud800", null, true]]', "9" * 5000])
def test_a_forged_journal_changes_nothing_outside_the_folder_and_stops_nobody(tmp_path, journal):
    (tmp_path / "out").mkdir()
    forge(tmp_path / "out", journal)
    packet(tmp_path / "out")
    assert held(tmp_path / "out") == NEW
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


def test_a_link_named_like_a_room_is_not_entered(tmp_path):
    elsewhere, folder = tmp_path / "elsewhere", tmp_path / "out"
    for made in (elsewhere, folder):
        made.mkdir()
    (elsewhere / "0.new").write_bytes(b"mine")
    (folder / f".coper-{'0' * 32}").symlink_to(elsewhere)
    packet(folder)
    assert (elsewhere / "0.new").read_bytes() == b"mine"


def no_second_names(monkeypatch, fault):
    """A file system on which naming a file twice fails so."""
    def link(*given, **named):
        raise fault
    monkeypatch.setattr(os, "link", link)


@pytest.mark.parametrize("fault", [
    OSError(errno.EPERM, "Operation not permitted"), OSError(errno.EOPNOTSUPP, "Not supported"),
    OSError(errno.EMLINK, "Too many links"), None], ids=repr)
def test_a_packet_is_old_or_new_where_files_cannot_be_named_twice(tmp_path, monkeypatch, fault):
    if fault is None:  # a system that names only what a link leads to
        monkeypatch.setattr(swap, "_NAMES_LINKS", False)
        fault = AssertionError("os.link is not to be asked there")
    no_second_names(monkeypatch, fault)
    for moment in moments(tmp_path, old=True)[::3]:
        folder = begun(tmp_path / f"{moment}", old=True)
        with suppress(CoperError), stopped(moment, no_room):
            packet(folder)
        left = {name: content for name, content in held(folder).items() if content is not None}
        assert left in (OLD | MINE, NEW | MINE), moment
        packet(folder)
        assert held(folder) == NEW | MINE, moment


def test_a_fault_of_the_disk_is_not_taken_for_a_missing_second_name(tmp_path, monkeypatch):
    folder = begun(tmp_path / "out", old=True)
    old = held(folder)
    no_second_names(monkeypatch, OSError(errno.EIO, "Input/output error"))
    with pytest.raises(CoperError, match="input/output error"):
        packet(folder)
    assert held(folder) == old
