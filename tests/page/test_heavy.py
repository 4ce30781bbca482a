"""Jobs, files and forms that are larger than anybody's: the page goes on answering."""

import asyncio
import threading
import urllib.request
from concurrent.futures import ThreadPoolExecutor

import pytest

from coper.page.lines import Lines
from tests.page.pages import OWN, client, served, wagtail
from tests.remembered import forget
from tests.speed.test_bench_job import fence


def in_a_loop_of_its_own(work):
    """In a thread: in this one a browser's driver may have a loop that runs."""
    with ThreadPoolExecutor(1) as beside:
        beside.submit(asyncio.run, work).result()


def asked_in_line(*gone):
    """Who was answered of those who wait for one thing, by whether they are gone by then."""
    lines, answered, most = Lines(), [], []

    async def one(number):
        async def answer():
            most.append(number)
            await asyncio.sleep(0.02)
            assert most.pop() == number, "two are answered at once"
            answered.append(number)

        await lines.answered("/fence/tubes", lambda: gone[number], answer)

    async def every():
        await asyncio.gather(*map(one, range(len(gone))))

    in_a_loop_of_its_own(every())
    assert Lines() == lines, "nobody stands in it any more"
    return sorted(answered)


def test_the_same_thing_is_answered_to_one_at_a_time_and_to_nobody_who_went_away():
    assert asked_in_line(False, True, True, False) == [0, 3]


def test_who_waits_for_another_thing_waits_for_nobody():
    lines, begun = Lines(), []

    async def both():
        async def first():
            await lines.answered("/a", bool, second)

        async def second():
            await lines.answered("/b", bool, third)

        async def third():
            begun.append("b")

        await first()

    in_a_loop_of_its_own(both())
    assert begun == ["b"]


def test_a_job_of_many_tubes_in_one_window_keeps_no_other_waiting(tmp_path):
    wagtail(tmp_path)
    (tmp_path / "fence.toml").write_text(fence(60))
    forget()
    with served(tmp_path) as address:
        long = threading.Thread(
            target=lambda: urllib.request.urlopen(f"{address}fence/tubes").close())
        long.start()
        for place in ("-/page.css", "wagtail/as-of", "wagtail/print"):
            with urllib.request.urlopen(f"{address}{place}", timeout=20) as answer:
                assert answer.status == 200
        assert long.is_alive()
        long.join(20)


def test_a_body_of_ten_mebibytes_is_refused_unread(tmp_path):
    path = wagtail(tmp_path)
    before, one = path.read_text(), client(tmp_path)
    for body in (b"drop=1&x=" + b"x" * (10 << 20), iter([b"x" * (1 << 19)] * 3)):
        answer = one.post("/wagtail/measure", content=body, headers=OWN)
        assert answer.status_code == 413 and "1 MiB" in answer.text
    assert path.read_text() == before


def test_a_folder_of_many_other_files_and_a_huge_one_is_gone_through(tmp_path):
    wagtail(tmp_path)
    for number in range(200):
        (tmp_path / f"notes-{number}.toml").write_text("x = 1\n")
    (tmp_path / "huge.toml").touch()
    with (tmp_path / "huge.toml").open("r+b") as huge:
        huge.truncate(1 << 40)  # of holes: a disk has room for it
    one = client(tmp_path)
    assert one.get("/").text.count('/measure"') == 1
    assert one.get("/huge/measure").status_code == 404
    assert one.get("/wagtail/print").status_code == 200


@pytest.mark.parametrize("name", ["a" * 5000, "%F0%9F%9A%B2" * 400, "a/" * 500, "%00", "a" * 255])
def test_a_name_that_no_file_can_have_is_refused(tmp_path, name):
    one = client(tmp_path)
    for answer in (one.get(f"/{name}/measure"), one.post(f"/{name}/measure", headers=OWN)):
        assert answer.status_code == 404


def test_a_job_that_breaks_the_limits_of_the_command_line_breaks_those_of_the_page(tmp_path):
    deep, one = "[[tubes]]\n[tubes.x]\nstart = " + "[" * 5000, client(tmp_path)
    (tmp_path / "deep.toml").write_text(deep)
    page = one.get("/deep/tubes")
    assert page.status_code == 200 and 'class="wrong"' in page.text
