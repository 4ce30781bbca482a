"""A packet made while the page goes on answering: how far it is, cancelled, fetched, forgotten."""

import threading
import time

import pytest

from coper.errors import FileError, ShapeError
from coper.page import making
from coper.page.answers.printing import is_laid_out, laid_out, packet_pdf, sheets
from coper.page.making import Makings
from tests.cli.run import run
from tests.page.pages import OWN, TWO_TUBES, client, fields, part, two_tubes

LONG_S = 20


@pytest.fixture
def path(tmp_path):
    return two_tubes(tmp_path)


@pytest.fixture
def one(path):
    return client(path.parent)


def post(one, what, **typed):
    return one.post(f"/two/print/{what}", data=typed, headers=OWN)


def until(true):
    """Wait for a thread; fails where that takes too long."""
    for _ in range(100 * LONG_S):
        if true():
            return
        time.sleep(0.01)
    raise AssertionError("it did not come")


def ready(one):
    return "is ready" in part(one.get("/two/print/making"), "making")


def running():
    return [thread for thread in threading.enumerate() if thread.name.startswith("coper-making")]


class Slow:
    """Work that says a step each time it is let go on."""

    def __init__(self):
        self.begun, self.on = threading.Event(), threading.Semaphore(0)

    def __call__(self, say):
        for step in ("first", "second", "third"):
            say(step, 0.5)
            self.begun.set()
            assert self.on.acquire(timeout=LONG_S)
        return b"made"


@pytest.fixture
def slow():
    one = Slow()
    yield one
    one.on.release(3)
    until(lambda: not running())


def test_what_is_made_with_a_bar_is_the_pdf_of_the_command_line_byte_for_byte(
        path, one, monkeypatch):
    monkeypatch.chdir(path.parent)
    assert run("job", "two.toml", "--out", "out")[0] == 0
    page = post(one, "make")
    assert page.status_code == 200 and page.url.path == "/two/print"
    until(lambda: ready(one))
    answer = one.get("/two/print/made.pdf")
    assert answer.headers["Content-Type"] == "application/pdf"
    assert "two.pdf" in answer.headers["Content-Disposition"]
    assert answer.content == (path.parent / "out" / "two.pdf").read_bytes()


def test_only_the_ticked_sheets_are_made(one):
    sheets(TWO_TUBES, "two.toml")
    post(one, "make", listed="yes", as_of=one.get("/two/as-of").text, **{"sheet.0": "yes"})
    until(lambda: ready(one))
    assert (one.get("/two/print/made.pdf").content
            == one.get("/two/print/packet.pdf?sheet=0").content
            != one.get("/two/print/packet.pdf").content)


def test_the_steps_name_what_is_drawn_in_its_order_and_their_share_never_falls():
    said = []
    packet_pdf(TWO_TUBES, "steps.toml", (), lambda step, share: said.append((step, share)))
    shares = [share for _, share in said]
    assert shares == sorted(shares) and shares[0] == 0 and shares[-1] < 1
    assert said[0][0] == "shaping the tubes" and "laying out: cut list" in dict(said)
    drawn = [step for step, _ in said if " of " in step and not step.startswith("laying")]
    count = len(drawn)
    assert [step.split(":")[0] for step in drawn] == [f"{at} of {count}"
                                                      for at in range(1, count + 1)]
    names = [words.split(": ", 1)[1] for words in dict.fromkeys(drawn)]
    wanted = ["Job sheet", "Cut list", "Templates and footprints", "Marks on post", "Arm"]
    assert [name for name in dict.fromkeys(names) if name in wanted] == wanted


def test_a_packet_that_was_stopped_while_it_was_laid_out_is_not_kept():
    class NobodyError(Exception):
        pass

    def stop(step, share):
        if step == "laying out: layout":
            raise NobodyError

    with pytest.raises(NobodyError):
        laid_out(TWO_TUBES, "stopped.toml", stop)
    assert not is_laid_out(TWO_TUBES, "stopped.toml")
    assert sheets(TWO_TUBES, "stopped.toml") and is_laid_out(TWO_TUBES, "stopped.toml")


def test_the_sheets_are_laid_out_with_a_bar_and_then_listed(path, one):
    path.write_text(TWO_TUBES.replace("Two tubes", "Listed"))
    assert "Choose sheets" in one.get("/two/print").text
    post(one, "lay")
    until(lambda: "Job sheet" in part(one.get("/two/print"), "sheets"))
    assert one.get("/two/print/made.pdf").status_code == 404


def test_all_or_no_sheets_are_ticked_by_a_link_and_none_makes_nothing(one):
    sheets(TWO_TUBES, "two.toml")
    boxes = [name for name in fields(one.get("/two/print")) if name.startswith("sheet.")]
    assert len(boxes) > 3
    assert one.get("/two/print").text.count(" checked> ") > 0
    assert one.get("/two/print?tick=all").text.count('value="yes" checked') == len(boxes)
    assert 'value="yes" checked' not in one.get("/two/print?tick=none").text
    page = post(one, "make", listed="yes", as_of=one.get("/two/as-of").text)
    assert page.status_code == 422 and "tick one" in part(page, "notice")
    assert post(one, "make", **{"sheet.77": "yes"}).status_code == 200
    until(lambda: "no such sheet" in part(one.get("/two/print"), "making"))
    assert post(one, "make", **{"sheet.x": "yes"}).status_code == 404


def test_a_fault_in_a_tube_is_a_sentence(path, one):
    path.write_text(TWO_TUBES.replace("[0, 0, 150]", "[300, 0, 150]"))
    post(one, "make")
    until(lambda: "/two/tubes/arm\"" in one.get("/two/print/making").text)
    assert one.get("/two/print/made.pdf").status_code == 404


