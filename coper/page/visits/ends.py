"""The station Ends: the list, and each end with its template, its gap and its saws."""

from __future__ import annotations

from urllib.parse import urlencode

from coper.errors import CoperError, WordsError
from coper.page.answers.change import Change, every_fault, title_and_units
from coper.page.answers.end import care, end_saws, end_shown
from coper.page.answers.end_cut import CUT, cut_changed, cut_shown
from coper.page.answers.end_paper import joint_pdf, packet_sheets
from coper.page.answers.ends import listed
from coper.page.answers.named import end_of, pieces_of, seated_end
from coper.page.answers.settings import names, set_to
from coper.page.answers.shop import SETTINGS as SHOP
from coper.page.answers.shop import shop_shown
from coper.page.visit import Address, Reply, Visit, changed_fields, kept
from coper.page.visits.end_view import end_shown as view_shown
from coper.page.visits.named import end_parts

KEY = "ends"
PDF = "application/pdf"


def show(visit: Visit, change: Change | None = None) -> Reply:
    """The list of ends, and the shop that cuts them; saws that are not known follow."""
    return _list(visit, change, with_saws=False)


def all_sawn(visit: Visit) -> Reply:
    """The same, with the saws of every end, which takes long where ends have moved."""
    return _list(visit, None, with_saws=True)


def _list(visit: Visit, change: Change | None, with_saws: bool) -> Reply:
    found = listed(visit.text, with_saws)
    shop, wrong = shop_shown(visit.text, change)
    return visit.page("ends.html", KEY, title=found.title, wrong=(*found.wrong, *wrong),
                      shaped=found.shaped, plain=found.plain, waits=found.waits, shop=shop,
                      units=title_and_units(visit.text)[1])


def set_up(visit: Visit) -> Reply:
    """Fields of the shop, written as far as they can be."""
    typed = changed_fields(visit, names(SHOP))
    return kept(visit, typed, lambda: set_to(visit.text, typed, SHOP), show, visit.address(KEY))


def look(visit: Visit, change: Change | None = None) -> Reply:
    """One end."""
    return _shown(visit, change)


def saws(visit: Visit) -> Reply:
    """The same, with every saw of the shop, which takes long."""
    return _shown(visit, None, with_saws=True)


def _shown(visit: Visit, change: Change | None, with_saws: bool = False) -> Reply:
    """One end; where the job cannot be shaped, why."""
    parts, saw = end_parts(visit), visit.asked("saw")
    values: dict[str, object] = {
        "parts": parts, "saw": saw, "cut": cut_shown(visit.text, *parts, change),
        "title": "", "end": None, "wrong": (), "saw_wrong": "", "saws": None,
        "with_saws": with_saws}
    try:
        pieces_of(visit.text)
    except CoperError as error:
        return visit.page("end.html", KEY, **{**values, "wrong": every_fault(error)})
    try:
        end = end_shown(visit.text, *parts, saw)
    except WordsError as error:
        end = end_shown(visit.text, *parts)
        visit, values["saw_wrong"] = visit.saying(status=422), str(error)
    if with_saws and end.has_saws and not values["saw_wrong"]:
        values["saws"] = end_saws(visit.text, *parts, saw)
    if end.shaped:
        values["end_shown"] = view_shown(visit, end_of(visit.text, *parts),
                                         visit.address(KEY, *parts))
    return visit.page("end.html", KEY, **{**values, "title": end.job, "end": end})


def change(visit: Visit) -> Reply:
    """Another cut, written where the file still loads with it."""
    parts, typed = end_parts(visit), changed_fields(visit, (CUT,))
    return kept(visit, typed, lambda: cut_changed(visit.text, *parts, typed), look,
                visit.address(KEY, *parts) + visit.search)


def paper(visit: Visit) -> Reply:
    """The end's own PDF."""
    end = end_of(visit.text, *end_parts(visit))
    with visit.drawing:
        return Reply(joint_pdf(end), kind=PDF, file=f"{end.name}.pdf")


def packet(visit: Visit) -> Reply:
    """The way to the sheets of the packet that have it."""
    end = end_of(visit.text, *end_parts(visit))
    with visit.drawing:
        found = packet_sheets(visit.text, visit.job.path.name, end.piece.label)
    sheets = urlencode([("sheet", number) for number in found])
    return Reply(status=303, to=f"{visit.address('print', 'packet.pdf')}?{sheets}")


def careful(visit: Visit) -> Reply:
    """What each error costs there."""
    parts = end_parts(visit)
    end = seated_end(visit.text, *parts)
    with visit.drawing:
        blocks = care(end)
    return visit.page("care.html", KEY, title=end.job.title, parts=parts, blocks=blocks)


END = "ends/{tube}/{side}/{end}"

ADDRESSES = (Address(KEY, show, set_up), Address("ends/saws", all_sawn),
             Address(END, look, change), Address(f"{END}/saws", saws),
             Address(f"{END}/joint.pdf", paper),
             Address(f"{END}/packet.pdf", packet), Address(f"{END}/care", careful))
