"""The station Tubes: the frame, and what the terminal says of it."""

from __future__ import annotations

from coper.page.answers.frame import frame_svg
from coper.page.answers.words import said
from coper.page.visit import SVG, Address, Reply, Visit
from coper.page.visits.view import shown

KEY = "tubes"


def show(visit: Visit) -> Reply:
    """The station as a page."""
    words = said(KEY, visit.text)
    return visit.page("words.html", KEY, title=words.title, wrong=words.wrong,
                      blocks=words.blocks, frame=True, shown=shown(visit, visit.address(KEY)))


def picture(visit: Visit) -> Reply:
    """The frame of a job, drawn one at a time: a shelf asks for many at once."""
    with visit.drawing:
        return Reply(frame_svg(visit.text), kind=SVG)


ADDRESSES = (Address(KEY, show), Address("frame.svg", picture))
