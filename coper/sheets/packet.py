"""The packet of a job: everything to print and take to the bench, in the order of work."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate

from coper.bicycle.measures import measure
from coper.drawing.page import Page
from coper.frame.order import work_order
from coper.frame.piece import Piece
from coper.job.job import Job
from coper.job.shaped import ShapedJob
from coper.joint.cautions import SAFETY
from coper.joint.steps import Progress
from coper.pages.code import code_of
from coper.pages.compose import Block, compose, page_count
from coper.pages.paper import page_letter
from coper.sheets.contents import with_contents
from coper.sheets.job_sheet import job_sheet_blocks
from coper.sheets.packet_parts import Section, packet_sections
from coper.telling.words.bicycle import measure_words
from coper.telling.words.clash import clash_words
from coper.telling.words.cut_list import all_shortages
from coper.telling.words.pages import lacking_words, pages_words
from coper.telling.words.standing import unlike_words
from coper.telling.words.typed import typed_file
from coper.units import lengths_in, order_unit

FIRST = "Job sheet"

DRAFTS = 3
"""How often the pages of the job sheet are counted: it may grow once the letters are in place."""


@dataclass(frozen=True, slots=True, eq=False)
class Packet(Collection[Page]):
    """The pages of a packet, each section's made as it is reached, and not kept.

    Attributes
    ----------
    job : Job
        Its title, its shop's paper and printer.
    sections : tuple of Section
        In the order of work, the job sheet first.
    unit : str
        That of the order, in which each section is written.
    progress
        Hears of each section that is drawn.
    """

    job: Job
    sections: tuple[Section, ...]
    unit: str
    progress: Progress

    def __len__(self) -> int:
        return sum(section.pages for section in self.sections)

    def __contains__(self, page: object) -> bool:
        return any(page == one for one in self)

    def __iter__(self) -> Iterator[Page]:
        shop, code = self.job.shop, job_code(self.job)
        before = 0
        for section in self.sections:
            self.progress(f"page {page_letter(before)}, {before + 1} of {len(self)}")
            with lengths_in(self.unit):
                pages = compose(
                    section.make(), shop.paper_for(), shop.printer, title=self.job.title,
                    before=before, after=len(self) - before - section.pages, code=code,
                    opens=section.title)
            yield from pages
            before += section.pages


def job_code(job: Job) -> str:
    """The code of all that a job says; its file may have any name, and any remarks."""
    return code_of(replace(job, file="", text=""))


def packet_pages(shaped: ShapedJob, progress: Progress) -> Packet:
    """The pages of the packet, the job sheet first; ``progress`` hears of each step."""
    job = shaped.job
    found = tuple(packet_sections(shaped, progress))
    sections = [section for section in found if section.pages]
    lacking = [f"No page: {section.title}: {section.lacks}" for section in found if section.lacks]
    first = _job_sheet(shaped, sections, lacking)
    return Packet(job, (first, *sections), order_unit(), progress)


def _job_sheet(
    shaped: ShapedJob, sections: Sequence[Section], lacking: Sequence[str]
) -> Section:
    """The job sheet, with the letters of all pages; it counts its own among them."""
    job, shop = shaped.job, shaped.job.shop
    blocks = tuple(job_sheet_blocks(
        job.title, work_order(shaped.pieces), _measures(job, shaped.pieces), _cautions(shaped),
        shaped.cut_list.alike, f"coper job {typed_file(job.file)}", job.table.lies == "flat"))
    count, made = 1, list[Block]()
    for _ in range(DRAFTS):
        counts = (count, *(section.pages for section in sections))
        titles = (FIRST, *(section.title for section in sections))
        contents = [pages_words(page_letter(start), page_letter(start + pages - 1), title)
                    for title, start, pages in zip(titles, accumulate(counts, initial=0), counts,
                                                   strict=False)]
        made = with_contents(blocks, (*contents, *lacking), shop.paper_for(), shop.printer)
        needed = page_count(made, shop.paper_for(), shop.printer)
        if needed == count:
            break
        count = needed
    return Section(FIRST, lambda: made, count)


def _cautions(shaped: ShapedJob) -> tuple[str, ...]:
    """What was probably forgotten in the job, then what no lettering has, then those of all."""
    names = (shaped.job.title, *(piece.label for piece in shaped.pieces))
    return (*map(clash_words, shaped.clashes), *unlike_words(shaped.job.tubes, shaped.pieces),
            *all_shortages(shaped.cut_list), *lacking_words(names), *SAFETY)


def _measures(job: Job, pieces: Iterable[Piece]) -> tuple[str, ...]:
    """What a bicycle measures; nothing where the job has none."""
    if job.bicycle is None:
        return ()
    measures = measure(job.bicycle, [piece.tube for piece in pieces])
    return tuple(f"{words}: {value}" for words, value in measure_words(measures))
