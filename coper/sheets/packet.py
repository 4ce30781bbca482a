"""The packet of a job: everything to print and take to the bench, in the order of work."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, replace
from functools import partial

from coper.bench.assembly.assembly import Assembly
from coper.bench.bends import bend_lists
from coper.bicycle.clearance.clearance import make_clearances
from coper.bicycle.clearance.drive import Drive
from coper.bicycle.measures import measure
from coper.drawing.page import Page
from coper.frame.order import work_order
from coper.frame.piece import Piece
from coper.job.assembly import job_assembly
from coper.job.job import Job
from coper.job.layout import job_layout
from coper.job.shaped import ShapedJob
from coper.job.tracking import job_measures, job_rear_end
from coper.joint.cautions import SAFETY
from coper.joint.steps import Progress
from coper.pages.code import code_of
from coper.pages.compose import Block, compose, page_count
from coper.pages.paper import page_letter
from coper.sheets.bends import bends_blocks
from coper.sheets.clearance import clearance_blocks
from coper.sheets.contents import with_contents
from coper.sheets.cut_list import cut_list_blocks
from coper.sheets.job_sheet import job_sheet_blocks
from coper.sheets.layout import layout_blocks
from coper.sheets.order_of_work import order_blocks
from coper.sheets.section import Pages, Plan, Section, capital, laid_out, plan_of, span_words
from coper.sheets.tracking_log import Typed, rear_end_log_blocks
from coper.sheets.tube_plans import tube_plans
from coper.telling.words.bicycle import measure_words
from coper.telling.words.clash import clash_words
from coper.telling.words.cut_list import all_shortages
from coper.telling.words.lettering import lacking_words
from coper.telling.words.plausible import job_doubts
from coper.telling.words.standing import unlike_words
from coper.telling.words.typed import typed_file
from coper.units import lengths_in, order_unit

FIRST = "Job sheet"

ROUNDS = 3
"""How often the packet is laid out: the job sheet may grow once the letters are in place."""

GUESSED = "Pages A to B"
"""Stands before a title until its pages are known: most often it takes as much room."""

SCISSORS = "For scissors · "
"""What the foot of a page begins with that is cut up."""


@dataclass(frozen=True, slots=True, eq=False)
class Packet(Collection[Page]):
    """The pages of a packet, each section's made as it is reached, and not kept.

    Attributes
    ----------
    job : Job
        Its title, its shop's paper and printer.
    sections : tuple of Section
        In the order of work, the job sheet first.
    cut : Pages
        Where all that is cut out is.
    unit : str
        That of the order, in which each section is written.
    progress
        Hears of each section that is drawn.
    """

    job: Job
    sections: tuple[Section, ...]
    cut: Pages
    unit: str
    progress: Progress

    def __len__(self) -> int:
        return sum(section.count for section in self.sections)

    def __contains__(self, page: object) -> bool:
        return any(page == one for one in self)

    def __iter__(self) -> Iterator[Page]:
        return self.of(self.sections)

    def of(self, sections: Iterable[Section]) -> Iterator[Page]:
        """The pages of some of its sections, lettered as in all of it."""
        shop, code = self.job.shop, job_code(self.job)
        for section in sections:
            first, plan = section.first, section.plan
            self.progress(f"page {page_letter(first)}, {first + 1} of {len(self)}")
            with lengths_in(self.unit):
                pages = compose(
                    section.blocks(self.cut), shop.paper_for(), shop.printer, before=first,
                    title=f"{SCISSORS if plan.scissors else ''}{self.job.title}",
                    after=len(self) - first - section.count, code=code)
            begun = section.begun()
            yield from (replace(page, opens=begun.get(number, ()))
                        for number, page in enumerate(pages, first))


def job_code(job: Job) -> str:
    """The code of all that a job says; its file may have any name, and any remarks."""
    return code_of(replace(job, file="", text=""))


def packet_pages(
    shaped: ShapedJob, progress: Progress, order: Assembly | None = None
) -> Packet:
    """The pages of the packet, the job sheet first; ``progress`` hears of each step.

    ``order`` is the order of work, where it is known already.
    """
    job, shop = shaped.job, shaped.job.shop
    plans = tuple(_plans(shaped, progress))
    lacking = [f"No page: {plan.title}: {plan.lacks}" for plan in plans if plan.lacks]
    blocks, paper = _job_sheet(shaped, order or job_assembly(shaped)), shop.paper_for()
    guessed = [f"{GUESSED}: {title}" for plan in plans for title, _ in plan.listed]
    count = page_count(with_contents(blocks, guessed, paper, shop.printer), paper, shop.printer)
    for _ in range(ROUNDS):
        sections, cut = laid_out(plans, count, shop, progress)
        listed = [f"{capital(span_words((0, count - 1)))}: {FIRST}",
                  *(line for section in sections for line in section.contents()), *lacking]
        made = tuple(with_contents(blocks, listed, paper, shop.printer))
        (first,), _ = laid_out((Plan(((FIRST, ""),), partial(_kept, made)),), 0, shop)
        if first.count == count:
            break
        count = first.count
    return Packet(job, (first, *sections), cut, order_unit(), progress)


def _kept(blocks: tuple[Block, ...], _: Pages) -> tuple[Block, ...]:
    return blocks


def _job_sheet(shaped: ShapedJob, order: Assembly) -> tuple[Block, ...]:
    """The job sheet without its contents, which name pages: all the rest is drawn once."""
    job, pieces = shaped.job, shaped.pieces
    names = (job.title, *(piece.label for piece in pieces))
    cautions = (*job_doubts(job), *map(clash_words, shaped.clashes),
                *unlike_words(job.tubes, pieces), *all_shortages(shaped.cut_list),
                *lacking_words(names), *SAFETY)
    return (*job_sheet_blocks(
        job.title, work_order(pieces), _measures(job, pieces), cautions, shaped.cut_list,
        f"coper job {typed_file(job.file)}", job.table.lies == "flat"),
        *order_blocks(order))


def _measures(job: Job, pieces: Iterable[Piece]) -> tuple[str, ...]:
    """What a bicycle measures; nothing where the job has none."""
    if job.bicycle is None:
        return ()
    measures = measure(job.bicycle, [piece.tube for piece in pieces])
    return tuple(f"{words}: {value}" for words, value in measure_words(measures))


def _plans(shaped: ShapedJob, progress: Progress) -> Iterator[Plan]:
    """Every part after the job sheet, in the order of work."""
    job, pieces, shop = shaped.job, shaped.pieces, shaped.job.shop
    progress("cut list")
    yield plan_of("Cut list", shop, lambda: tuple(cut_list_blocks(shaped.cut_list)))
    yield plan_of("Bends", shop, lambda: bends_blocks(
        bend_lists(pieces, shop.stretch), shop.stretch))
    progress("layout")
    yield plan_of("On the table", shop, lambda: layout_blocks(
        job_layout(job, pieces), shop.paper_for(), shop.printer))
    yield from tube_plans(shaped, progress)
    progress("clearance and tracking")
    if job.drive != Drive() or (job.bicycle is not None and job.bicycle.wheels):
        yield plan_of("Clearance", shop, lambda: clearance_blocks(
            make_clearances(pieces, job.bicycle, job.drive)))
    yield plan_of("Is it straight?", shop, lambda: _tracking_blocks(job))


def _tracking_blocks(job: Job) -> list[Block]:
    """The log of the job's frame; none where the job does not say what it needs."""
    rear = job_rear_end(job)
    if rear is None:
        return []
    typed = Typed(f"coper tracking {typed_file(job.file)}", job_measures(job))
    return rear_end_log_blocks(rear, typed)
