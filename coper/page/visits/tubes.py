"""The station Tubes: the frame, its tubes, and each of them in hand."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from coper.errors import CoperError, FileError
from coper.frame.tube import ENDS
from coper.job.mends import HOWS, Mend
from coper.page.answers.change import Change, answer_in, every_fault, title_and_units
from coper.page.answers.frame import frame_svg
from coper.page.answers.mending import mend_job
from coper.page.answers.tube_change import SIZE, changed_tube
from coper.page.answers.tube_page import kind_of, tube_shown
from coper.page.answers.tubes import added, beside, bridged, called, tubes_shown, without
from coper.page.answers.words import blocks
from coper.page.visit import SVG, Address, Form, Reply, Visit, kept
from coper.page.visits import picking

KEY = "tubes"

WAS = "was."
"""What the name of a field begins with that holds what the file has."""

BELOW = "Nothing was made yet: what is wrong stands beside its field, below."


def show(visit: Visit, change: Change | None = None) -> Reply:
    """The list of tubes, and the form of a new one, with what the address has of it already."""
    if change is None:
        change = Change(visit.text, {key: visit.asked(key) for key in visit.query})
    else:  # a dot that is clicked next leads to a page that still has it
        visit = replace(visit, query={**visit.query, **{
            key: (words,) for key, words in change.typed.items()}})
    page = tubes_shown(visit.text, visit.form.get("kind") or visit.asked("kind"), change)
    return visit.page("tubes.html", KEY, page=page, title=page.title,
                      shown=picking.frame(visit), picking=picking.picking(visit))


def words(visit: Visit) -> Reply:
    """What the terminal says of all of them."""
    title, _ = title_and_units(visit.text)
    try:
        said = blocks(answer_in(visit.text).lines())
    except CoperError as error:
        return visit.page("words.html", KEY, title=title, wrong=every_fault(error), blocks=())
    return visit.page("words.html", KEY, title=title, wrong=(), blocks=said)


def show_tube(visit: Visit, change: Change | None = None) -> Reply:
    """A tube in hand."""
    name = visit.parts["tube"]
    page = tube_shown(visit.text, name, visit.form.get("kind") or visit.asked("kind"), change)
    if not page.there:
        visit = visit.saying(status=404)
    form = {} if change is None else change.typed
    return visit.page("tube.html", KEY, page=page, title=page.title, given=form,
                      why={} if change is None else change.why,
                      shown=picking.frame(visit, name),
                      picking=picking.picking(visit, name, change))


def add(visit: Visit) -> Reply:
    """One more tube, which is in hand then."""
    return _made_with(visit, added, show, visit.form.get("name", ""))


def change_tube(visit: Visit) -> Reply:
    """Fields of a tube, written as far as they can be."""
    name, typed = visit.parts["tube"], changed_since(visit.form)
    kind = visit.form.get("kind", "")
    stays = kind != kind_of(visit.text, name) and not any(
        field == "shape" or field.startswith(SIZE) for field in typed)
    seen = replace(visit, query={**visit.query, "kind": (kind,) if stays else ()})
    return kept(visit, typed, lambda: changed_tube(visit.text, name, typed, visit.form),
                show_tube, visit.address(KEY, name) + seen.search)


def rename(visit: Visit) -> Reply:
    """Another name."""
    return _made_with(visit, partial(_of_tube, called, visit), show_tube,
                      visit.form.get("new-name", ""))


def remove(visit: Visit) -> Reply:
    """The job without it."""
    return kept(visit, {}, lambda: without(visit.text, visit.parts["tube"]), show_tube,
                visit.address(KEY))


def put_beside(visit: Visit) -> Reply:
    """One more tube beside it."""
    return _made_with(visit, partial(_of_tube, beside, visit), show_tube,
                      visit.form.get("beside-name", ""))


def put_between(visit: Visit) -> Reply:
    """A bridge between it and its twin."""
    return _made_with(visit, partial(_of_tube, bridged, visit), show_tube,
                      visit.form.get("bridge-name", ""))


def mend(visit: Visit) -> Reply:
    """What was forgotten of an end, said."""
    form = visit.form
    which, how = form.get("which"), form.get("how")
    if which not in ENDS or how not in HOWS:
        raise FileError("there is no such end", "choose one of the page")
    one = Mend(form.get("tube", ""), which, how, form.get("other", ""))
    return kept(visit, {}, lambda: mend_job(visit.text, one),
                show_tube if visit.parts else show, visit.address(KEY, *visit.parts.values()))


def changed_since(form: Form) -> dict[str, str]:
    """The fields that are not as the form was drawn; a tick that was taken away is empty."""
    found = {}
    for key, was in form.items():
        name = key.removeprefix(WAS)
        if name != key and form.get(name, "") != was:
            found[name] = form.get(name, "")
    return found


def picture(visit: Visit) -> Reply:
    """The frame of a job, drawn one at a time: a shelf asks for many at once."""
    with visit.drawing:
        return Reply(frame_svg(visit.text), kind=SVG)


def _of_tube(
    change: Callable[[str, str, Form], Change], visit: Visit, text: str, form: Form
) -> Change:
    return change(text, visit.parts["tube"], form)


def _made_with(
    visit: Visit, change: Callable[[str, Form], Change],
    show_again: Callable[[Visit, Change | None], Reply], name: str,
) -> Reply:
    """What a form of its own makes; the tube ``name`` is in hand then."""
    def shown_again(visit: Visit, made: Change | None) -> Reply:
        return show_again(visit.saying(BELOW, status=visit.status) if made and made.why else visit,
                          made)

    return kept(visit, visit.form, lambda: change(visit.text, visit.form), shown_again,
                visit.address(KEY, " ".join(name.split())))


ADDRESSES = (
    Address(KEY, show, add), Address("frame.svg", picture), Address("said", words),
    Address("mend", show, mend), Address("tubes/{tube}", show_tube, change_tube),
    *(Address(f"tubes/{{tube}}/{place}", show_tube, post) for place, post in (
        ("rename", rename), ("remove", remove), ("beside", put_beside), ("bridge", put_between),
        ("mend", mend))), *picking.ADDRESSES)
