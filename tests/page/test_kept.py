"""What is said to be kept is in the file, and nothing else's change is ever written over."""

import pytest

from coper.book.book import opened
from coper.cli import files
from coper.errors import FileError
from coper.page.keeping import JobFile, OvertakenError
from tests.page.pages import beside, client, fields, go, part, send, wagtail


@pytest.fixture
def path(tmp_path):
    return wagtail(tmp_path)


@pytest.fixture
def one(path):
    return client(path.parent)


def test_a_change_is_in_the_file_when_the_page_says_its_value_back(path, one):
    page = send(one, drop="60")
    assert page.status_code == 200 and page.url.path == "/wagtail/measure"
    assert beside(page, "drop") == "60.00 mm (2-23/64 in)"
    assert "drop = 60 " in path.read_text()


def test_a_field_that_is_refused_leaves_the_file_and_the_book_alone(path, one):
    before = path.read_text()
    page = send(one, drop="abc")
    assert page.status_code == 422 and "no number in this length" in beside(page, "drop")
    assert fields(page)["drop"] == "abc" and fields(page)["was.drop"] == "58"
    assert path.read_text() == before and len(list(path.parent.iterdir())) == 1


def test_a_field_that_was_refused_is_written_once_it_is_mended(path, one):
    page = send(one, drop="abc", rake="44")
    assert "rake = 44 " in path.read_text() or "rake = 44\n" in path.read_text()
    page = send(one, at=page, drop="61")
    assert page.status_code == 200 and "drop = 61 " in path.read_text()


def test_a_file_that_an_editor_changed_is_shown_and_not_written_over(path, one):
    before = one.get("/wagtail/measure")
    edited = path.read_text().replace("chain_stay = 419", "chain_stay = 421")
    path.write_text(edited)
    page = send(one, at=before, drop="60")
    assert page.status_code == 409 and path.read_text() == edited
    assert "changed the job" in part(page, "notice")
    shown = fields(page)
    assert (shown["chain_stay"], shown["drop"], shown["was.drop"]) == ("421", "60", "58")
    assert "not written" in beside(page, "drop")
    page = send(one, at=page)
    assert page.status_code == 200
    assert "drop = 60 " in path.read_text() and "chain_stay = 421" in path.read_text()


def test_of_two_windows_on_one_job_the_second_is_told_and_neither_loses_its_change(path, one):
    first, second = (one.get("/wagtail/measure") for _ in range(2))
    send(one, at=first, drop="60")
    page = send(one, at=second, rake="44")
    assert page.status_code == 409 and "rake = 45" in path.read_text()
    assert send(one, at=page).status_code == 200
    assert "rake = 44" in path.read_text() and "drop = 60 " in path.read_text()


def test_a_change_that_an_editor_makes_while_the_page_writes_is_not_written_over(
        path, monkeypatch):
    job, edited = JobFile(path), path.read_text() + "# an editor's\n"
    draft = files.Swap.draft

    def drafted(*given):
        draft(*given)
        path.write_text(edited)

    monkeypatch.setattr(files.Swap, "draft", drafted)
    with pytest.raises(OvertakenError):
        job.write(path.read_text(), "title = 'mine'")
    assert path.read_text() == edited
    assert [one.name for one in path.parent.glob(".coper-*")] == []


def test_a_disk_that_is_full_leaves_the_file_as_it_was_and_the_page_says_so(
        path, one, monkeypatch):
    before, page = path.read_text(), one.get("/wagtail/measure")

    def full(*given):
        raise FileError("the file cannot be written (no space left on device)", "make room",
                        str(path))

    monkeypatch.setattr(files.Swap, "draft", full)
    page = send(one, at=page, drop="60")
    assert page.status_code == 507 and "Not kept" in part(page, "notice")
    assert fields(page)["drop"] == "60" and path.read_text() == before


def test_a_book_that_cannot_be_written_stops_no_change_and_the_page_says_so(path, one):
    path.with_suffix(".book").mkdir()
    page = send(one, drop="60")
    assert page.status_code == 200 and "cannot be undone" in part(page, "notice")
    assert "drop = 60 " in path.read_text()


