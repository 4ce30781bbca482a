"""The folder: its jobs and nothing else."""

import os

import pytest

from coper.errors import FileError
from coper.page.shelf import Shelf, file_stem, shelf_at
from tests.page.pages import DEMO, OWN, client, wagtail

SECRET = "title = 'secret'\n[tubes.x]\n"


def test_the_jobs_of_a_folder_are_listed_each_with_its_picture(tmp_path):
    wagtail(tmp_path)
    (tmp_path / "dipper.toml").write_text((DEMO / "dipper.toml").read_text())
    page = client(tmp_path).get("/").text
    for name in ("wagtail", "dipper"):
        assert f'href="/{name}/measure"' in page and f'src="/{name}/frame.svg"' in page
    assert "Dipper, a cargo trailer" in page


def test_a_jobs_picture_is_its_frame_from_three_sides(tmp_path):
    wagtail(tmp_path)
    picture = client(tmp_path).get("/wagtail/frame.svg")
    assert picture.headers["Content-Type"].startswith("image/svg+xml")
    assert "from the right" in picture.text and "down-tube" in picture.text


def test_other_files_are_not_on_the_shelf(tmp_path):
    (tmp_path / "pyproject.toml").write_text("[project]\nname = 'x'\n")
    (tmp_path / "notes.txt").write_text(SECRET)
    (tmp_path / ".hidden.toml").write_text(SECRET)
    (tmp_path / "-.toml").write_text(SECRET)
    (tmp_path / "folder.toml").mkdir()
    (tmp_path / "large.toml").write_text("[tubes.x]\n" + "#" * (1 << 20))
    (tmp_path / "bytes.toml").write_bytes(b"[tubes.x]\n\xff")
    os.mkfifo(tmp_path / "pipe.toml")
    one = client(tmp_path)
    assert Shelf(tmp_path).jobs() == {} and "No job here yet" in one.get("/").text
    for name in ("pyproject", "notes", "notes.txt", ".hidden", "folder", "large", "bytes", "pipe"):
        assert one.get(f"/{name}/measure").status_code == 404


def test_a_file_whose_name_no_address_can_say_is_left_out_and_all_others_are_there(tmp_path):
    wagtail(tmp_path)
    for name in (b"\xff", b"two\nlines"):
        (tmp_path / os.fsdecode(name + b".toml")).write_text(SECRET)
    page = client(tmp_path).get("/")
    assert page.status_code == 200 and page.text.count('/measure"') == 1
    with pytest.raises(FileError):
        shelf_at(str(tmp_path / os.fsdecode(b"\xff.toml")))


def test_a_link_out_of_the_folder_is_not_followed(tmp_path):
    shop, other = tmp_path / "shop", tmp_path / "other"
    shop.mkdir()
    other.mkdir()
    (other / "secret.toml").write_text(SECRET)
    (shop / "secret.toml").symlink_to(other / "secret.toml")
    (shop / "in").symlink_to(other)
    one = client(shop)
    assert Shelf(shop).jobs() == {}
    for address in ("/secret/measure", "/secret/frame.svg", "/secret/as-of", "/in/secret",
                    "/in/secret.toml"):
        answer = one.get(address)
        assert answer.status_code == 404 and "secret'" not in answer.text
    assert one.post("/secret/measure", data={"drop": "1"}, headers=OWN).status_code == 404


@pytest.mark.parametrize("way", [
    "..", "%2e%2e", "..%2f..", "%2e%2e%2fother%2fsecret", "..%5cother%5csecret",
    "....//other/secret", "%252e%252e%252fother%252fsecret", "/other/secret", "secret%00",
    "..%c0%afother%c0%afsecret"])
def test_no_path_leads_out_of_the_folder(tmp_path, way):
    shop = tmp_path / "shop"
    shop.mkdir()
    (tmp_path / "other").mkdir()
    (tmp_path / "other" / "secret.toml").write_text(SECRET)
    one = client(shop)
    for address in (f"/{way}/measure", f"/{way}/frame.svg", f"/-/{way}", f"/{way}"):
        answer = one.get(address)
        assert answer.status_code == 404 or answer.url.path == "/"
        assert "'secret'" not in answer.text and ">secret<" not in answer.text


def test_a_job_that_is_broken_stays_on_the_shelf_and_says_why(tmp_path):
    (tmp_path / "a.toml").write_text("[tubes.x]\nshape = ")
    page = client(tmp_path).get("/").text
    assert 'href="/a/measure"' in page and 'class="wrong"' in page


@pytest.mark.parametrize(("content", "words"), [
    (b"", "no [tubes] and no [bicycle]"), (b"[tubes.x] # \xe9", "save the file as UTF-8"),
    (b"[tubes.x]\n" + b"#" * (1 << 20), "larger than 1 MiB")])
