"""Files are written whole or not at all."""

import os
from pathlib import Path

import pytest

from coper.cli.files import write_whole
from coper.errors import FileError


def listed(folder):
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}


def refused(files, force=False):
    with pytest.raises(FileError) as caught:
        write_whole(files.items(), force)
    assert "\n" not in str(caught.value)
    return caught.value


def test_all_files_are_written_with_their_bytes_and_nothing_else_is_left(tmp_path):
    write_whole({tmp_path / "a.svg": b"one", tmp_path / "a-B.svg": b"two"}.items(), force=False)
    assert listed(tmp_path) == {"a.svg": b"one", "a-B.svg": b"two"}


def test_a_file_that_exists_is_kept_and_the_others_are_not_written(tmp_path):
    (tmp_path / "b").write_bytes(b"old")
    fault = refused({tmp_path / "a": b"one", tmp_path / "b": b"two"})
    assert fault.where == str(tmp_path / "b")
    assert fault.cure == "choose another name, or add --force"
    assert listed(tmp_path) == {"b": b"old"}


def test_force_replaces_a_file(tmp_path):
    (tmp_path / "b").write_bytes(b"old")
    write_whole({tmp_path / "b": b"new"}.items(), force=True)
    assert listed(tmp_path) == {"b": b"new"}


def test_force_writes_through_a_link_and_keeps_it(tmp_path):
    (tmp_path / "real").write_bytes(b"old")
    (tmp_path / "link").symlink_to(tmp_path / "real")
    write_whole({tmp_path / "link": b"new"}.items(), force=True)
    assert (tmp_path / "link").is_symlink()
    assert (tmp_path / "real").read_bytes() == b"new"


def test_a_folder_that_is_not_there_is_named(tmp_path):
    fault = refused({tmp_path / "none" / "a": b"one"})
    assert "no folder" in fault.fault
    assert str(tmp_path / "none") in fault.fault


@pytest.mark.parametrize("force", [False, True])
def test_a_folder_cannot_be_a_file(tmp_path, force):
    (tmp_path / "sub").mkdir()
    assert "folder" in refused({tmp_path / "sub": b"one"}, force).fault


def test_what_is_no_plain_file_is_not_replaced_even_with_force(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    assert "plain" in refused({tmp_path / "pipe": b"one"}, force=True).fault
    assert (tmp_path / "pipe").is_fifo()


def test_two_outputs_with_one_name_are_refused_however_it_is_written(tmp_path):
    (tmp_path / "sub").mkdir()
    fault = refused({tmp_path / "a": b"one", tmp_path / "sub" / ".." / "a": b"two"})
    assert "two outputs" in fault.fault
    assert listed(tmp_path) == {}


def test_a_folder_that_takes_no_files_is_refused(tmp_path, monkeypatch):
    monkeypatch.setattr(os, "access", lambda path, mode: False)
    assert "cannot be written to" in refused({tmp_path / "a": b"one"}).fault
    assert listed(tmp_path) == {}


def test_a_full_disk_leaves_nothing_behind(tmp_path, monkeypatch):
    write = os.write

    def full(descriptor, content):
        if content == b"wo":
            raise OSError(28, "No space left on device")
        return write(descriptor, content[:1])

    (tmp_path / "b").write_bytes(b"old")
    monkeypatch.setattr(os, "write", full)
    fault = refused({tmp_path / "a": b"one", tmp_path / "b": b"two"}, force=True)
    assert "no space left" in fault.fault
    assert fault.where == str(tmp_path / "b")
    assert listed(tmp_path) == {"b": b"old"}


def test_a_rename_that_fails_puts_everything_back(tmp_path, monkeypatch):
    rename = Path.replace

    def stubborn(path, target):
        if target.name == "c":
            raise PermissionError(13, "Permission denied")
        return rename(path, target)

    (tmp_path / "b").write_bytes(b"old")
    monkeypatch.setattr(Path, "replace", stubborn)
    files = {tmp_path / "a": b"one", tmp_path / "b": b"two", tmp_path / "c": b"three"}
    assert refused(files, force=True).where == str(tmp_path / "c")
    assert listed(tmp_path) == {"b": b"old"}


@pytest.mark.parametrize("name", ["n" * 300, "nul\0"])
def test_a_name_that_no_file_can_have_is_one_line(tmp_path, name):
    assert "no file can have this name" in refused({tmp_path / name: b"one"}).fault
    assert listed(tmp_path) == {}


def test_a_ring_of_links_is_no_place_for_a_file(tmp_path):
    (tmp_path / "one").symlink_to(tmp_path / "other")
    (tmp_path / "other").symlink_to(tmp_path / "one")
    assert "no file can have this name" in refused({tmp_path / "one": b"one"}).fault


@pytest.mark.parametrize("force", [False, True])
def test_a_link_to_nothing_is_not_written_through(tmp_path, force):
    (tmp_path / "link").symlink_to(tmp_path / "elsewhere")
    assert "link to a file that is not there" in refused({tmp_path / "link": b"one"}, force).fault
    assert listed(tmp_path) == {}
