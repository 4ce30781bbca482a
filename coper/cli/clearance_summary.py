"""What a person reads on the terminal after ``coper clearance``."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from coper.bicycle.clearance.clearance import Gap
from coper.telling.words.clearance import (
    EXEMPT,
    NEAR_MM,
    ClearanceRow,
    chain_words,
    gap_words,
    guidance_words,
    near_rows,
    place_words,
    point_words,
    slot_words,
    swept_words,
    wheel_words,
)
from coper.units import format_mm
from coper.work.clearance import ClearanceWork


def clearance_summary(work: ClearanceWork) -> Iterator[str]:
    """The lines of the summary: wheels, cranks and heels, the chain, then limits."""
    found = work.found
    if work.job.title:
        yield work.job.title
    yield "least gaps to the outside of each tube; places count from its start point"
    for wheel in found.wheels:
        yield ""
        yield ": ".join(wheel_words(wheel))
        if wheel.name == "rear" and found.drive.slot is not None:
            yield f"  {slot_words(found.drive.slot)}"
        yield from _rows([gap for gap in found.tyre if gap.part == wheel.name])
    for name, said, gaps in swept_words(found):
        yield from ("", f"{name}: {said}", *_rows(gaps))
    if found.chain is not None:
        first, *rest = chain_words(found.chain)
        yield from ("", f"chain: {first}", *(f"  {line}" for line in rest))
    yield from _limits(work)
    yield from (f"! {name} is left out: the job does not say how wide a plate is"
                for name in found.left_out)


def _rows(gaps: Sequence[Gap]) -> Iterator[str]:
    near, further = near_rows(gaps)
    tubes = max((len(row.tube) for row in near), default=0)
    axles = max((len(row.gap.axle) for row in near), default=0)
    yield from (_row(row, tubes, axles) for row in near)
    if further:
        tube = "more tube stands" if near and further == 1 else "more tubes stand" if near else (
            "tube stands" if further == 1 else "tubes stand")
        yield f"  {further} {tube} further off than {format_mm(NEAR_MM)}"


def _row(row: ClearanceRow, tubes: int, axles: int) -> str:
    axle = f"{row.gap.axle:<{axles}}  " if axles else ""
    return (f"  {gap_words(row.gap):<22}  {row.tube:<{tubes}}  {axle}{place_words(row.gap)}: "
            f"{point_words(row.gap)}")


def _limits(work: ClearanceWork) -> Iterator[str]:
    guidance = work.found.guidance
    if guidance or work.limit is not None:
        yield ""
    yield from (f"guide  {guidance_words(one)}" for one in guidance)
    if guidance:
        yield f"  {EXEMPT}"
    if work.limit is None:
        return
    below = [gap for gap in work.found.gaps if not gap.clears(work.limit)]
    tubes = sorted({gap.tube for gap in below})
    said = f"TOO NEAR  {', '.join(tubes)}" if below else "GOOD  every gap is at least that"
    yield f"limit  {format_mm(work.limit)}: {said}"