def test_a_job_that_an_editor_made_none_says_why_and_comes_back(tmp_path, content, words):
    path, one = wagtail(tmp_path), client(tmp_path)
    before = path.read_text()
    path.write_bytes(content)
    page = one.get("/wagtail/measure")
    assert page.status_code == 404 and words in page.text
    path.write_text(before)
    assert one.get("/wagtail/measure").status_code == 200


def test_a_page_of_one_file_shows_that_alone(tmp_path):
    path = wagtail(tmp_path)
    wagtail(tmp_path, "other")
    shelf = shelf_at(str(path))
    assert shelf == Shelf(tmp_path.resolve(), path.resolve()) and list(shelf.jobs()) == ["wagtail"]
    one = client(tmp_path, only=path)
    assert one.get("/").url.path == "/wagtail/measure"
    assert one.get("/other/measure").status_code == 404


def test_a_place_that_is_none_is_refused(tmp_path):
    (tmp_path / "ring").symlink_to(tmp_path / "ring")
    for place in ("nowhere", "ring", "a\0b", ""):
        with pytest.raises(FileError):
            shelf_at(str(tmp_path / place) if place else "nowhere at all")


def test_markup_in_titles_and_names_stays_text(tmp_path):
    name = "<img src=x onerror=alert(1)>"
    path = tmp_path / f"{name}.toml"
    text = (DEMO / "wagtail.toml").read_text().replace(
        'title = "Wagtail', 'title = "<script>alert(1)</script>&')
    path.write_text(text.replace("tubes.stay-bridge", 'tubes."<b>bridge"')
                    .replace('"stay-bridge"', '"<b>bridge"'))
    one = client(tmp_path)
    for page in (one.get("/"), one.get(f"/{name}/measure"), one.get(f"/{name}/tubes")):
        assert "<script>alert" not in page.text and "<img src=x" not in page.text
        assert "<b>" not in page.text and "&lt;script&gt;" in page.text
    assert "<b>" not in one.get(f"/{name}/frame.svg").text


def answers(**given):
    return {"title": "My Shopper", "like": "bicycle", "units": "mm", "paper": "letter",
            "saws": "7/8in, 1in", **given}


def test_a_new_job_is_begun_from_four_questions(tmp_path):
    page = client(tmp_path).post("/-/begin", data=answers(), headers=OWN)
    assert page.url.path == "/my-shopper/measure" and page.status_code == 200
    text = (tmp_path / "my-shopper.toml").read_text()
    assert 'title = "My Shopper"' in text and 'paper = "letter"' in text
    assert 'saws = ["7/8in", "1in"]' in text and 'units = "mm"' in text
    assert "# What you measured" in text or "# A job for coper" in text


@pytest.mark.parametrize("like", ["bicycle", "rear-end", "trailer", "rack"])
@pytest.mark.parametrize("units", ["mm", "in"])
def test_every_new_job_loads_and_is_listed(tmp_path, like, units):
    one = client(tmp_path)
    page = one.post("/-/begin", data=answers(like=like, units=units, saws=""), headers=OWN)
    assert page.status_code == 200 and 'class="wrong"' not in page.text
    assert "/my-shopper/measure" in one.get("/").text


@pytest.mark.parametrize(("given", "words"), [
    ({"title": " "}, "give it a name"), ({"like": "boat"}, "boat"), ({"units": "ell"}, "ell"),
    ({"paper": "../../x"}, "x"), ({"saws": "7/8in, round"}, "no number in this length"),
    ({"title": "x" * 300}, "200")])
def test_an_answer_that_cannot_be_used_is_said_beside_its_question(tmp_path, given, words):
    page = client(tmp_path).post("/-/begin", data=answers(**given), headers=OWN)
    assert page.status_code == 422 and words in page.text and 'class="wrong"' in page.text
    assert list(tmp_path.iterdir()) == []


def test_a_new_job_never_takes_the_name_of_a_file_that_is_there(tmp_path):
    (tmp_path / "my-shopper.toml").write_text("mine")
    page = client(tmp_path).post("/-/begin", data=answers(), headers=OWN)
    assert page.status_code == 422 and "is there already" in page.text
    assert (tmp_path / "my-shopper.toml").read_text() == "mine"


def test_a_name_becomes_that_of_a_file_in_the_folder():
    for name in ("../../etc/passwd", "a/b", "..", ".hidden", "-x", "C:\\x", "\0", "ü mit Punkt."):
        stem = file_stem(name)
        assert stem and "/" not in stem and "\\" not in stem and stem[0] not in ".-"
