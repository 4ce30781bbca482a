"""``coper saw`` of an end of a job: the set-up of every main, as the packet's card has it."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from coper.bench.setup import EndSetup, SawShop
from coper.drawing.page import Page
from coper.job.named_end import JobEnd
from coper.job.papers import TRUE_PRINTER
from coper.job.setups import saw_shop
from coper.joint.cautions import SAFETY
from coper.joint.fit.limits import Limit
from coper.joint.steps import Progress
from coper.sheets.setup_card import Card, end_card
from coper.sheets.setup_card_words import rows, speed_words, steps
from coper.telling.lines import Caution, Fact, Line
from coper.telling.records.end import end_head
from coper.telling.records.head import json_head
from coper.telling.records.setup import setup_record
from coper.telling.words.end import end_title
from coper.verbs.about import about
from coper.verbs.answer import Answer, in_unit
from coper.verbs.asked import limit_of, printer_of


def ask_end(end: JobEnd, arguments: Namespace) -> Answer[EndSetup]:
    """The answer to what the options ask."""
    limit, usual = limit_of(arguments, end), saw_shop(end.job.shop)
    shop = replace(usual, saws=arguments.kit or usual.saws, depth=arguments.depth or usual.depth,
                   enough=usual.enough if limit is None else limit.mm)
    return in_unit(end.job.units, lambda: saw_end(
        end, shop, limit, end.job.shop.paper_for(arguments.paper), printer_of(arguments, end)))


def saw_end(end: JobEnd, shop: SawShop, limit: Limit | None, paper: str,
            printer: tuple[float, float] = TRUE_PRINTER) -> Answer[EndSetup]:
    """How the saws of ``shop`` cut an end of a job.

    Parameters
    ----------
    end
        On all that it seats on.
    shop
        What there is to saw with.
    limit
        The largest gap that is still good.
    paper
        The paper for the card.
    printer : (across, along), mm
        What the check bars of an earlier print measured.
    """
    found = end.setup(shop)
    said = (*about(end).question, *SAFETY)
    card = end_card(end.piece, found, limit, end.job.shop.material)

    def record() -> dict[str, Any]:
        return {
            **json_head(),
            **end_head(end),
            "limit": None if limit is None else limit.mm,
            **setup_record(found, limit),
            "cautions": list(said),
        }

    def lines() -> Iterator[Line]:
        yield end_title(end)
        yield from _card_lines(card)
        yield from map(Caution, said)

    def pages(progress: Progress) -> tuple[Page, ...]:
        from coper.sheets.saw_sheet import end_saw_pages

        return end_saw_pages(end, found, card, paper, printer)

    return Answer(end_title(end), found, record, lines, pages, ok=_good(found, limit))


def _good(found: EndSetup, limit: Limit | None) -> bool:
    """Whether saws cut the end, within the limit where there is one."""
    if limit is None or found.chop is not None:
        return True
    return found.sawn is not None and found.sawn.within(limit.mm)


def _card_lines(card: Card) -> Iterator[Line]:
    """The card as lines: the numbers of each cut, its steps, the gaps to expect."""
    for number, cut in enumerate(card.cuts, 1):
        yield ""
        yield f"cut {number} of {len(card.cuts)}, {cut.on}" if len(card.cuts) > 1 else cut.on
        for row in rows(card, cut):
            yield Fact(row.label, f"{row.value} ({row.inches})" if row.inches else row.value)
        yield from speed_words(card, cut)
        first, *more = steps(card, cut)
        yield Fact("do", first, tuple(more))
    yield ""
    yield from card.gaps
    yield ""
