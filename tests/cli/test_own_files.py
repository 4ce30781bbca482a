"""A folder that is filled again: coper's own files are replaced, the person's never."""

import hashlib
import json
from pathlib import Path

import pytest

from coper.cli.own_files import LEDGER, write_own
from coper.errors import CoperError


def fill(folder, stem, files, force, place="."):
    return write_own(folder, Path(place, f"{stem}.toml"), files.items(), force)


def names(folder):
    return sorted(path.name for path in folder.iterdir())


def test_a_second_run_replaces_what_the_first_wrote(tmp_path):
    folder = tmp_path / "out"
    fill(folder, "frame", {"frame.pdf": b"one"}, force=False)
    written = fill(folder, "frame", {"frame.pdf": b"two"}, force=False)
    assert written == (folder / "frame.pdf",)
    assert (folder / "frame.pdf").read_bytes() == b"two"


def test_a_page_that_is_not_written_again_goes(tmp_path):
    fill(tmp_path, "frame", {"frame.svg": b"A", "frame-B.svg": b"B"}, force=False)
    fill(tmp_path, "frame", {"frame.svg": b"A"}, force=False)
    assert names(tmp_path) == [LEDGER, "frame.svg"]


def test_a_page_that_a_person_changed_stays_though_it_is_not_written_again(tmp_path):
    fill(tmp_path, "frame", {"frame.svg": b"A", "frame-B.svg": b"B"}, force=False)
    (tmp_path / "frame-B.svg").write_bytes(b"mine")
    fill(tmp_path, "frame", {"frame.svg": b"A"}, force=False)
    assert (tmp_path / "frame-B.svg").read_bytes() == b"mine"


def test_a_changed_file_is_not_replaced_and_nothing_else_is_either(tmp_path):
    fill(tmp_path, "frame", {"frame.pdf": b"1", "frame.svg": b"1"}, force=False)
    (tmp_path / "frame.svg").write_bytes(b"mine")
    with pytest.raises(CoperError, match=r"changed since coper wrote it.*--force"):
        fill(tmp_path, "frame", {"frame.pdf": b"2", "frame.svg": b"2"}, force=False)
    assert (tmp_path / "frame.pdf").read_bytes() == b"1"
    assert (tmp_path / "frame.svg").read_bytes() == b"mine"


def test_a_file_that_coper_never_wrote_is_replaced_only_by_force(tmp_path):
    (tmp_path / "frame.pdf").write_bytes(b"mine")
    with pytest.raises(CoperError, match="coper did not write it"):
        fill(tmp_path, "frame", {"frame.pdf": b"1"}, force=False)
    assert names(tmp_path) == ["frame.pdf"]
    fill(tmp_path, "frame", {"frame.pdf": b"1"}, force=True)
    assert (tmp_path / "frame.pdf").read_bytes() == b"1"


def test_two_packets_share_a_folder_and_leave_each_other_alone(tmp_path):
    fill(tmp_path, "one", {"one.pdf": b"1", "one.svg": b"1"}, force=False)
    fill(tmp_path, "two", {"two.pdf": b"2"}, force=False)
    fill(tmp_path, "two", {"two.pdf": b"3"}, force=False)
    assert names(tmp_path) == [LEDGER, "one.pdf", "one.svg", "two.pdf"]
    fill(tmp_path, "one", {"one.pdf": b"4"}, force=False)
    assert names(tmp_path) == [LEDGER, "one.pdf", "two.pdf"]


@pytest.mark.parametrize("ledger", ["", "{", "[]", '{"frame": 3}', '{"frame": {"../x.pdf": "1"}}'])
def test_a_spoilt_ledger_makes_no_file_coper_s_own(tmp_path, ledger):
    (tmp_path / LEDGER).write_text(ledger)
    (tmp_path / "frame.pdf").write_bytes(b"mine")
    with pytest.raises(CoperError, match="did not write it"):
        fill(tmp_path, "frame", {"frame.pdf": b"1"}, force=False)
    assert (tmp_path / "frame.pdf").read_bytes() == b"mine"


