"""The packet of a job: everything to print and take to the bench, in the order of work."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass

from coper.bench.bends import bend_lists
from coper.bicycle.clearance.clearance import make_clearances
from coper.bicycle.clearance.drive import Drive
from coper.bicycle.measures import measure
from coper.drawing.page import Page
from coper.frame.order import work_order
from coper.frame.piece import Piece
from coper.job.job import Job
from coper.job.layout import job_layout
from coper.job.shaped import ShapedJob
from coper.job.tracking import job_measures, job_rear_end
from coper.joint.cautions import SAFETY
from coper.joint.steps import Progress
from coper.pages.compose import Block, compose
from coper.pages.paper import page_letter
from coper.sheets.bends import bends_blocks
from coper.sheets.clearance import clearance_blocks
from coper.sheets.cut_list import cut_list_blocks
from coper.sheets.job_sheet import job_sheet_blocks
from coper.sheets.layout import layout_blocks
from coper.sheets.section import NO_LETTER, Pages, Plan, Section, laid_out, plan_of
from coper.sheets.tracking_log import Typed, rear_end_log_blocks
from coper.sheets.tube_plans import tube_plans
from coper.telling.words.bicycle import measure_words
from coper.telling.words.clash import clash_words
from coper.telling.words.cut_list import all_shortages
from coper.telling.words.plausible import job_doubts
from coper.telling.words.standing import unlike_words
from coper.telling.words.typed import typed_file
from coper.units import lengths_in, order_unit

ROUNDS = 3
"""How often the packet is laid out: the job sheet may grow once the letters are in place."""

SCISSORS = "For scissors · "
"""What the foot of a page begins with that is cut up."""


@dataclass(frozen=True, slots=True, eq=False)
class Packet(Collection[Page]):
    """The pages of a packet, each section's made as it is reached, and not kept.

    Attributes
    ----------
    title, paper : str
    sections : tuple of Section
        In the order of work, the job sheet first.
    cut : Pages
        Where all that is cut out is.
    unit : str
        That of the order, in which each section is written.
    progress
        Hears of each section that is drawn.
    """

    title: str
    paper: str
    sections: tuple[Section, ...]
    cut: Pages
    unit: str
    progress: Progress

    def __len__(self) -> int:
        return sum(section.count for section in self.sections)

    def __contains__(self, page: object) -> bool:
        return any(page == one for one in self)

    def __iter__(self) -> Iterator[Page]:
        for section in self.sections:
            first, plan = section.first, section.plan
            self.progress(f"page {page_letter(first)}, {first + 1} of {len(self)}")
            with lengths_in(self.unit):
                yield from compose(
                    section.blocks(self.cut), self.paper, before=first,
                    title=f"{SCISSORS if plan.scissors else ''}{self.title}",
                    after=len(self) - first - section.count)


def packet_pages(shaped: ShapedJob, progress: Progress) -> Packet:
    """The pages of the packet, the job sheet first; ``progress`` hears of each step."""
    job, paper = shaped.job, shaped.job.shop.paper_for()
    plans = tuple(_plans(shaped, progress))
    sheet_of = _job_sheet(shaped, [f"No page: {plan.listed[0][0]}: {plan.lacks}"
                                   for plan in plans if plan.lacks])
    titles = ("Job sheet", *(title for plan in plans for title, _ in plan.listed))
    sheet = sheet_of([f"Page {NO_LETTER}: {title}" for title in titles])
    for _ in range(ROUNDS):
        (first,), _ = laid_out((sheet,), 0, paper)
        sections, cut = laid_out(plans, first.count, paper)
        sheet = sheet_of([line for section in (first, *sections) for line in section.contents()])
        (again,), _ = laid_out((sheet,), 0, paper)
        if again.count == first.count:
            break
    return Packet(job.title, paper, (again, *sections), cut, order_unit(), progress)


def _job_sheet(shaped: ShapedJob, lacking: Sequence[str]) -> Callable[[Sequence[str]], Plan]:
    """From the contents to the job sheet; ``lacking`` is what they end with."""
    job, pieces = shaped.job, shaped.pieces
    ordered, measures = work_order(pieces), _measures(job, pieces)
    cautions = (*job_doubts(job), *map(clash_words, shaped.clashes),
                *unlike_words(job.tubes, pieces), *all_shortages(shaped.cut_list), *SAFETY)

    def plan(contents: Sequence[str]) -> Plan:
        blocks = tuple(job_sheet_blocks(
            job.title, ordered, measures, [*contents, *lacking], cautions, shaped.cut_list.alike,
            job.table.lies == "flat"))
        return Plan((("Job sheet", ""),), lambda _: blocks)

    return plan


def _measures(job: Job, pieces: Iterable[Piece]) -> tuple[str, ...]:
    """What a bicycle measures; nothing where the job has none."""
    if job.bicycle is None:
        return ()
    measures = measure(job.bicycle, [piece.tube for piece in pieces])
    return tuple(f"{words}: {value}" for words, value in measure_words(measures))


def _plans(shaped: ShapedJob, progress: Progress) -> Iterator[Plan]:
    """Every part after the job sheet, in the order of work."""
    job, pieces, paper = shaped.job, shaped.pieces, shaped.job.shop.paper_for()
    progress("cut list")
    yield plan_of("Cut list", lambda: tuple(cut_list_blocks(shaped.cut_list)))
    yield plan_of("Bends", lambda: bends_blocks(
        bend_lists(pieces, job.shop.stretch), job.shop.stretch))
    progress("layout")
    yield plan_of("On the table", lambda: layout_blocks(job_layout(job, pieces), paper))
    yield from tube_plans(shaped, progress)
    progress("clearance and tracking")
    if job.drive != Drive() or (job.bicycle is not None and job.bicycle.wheels):
        yield plan_of("Clearance", lambda: clearance_blocks(
            make_clearances(pieces, job.bicycle, job.drive)))
    yield plan_of("Is it straight?", lambda: _tracking_blocks(job))


def _tracking_blocks(job: Job) -> list[Block]:
    """The log of the job's frame; none where the job does not say what it needs."""
    rear = job_rear_end(job)
    if rear is None:
        return []
    typed = Typed(f"coper tracking {typed_file(job.file)}", job_measures(job))
    return rear_end_log_blocks(rear, typed)
