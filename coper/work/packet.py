"""The files of a job's packet."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from coper.sheets.packet import Tell, packet_pages
from coper.work.sheets import sheet_files

if TYPE_CHECKING:
    from coper.work.job import JobWork


def packet_files(work: JobWork, stem: str, tell: Tell) -> dict[str, bytes]:
    """The packet as one PDF, and as an SVG a page, by their names; nothing is written yet."""
    pages = packet_pages(work.job, work.pieces, work.cut_list, work.cautions, tell)
    tell(f"{len(pages)} pages")
    files = sheet_files(pages, work.job.title, Path(f"{stem}.svg"), Path(f"{stem}.pdf"))
    return {path.name: content for path, content in files.items()}