def test_a_page_of_another_packet_is_not_replaced(tmp_path):
    fill(tmp_path, "rack", {"rack.pdf": b"1", "rack-B.svg": b"1"}, force=False)
    with pytest.raises(CoperError, match="belongs to the packet of rack"):
        fill(tmp_path, "rack-B", {"rack-B.pdf": b"2", "rack-B.svg": b"2"}, force=False)
    assert names(tmp_path) == [LEDGER, "rack-B.svg", "rack.pdf"]


@pytest.mark.parametrize("ledger", [
    "[" * 100_000, '{"frame": {"job": "", "files": {"..": "1", "": "1", "\\ud800": "1"}}}',
    '{"frame": {"job": "\\u0000", "files": {"a\\u0000": "1", "sub/frame.svg": "1"}}}',
    '{"frame": {"job": [], "files": []}}'])
def test_a_forged_ledger_takes_nothing_away_and_stops_nobody(tmp_path, ledger):
    (tmp_path / "mine.txt").write_bytes(b"mine")
    (tmp_path / LEDGER).write_text(ledger)
    fill(tmp_path, "frame", {"frame.pdf": b"1"}, force=False)
    assert names(tmp_path) == [LEDGER, "frame.pdf", "mine.txt"]


def test_a_ledger_that_lists_a_person_s_file_does_not_take_it_away(tmp_path):
    (tmp_path / "mine.txt").write_bytes(b"mine")
    known = hashlib.sha256(b"mine").hexdigest()
    (tmp_path / LEDGER).write_text(
        json.dumps({"frame": {"job": "frame.toml", "files": {"mine.txt": known}}}))
    fill(tmp_path, "frame", {"frame.pdf": b"1"}, force=False)
    assert (tmp_path / "mine.txt").read_bytes() == b"mine"


def test_a_link_named_like_a_page_or_the_ledger_is_not_written_through(tmp_path):
    folder = tmp_path / "out"
    folder.mkdir()
    for name in ("frame.pdf", LEDGER):
        (folder / name).symlink_to(tmp_path / "elsewhere")
    with pytest.raises(CoperError, match="did not write it"):
        fill(folder, "frame", {"frame.pdf": b"1"}, force=False)
    fill(folder, "frame", {"frame.pdf": b"1"}, force=True)
    assert not (tmp_path / "elsewhere").exists() and (folder / "frame.pdf").read_bytes() == b"1"


def test_two_jobs_of_one_name_share_a_folder_only_by_force(tmp_path):
    for place in ("a", "b"):
        (tmp_path / place).mkdir()
        (tmp_path / place / "frame.toml").touch()
    folder = tmp_path / "out"
    fill(folder, "frame", {"frame.pdf": b"a"}, False, tmp_path / "a")
    with pytest.raises(CoperError, match=r"another job file, \.\./a/frame\.toml"):
        fill(folder, "frame", {"frame.pdf": b"b"}, False, tmp_path / "b")
    assert (folder / "frame.pdf").read_bytes() == b"a"
    fill(folder, "frame", {"frame.pdf": b"b"}, True, tmp_path / "b")
    (tmp_path / "b").rename(tmp_path / "c")
    fill(folder, "frame", {"frame.pdf": b"c"}, False, tmp_path / "c")
    assert (folder / "frame.pdf").read_bytes() == b"c"


def test_a_page_keeps_its_mode(tmp_path):
    fill(tmp_path, "frame", {"frame.pdf": b"1"}, force=False)
    (tmp_path / "frame.pdf").chmod(0o640)
    fill(tmp_path, "frame", {"frame.pdf": b"2"}, force=False)
    assert (tmp_path / "frame.pdf").stat().st_mode & 0o777 == 0o640
