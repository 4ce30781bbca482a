"""Clearances on paper: a table of the least gaps, the chain, and what published rules ask."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from coper.frame.clearance.clearance import Clearances, Gap
from coper.frame.clearance.words import (
    EXEMPT,
    NEAR_MM,
    chain_words,
    gap_words,
    guidance_words,
    near_rows,
    place_words,
    slot_words,
    swept_words,
    wheel_words,
)
from coper.paper.letters import shortened
from coper.paper.marks import FINE, NOTE_HEIGHT, PLAIN_HEIGHT, THIN, Mark, Path, Text
from coper.paper.notes import LEADING, column
from coper.paper.pages import Block
from coper.units import format_mm

COLUMNS_MM = (0.0, 42.0, 92.0, 124.0)
"""Where gap, tube, axle and place begin."""

HEADS = ("gap", "tube", "axle", "from the tube's start point")

WIDE_MM = 172.0
"""Width of the table: it stands upright on the narrowest page."""

ROW_MM = LEADING * NOTE_HEIGHT


def clearance_blocks(found: Clearances) -> list[Block]:
    """A table a wheel, one for crank and one for heel, then the chain and the guidance."""
    blocks = []
    for wheel in found.wheels:
        heads = [*wheel_words(wheel)]
        if wheel.name == "rear" and found.drive.slot is not None:
            heads.append(slot_words(found.drive.slot))
        gaps = [gap for gap in found.tyre if gap.part == wheel.name]
        blocks.append(Block(f"clearance {wheel.name}", _table(heads, gaps), keep_upright=True))
    blocks += [Block(f"clearance {name}", _table([name, said], gaps), keep_upright=True)
               for name, said, gaps in swept_words(found)]
    if found.chain is not None:
        blocks.append(Block("chain", column("Chain", tuple(chain_words(found.chain)))))
    if found.guidance:
        lines = (*map(guidance_words, found.guidance), EXEMPT)
        blocks.append(Block("clearance guidance", column("Guidance", lines)))
    return blocks


def _table(heads: Sequence[str], gaps: Sequence[Gap]) -> tuple[Mark, ...]:
    """Headings, then a row a near tube, the least gap at the top; its top at ``y`` 0."""
    near, further = near_rows(gaps)
    y = -PLAIN_HEIGHT
    head = f"Clearance of the {heads[0]}"
    marks: list[Mark] = [Text((0.0, y), head, PLAIN_HEIGHT, bold=True)]
    for words in heads[1:]:
        y -= ROW_MM
        marks.append(Text((0.0, y), words.capitalize(), NOTE_HEIGHT))
    if near:
        y -= 1.5 * ROW_MM
        axle = HEADS[2] if near[0].gap.axle else ""
        marks += _cells((*HEADS[:2], axle, HEADS[3]), y)
    y -= LEADING
    marks.append(Path(np.array(((0.0, y), (WIDE_MM, y))), THIN))
    for row in near:
        y -= ROW_MM
        cells = (gap_words(row.gap), row.tube, row.gap.axle, place_words(row.gap))
        marks += _cells(cells, y)
        marks.append(Path(np.array(((0.0, y - LEADING / 2), (WIDE_MM, y - LEADING / 2))), FINE))
    if further:
        y -= ROW_MM
        marks.append(Text((0.0, y), f"Further off than {format_mm(NEAR_MM)}: {further}",
                          NOTE_HEIGHT))
    return tuple(marks)


def _cells(cells: Sequence[str], y: float) -> list[Mark]:
    """One row; what does not fit its column is shortened."""
    ends = (*COLUMNS_MM[1:], WIDE_MM + ROW_MM)
    return [Text((left, y), shortened(words, end - left - NOTE_HEIGHT, NOTE_HEIGHT), NOTE_HEIGHT)
            for words, left, end in zip(cells, COLUMNS_MM, ends, strict=True) if words]
