"""What holds of every form of every page, sent by its button without script."""

import pytest

from coper.job.read import parse_job
from tests.page.jobs import SMALL
from tests.page.pages import client
from tests.page.places import GETS, PAIR, filled
from tests.page.reading import OFFERED, Reading, pressed
from tests.profiles import times

ODD = """<odd onodd=1>'"&lt;odd>"""
"""What is an element, and parts of one, where it is not kept text."""

MAKING = ("/print/make", "/print/lay")
"""What goes on being made after it was answered."""

PAIR_PAGES = [path for path in GETS if not path.endswith((".pdf", ".svg", "saws", "as-of"))]


def forms(text, tmp_path, places):
    """Each form of the pages with each of its buttons, once."""
    seen, one = set(), client(tmp_path)
    path = tmp_path / "job.toml"

    def afresh():
        path.write_text(text)
        path.with_suffix(".book").unlink(missing_ok=True)

    for place in places:
        afresh()
        page = one.get(place)
        for form in Reading(page.text).forms:
            for button in form.buttons:
                key = (button.to, *button.adds, *form.fields)
                if key not in seen and not button.to.endswith(MAKING):
                    seen.add(key)
                    afresh()
                    yield one, path, page, form, button


JOBS = {
    "pair": (PAIR, [filled(path) for path in PAIR_PAGES]),
    "bicycle": (SMALL, [f"/job/{key}" for key in ("measure", "check", "check/tracking")])}


@pytest.mark.parametrize("job", JOBS)
def test_a_form_that_is_sent_as_it_is_shown_changes_nothing(tmp_path, job):
    text, places = JOBS[job]
    for one, path, page, form, button in forms(text, tmp_path, places):
        answer = pressed(one, page, button, form.own)
        assert answer.status_code in (200, 422), (button, form.own)
        if not button.to.endswith("/remove"):
            assert path.read_text() == text, (button, form.own)


@pytest.mark.parametrize("job", JOBS)
def test_whatever_is_typed_into_a_field_stays_text_and_breaks_nothing(tmp_path, job):
    text, places = JOBS[job]
    for one, path, page, form, button in forms(text, tmp_path, places):
        typed = [field.name for field in form.open if field.kind not in OFFERED]
        for names in (typed[:1], typed, *([name] for name in typed[1:] if times() > 1)):
            path.write_text(text)
            answer = pressed(one, page, button, {**form.own, **dict.fromkeys(names, ODD)})
            assert answer.status_code in (200, 422), button
            assert strange(answer) == [], (button, names)
            parse_job(path.read_text())


def strange(answer):
    """Elements that no template made."""
    return [(tag, has) for tag, has in Reading(answer.text).elements
            if "odd" in tag or any("odd" in name for name in has)]