def test_what_was_made_of_an_older_file_is_not_given_out(path, one):
    post(one, "make")
    until(lambda: ready(one))
    path.write_text(TWO_TUBES.replace("Two tubes", "Two other tubes"))
    assert not ready(one) and one.get("/two/print/made.pdf").status_code == 404


def test_what_is_wanted_twice_is_made_once_and_is_there_for_both(slow):
    all_made = Makings()
    first = all_made.begin("a", "packet", slow)
    assert slow.begun.wait(LONG_S) and all_made.begin("a", "packet", slow) is first
    assert first.step == "first" and first.share == 0.5 and not first.ended
    slow.on.release(3)
    until(lambda: first.ended)
    assert all_made.of("a") is first and first.made == b"made"


def test_of_two_jobs_one_waits_for_the_other(slow):
    all_made, order = Makings(), []
    all_made.begin("a", 1, slow)
    assert slow.begun.wait(LONG_S)
    second = all_made.begin("b", 1, lambda say: order.append("b") or b"b")
    time.sleep(0.05)
    assert second.step == making.TURN and order == []
    slow.on.release(3)
    until(lambda: second.ended)
    assert second.made == b"b" and all_made.of("a").made == b"made"


def test_cancel_leaves_nothing_running_and_nothing_half_kept(slow):
    all_made = Makings()
    first = all_made.begin("a", 1, slow)
    assert slow.begun.wait(LONG_S)
    all_made.stop("a")
    assert all_made.of("a") is None
    slow.on.release()
    until(lambda: not running())
    assert first.made == b"" and first.step == "first" and all_made.of("a") is None


def test_one_that_waits_for_its_turn_can_be_cancelled_too(slow):
    all_made = Makings()
    all_made.begin("a", 1, slow)
    assert slow.begun.wait(LONG_S)
    second = all_made.begin("b", 1, slow)
    all_made.stop("b")
    until(lambda: second.ended)
    assert second.made == b"" and all_made.of("b") is None


def test_something_else_of_the_same_job_takes_its_place(slow):
    all_made = Makings()
    old = all_made.begin("a", "old", slow)
    new = all_made.begin("a", "new", lambda say: b"new")
    slow.on.release(3)
    until(lambda: old.ended and new.ended)
    assert all_made.of("a") is new and old.made == b"" and new.made == b"new"


def test_what_nobody_looks_at_any_more_is_not_made(slow):
    all_made = Makings()
    first = all_made.begin("a", 1, slow)
    assert slow.begun.wait(LONG_S)
    first.looked -= making.WAITED_FOR_S + 1
    slow.on.release()
    until(lambda: first.ended)
    assert first.made == b"" and all_made.of("a") is None


def test_what_was_made_is_forgotten_after_a_while(monkeypatch):
    monkeypatch.setattr(making, "KEPT_S", 0.02)
    all_made = Makings()
    all_made.begin("a", 1, lambda say: b"made")
    until(lambda: all_made.of("a") is None)


def test_no_more_than_a_few_are_kept_or_made_at_once(slow):
    all_made = Makings()
    done = [all_made.begin(number, 1, lambda say: b"made") for number in range(making.MOST)]
    until(lambda: all(one.ended for one in done))
    all_made.begin("a", 1, slow)
    assert all_made.of(0) is None and all_made.of(1) is not None
    for number in range(1, making.MOST):
        all_made.begin(f"b{number}", 1, slow)
    with pytest.raises(FileError, match="as many packets"):
        all_made.begin("c", 1, slow)
    for number in range(1, making.MOST):
        all_made.stop(f"b{number}")


@pytest.mark.parametrize(("error", "words"), [
    (ShapeError("no tube", "mend it", "tubes.x"), "tubes.x: no tube; mend it"),
    (ZeroDivisionError("by 0"), "A fault in coper itself (ZeroDivisionError: by 0). Report it.")])
def test_a_fault_ends_it_with_a_sentence_and_it_can_be_tried_again(error, words):
    def fail(say):
        raise error

    all_made = Makings()
    first = all_made.begin("a", 1, fail)
    until(lambda: first.ended)
    assert first.wrong == (words,) and all_made.of("a") is first
    second = all_made.begin("a", 1, lambda say: b"made")
    until(lambda: second.ended)
    assert second is not first and second.made == b"made"


def test_while_one_window_makes_sheets_another_cannot_make_others_and_cancel_ends_it(
        path, one, monkeypatch, slow):
    monkeypatch.setattr("coper.page.visits.printing.packet_pdf",
                        lambda text, file, ticked, say: slow(say))
    post(one, "make")
    assert slow.begun.wait(LONG_S)
    page = one.get("/two/print")
    assert "first" in part(page, "making") and 'value="50"' in page.text
    assert 'data-again="/two/print/making"' in page.text
    assert 'http-equiv="refresh"' in page.text  # for a window without script
    other = post(one, "make", **{"sheet.0": "yes"})
    assert other.status_code == 409 and "another window" in part(other, "notice")
    assert one.get("/two/measure").status_code == 200
    cancelled = post(one, "stop")
    assert cancelled.status_code == 200 and part(cancelled, "making") == ""
    slow.on.release()
    until(lambda: not running())
    assert one.get("/two/print/made.pdf").status_code == 404


def test_sheets_that_were_ticked_of_another_file_are_not_made(path, one):
    form = {"listed": "yes", "as_of": one.get("/two/as-of").text, "sheet.0": "yes"}
    path.write_text(path.read_text() + "# an editor's\n")
    page = post(one, "make", **form)
    assert page.status_code == 409 and "since the sheets were listed" in part(page, "notice")
    assert one.get("/two/print/made.pdf").status_code == 404