def test_undo_and_redo_go_through_every_change_byte_for_byte(path, one):
    texts = [path.read_text()]
    for typed in ({"drop": "60"}, {"wheelbase": "964"}, {"wheelbase": ""}, {"drop": "58"}):
        assert send(one, **typed).status_code == 200
        texts.append(path.read_text())
    for text in texts[-2::-1]:
        assert go(one, "undo").status_code == 200 and path.read_text() == text
    assert "<button disabled>Undo" in one.get("/wagtail/measure").text
    for text in texts[1:]:
        assert go(one, "redo").status_code == 200 and path.read_text() == text
    assert "<button disabled>Redo" in one.get("/wagtail/measure").text


def test_undo_brings_back_what_an_editor_wrote(path, one):
    send(one, drop="60")
    edited = path.read_text() + "# an editor's\n"
    path.write_text(edited)
    send(one, drop="62")
    go(one, "undo")
    assert path.read_text() == edited
    go(one, "undo")
    assert path.read_text() == edited.removesuffix("# an editor's\n")


def test_undo_of_nothing_says_so_and_a_stale_one_writes_nothing(path, one):
    page = go(one, "undo")
    assert page.status_code == 409 and "Nothing was undone" in part(page, "notice")
    before = fields(one.get("/wagtail/measure"))["as_of"]
    send(one, drop="60")
    text = path.read_text()
    page = one.post("/wagtail/undo", data={"as_of": before, "here": "measure"},
                    headers={"Sec-Fetch-Site": "same-origin"})
    assert page.status_code == 409 and path.read_text() == text


def test_what_was_kept_is_there_with_its_undo_when_the_page_is_started_again(path, one):
    before = path.read_text()
    send(one, drop="60")
    again = client(path.parent)
    assert beside(again.get("/wagtail/measure"), "drop").startswith("60.00 mm")
    go(again, "undo")
    assert path.read_text() == before
    with opened(path.with_suffix(".book")) as book:
        assert len(book.versions()) == 2


def test_looking_at_a_job_writes_nothing(path, one):
    for key in ("measure", "tubes", "check", "as-of", "frame.svg"):
        one.get(f"/wagtail/{key}")
    assert [one.name for one in path.parent.iterdir()] == ["wagtail.toml"]


def test_a_page_knows_that_the_file_is_another_one_now(path, one):
    before = fields(one.get("/wagtail/measure"))["as_of"]
    assert one.get("/wagtail/as-of").text == before
    path.write_text(path.read_text() + "\n")
    assert one.get("/wagtail/as-of").text != before


def test_a_file_with_windows_line_ends_and_a_byte_order_mark_keeps_both(path, one):
    path.write_bytes(("\ufeff" + path.read_text()).replace("\n", "\r\n").encode())
    before = path.read_bytes()
    assert send(one, drop="60").status_code == 200
    after = path.read_bytes()
    assert after == before.replace(b"drop = 58", b"drop = 60")


def test_a_book_that_is_damaged_while_the_page_runs_is_moved_aside_and_no_change_is_lost(path, one):
    book, shown = path.with_suffix(".book"), send(one, drop="60")
    book.write_bytes(b"damaged" * 1000)
    page = send(one, at=shown, drop="61")
    assert "drop = 61 " in path.read_text() and "cannot be undone" in page.text
    assert "wagtail.book was damaged" in page.text
    page = send(one, at=page, drop="62")
    assert "drop = 62 " in path.read_text()
    assert len(list(path.parent.glob("*-damaged-*"))) == 1
    go(one, "undo")
    assert "drop = 61 " in path.read_text()


def test_a_book_that_was_looked_through_is_not_again_at_every_change(path, one, monkeypatch):
    looked = []
    monkeypatch.setattr("coper.book.book.damage", lambda place: looked.append(place) or "")
    for drop in ("60", "61", "62"):
        assert send(one, drop=drop).status_code == 200
    assert len(looked) <= 1
