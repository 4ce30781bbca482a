"""A part of the packet, and where on its pages everything is."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from coper.drawing.bounds import bounds
from coper.errors import CoperError
from coper.job.job import Shop
from coper.joint.steps import Progress, silent
from coper.pages.compose import Block, lay_out, page_count
from coper.pages.laid import Span
from coper.pages.paper import page_letter

NO_LETTER = "–"
"""Stands for a page's letter until the pages are counted."""

Pages = Mapping[str, Span]
"""The first and the last page, from 0, of what is to be cut out, by its name in the file."""

Make = Callable[[Pages], Sequence[Block]]
"""Makes blocks, whenever they are wanted: all that a packet holds are too many to keep."""


@dataclass(frozen=True, slots=True, eq=False)
class Plan:
    """A part of the packet before it is laid out.

    Attributes
    ----------
    listed : tuple of (title, block)
        What the job sheet lists: each with the block that it begins with, up to that of the next;
        empty where that is the first.
    make : Make
    scissors : bool
        Whether its pages are cut up: nothing that is kept is on them.
    lacks : str
        Why it is missing; empty where it is there.
    """

    listed: tuple[tuple[str, str], ...]
    make: Make
    scissors: bool = False
    lacks: str = ""

    @property
    def title(self) -> str:
        """What the job sheet lists first of it."""
        return self.listed[0][0]


@dataclass(frozen=True, slots=True, eq=False)
class Section:
    """A part of the packet that begins on a page of its own.

    Attributes
    ----------
    plan : Plan
    first, count : int
        Its first page, from 0, and how many it takes.
    places : Pages
        Where its blocks are.
    names : tuple of str
        Those of its blocks, in their own order.
    order : tuple of int
        In which they are laid out.
    """

    plan: Plan
    first: int
    count: int
    places: Pages
    names: tuple[str, ...]
    order: tuple[int, ...]

    def blocks(self, cut: Pages) -> list[Block]:
        """Its blocks as they are laid out; ``cut`` is where all that is cut out is."""
        blocks = self.plan.make(cut)
        return [blocks[index] for index in self.order]

    def contents(self) -> list[str]:
        """What the job sheet says of it: every title, and from which page to which it is."""
        names, found = self.names, []
        firsts = [names.index(block) if block else 0 for _, block in self.plan.listed]
        for (title, _), first, after in zip(
                self.plan.listed, firsts, [*firsts[1:], len(names)], strict=True):
            said = pages_words(self.places, names[first:after])
            scissors = ", FOR SCISSORS" if self.plan.scissors else ""
            found.append(f"{capital(said)}{scissors}: {title}")
        return found

    def begun(self) -> dict[int, tuple[str, ...]]:
        """What the job sheet lists of it, by the number of the page that each begins on."""
        found: dict[int, tuple[str, ...]] = {}
        for title, block in self.plan.listed:
            page, _ = self.places.get(block, (self.first, self.first))
            found[page] = (*found.get(page, ()), capital(title))
        return found


def capital(words: str) -> str:
    """The words with a capital at the beginning."""
    return f"{words[:1].upper()}{words[1:]}"


def plan_of(title: str, shop: Shop, make: Callable[[], Sequence[Block]]) -> Plan:
    """A part that the job may lack numbers for, or paper: then it says so. Its blocks are kept."""
    try:
        blocks = make()
        page_count(blocks, shop.paper_for(), shop.printer)
    except CoperError as error:
        return Plan(((title, ""),), lambda _: (), lacks=str(error).splitlines()[0])
    return Plan(((title, ""),), lambda _: blocks)


def laid_out(
    plans: Sequence[Plan], first: int, shop: Shop, progress: Progress = silent
) -> tuple[tuple[Section, ...], Pages]:
    """The parts that have pages, from page number ``first`` on, and where what is cut out is.

    ``progress`` hears of each part.
    """
    sections: list[Section] = []
    cut: dict[str, Span] = {}
    for plan in plans:
        progress(f"pages of {plan.title}")
        blocks = plan.make(cut)
        if not blocks:
            continue
        order, laid = min(((order, lay_out(
            [blocks[index] for index in order], shop.paper_for(), shop.printer))
                           for order in _orders(blocks, plan.scissors)),
                          key=lambda one: len(one[1].sheets))
        places = {name: (first + one, first + last) for name, (one, last) in laid.places.items()}
        sections.append(Section(
            plan, first, len(laid.sheets), places, tuple(block.name for block in blocks), order))
        if plan.scissors:
            cut |= places
        first += len(laid.sheets)
    return tuple(sections), cut


def _orders(blocks: Sequence[Block], any_order: bool) -> list[tuple[int, ...]]:
    """The orders that blocks may be laid out in: their own.

    Where ``any_order`` will do, also the highest first, and the widest first.
    """
    own = tuple(range(len(blocks)))
    if not any_order:
        return [own]
    sizes = [bounds(block.marks) for block in blocks]
    return [own, tuple(sorted(own, key=lambda index: -sizes[index].height)),
            tuple(sorted(own, key=lambda index: -sizes[index].width))]


def span_words(span: Span) -> str:
    """Pages by their letters: ``page K``, ``pages K to M``."""
    first, last = map(page_letter, span)
    return f"page {first}" if first == last else f"pages {first} to {last}"


def pages_words(pages: Pages, names: Sequence[str]) -> str:
    """The pages that everything of ``names`` is on, from the first to the last."""
    spans = [pages[name] for name in names if name in pages]
    if not spans:
        return f"page {NO_LETTER}"
    return span_words((min(first for first, _ in spans), max(last for _, last in spans)))


def first_letter(pages: Pages, name: str) -> str:
    """The letter of the page that something begins on."""
    return page_letter(pages[name][0]) if name in pages else NO_LETTER
