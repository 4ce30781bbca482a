"""How many pages templates may have: counted before any is made."""

from __future__ import annotations

from collections.abc import Iterable

from coper.errors import JointError
from coper.pages.compose import Block, tiles_needed

MOST_PAGES = 60
"""A template of an end on more pages than this is a typing slip, or a job for a roll."""


def check_pages(
    blocks: Iterable[Block], paper: str, printer: tuple[float, float], cure: str, where: str,
    ends: int = 1,
) -> None:
    """Refuse the templates of so many ``ends`` if they are cut into too many pages.

    Raises
    ------
    JointError
        It says how many there would be, and ``cure``, at ``where``.
    """
    count, most = tiles_needed(blocks, paper, printer), MOST_PAGES * ends
    if count > most:
        raise JointError(f"the template needs about {count}, more than {most} pages of {paper}",
                         cure, where)
