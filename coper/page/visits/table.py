"""The station Table: what the terminal says of it."""

from __future__ import annotations

from coper.page.answers.words import said
from coper.page.visit import Address, Reply, Visit

KEY = "table"


def show(visit: Visit) -> Reply:
    """The station as a page."""
    words = said(KEY, visit.text)
    return visit.page("words.html", KEY, title=words.title, wrong=words.wrong,
                      blocks=words.blocks, frame=False)


ADDRESSES = (Address(KEY, show),)
