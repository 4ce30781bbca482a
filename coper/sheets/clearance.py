"""Clearances on paper: a table of the least gaps, the chain, and what published rules ask."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from coper.bicycle.clearance.clearance import Clearances, Gap
from coper.pages.compose import Block, parts
from coper.pages.grid import grid_blocks
from coper.pages.text import column
from coper.telling.grid import Grid
from coper.telling.lines import Fact, sentence
from coper.telling.words.clearance import (
    EXEMPT,
    TWO_REAR,
    chain_words,
    further_words,
    gap_words,
    guidance_words,
    near_rows,
    slot_words,
    swept_words,
    wheel_words,
)
from coper.telling.words.wheel_room import guard_words, wheel_facts

COLUMNS = ("gap", "tube", "axle", "from the tube's start point")


def clearance_blocks(found: Clearances) -> list[Block]:
    """A table for each wheel, for crank and heel, then the wheels' own, chain and guidance."""
    blocks: list[Block] = []
    for wheel in found.wheels:
        heads = [*wheel_words(wheel)]
        if wheel.end == "rear" and found.drive.slot is not None:
            heads.append(slot_words(found.drive.slot))
        blocks += _blocks(wheel.name, heads, [
            gap for gap in found.tyre if gap.part == wheel.name])
    for wheel_name, name, said, gaps in guard_words(found):
        blocks += _blocks(f"mudguard {wheel_name}", [name, said], gaps)
    for name, said, gaps in swept_words(found):
        blocks += _blocks(name, [name, said], gaps)
    blocks += _at_wheels(found)
    if found.chain is not None:
        blocks.append(Block("chain", column("Chain", tuple(chain_words(found.chain)))))
    if found.two_rear:
        blocks.append(Block("clearance not checked", column("Not checked", (TWO_REAR,))))
    if found.guidance:
        lines = (*map(guidance_words, found.guidance), EXEMPT)
        blocks.append(Block("clearance guidance", column("Guidance", lines)))
    return blocks


def _at_wheels(found: Clearances) -> Iterator[Block]:
    """Fork, rim, mudguard and brake of each wheel, a line each."""
    for wheel in found.wheels:
        lines = [line for fact in wheel_facts(found, wheel) for line in _fact_lines(fact)]
        if lines:
            yield Block(f"at wheel {wheel.name}", column(f"At the {wheel.name} wheel",
                                                         tuple(lines)))


def _fact_lines(fact: Fact) -> tuple[str, ...]:
    return f"{fact.name}: {fact.words}", *fact.more


def _blocks(name: str, heads: Sequence[str], gaps: Sequence[Gap]) -> Iterator[Block]:
    """Headings, then a row for each near tube, the smallest gap first."""
    near, further = near_rows(gaps)
    words = (*heads[1:], *further_words(bool(near), further))
    notes = [sentence(one) for one in words]
    head = f"Clearance of the {heads[0]}"
    if not near:
        yield Block(f"clearance {name}", column(head, tuple(notes)))
        return
    rows = [(gap_words(row.gap), row.tube, row.gap.axle, row.place) for row in near]
    kept = [at for at in range(len(COLUMNS)) if any(row[at] for row in rows)]
    grid = Grid(head, tuple(COLUMNS[at] for at in kept),
                tuple(tuple(row[at] for at in kept) for row in rows), " ".join(notes))
    yield from parts(f"clearance {name}", grid_blocks(grid))
