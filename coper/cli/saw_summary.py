"""What a person reads on the terminal after ``coper saw``."""

from __future__ import annotations

from collections.abc import Iterator

from coper.cli.tables import SHOWN_MM
from coper.joint.cautions import WORK
from coper.joint.describe import clock_name, from_axis, title
from coper.joint.joint import Joint
from coper.joint.saw_kit import SawChoice
from coper.units import format_angle, format_inches, format_length, format_mm
from coper.work.saw import SawWork


def saw_summary(work: SawWork) -> Iterator[str]:
    """The lines of the summary: the choice, its setting, then the whole kit."""
    joint, kit = work.order.joint, work.kit
    best = kit.choices[0]
    yield title(joint)
    yield f"  take         the saw of {format_length(best.setting.diameter)}"
    yield f"  gap          {_gap_words(joint, best)}"
    yield from _limit(work, best)
    yield from _setting(joint, best)
    if len(kit.choices) > 1:
        second = kit.choices[1]
        yield (f"  or else      {format_length(second.setting.diameter)}: "
               f"{_gap_words(joint, second)}")
    yield from _table(work)
    yield from (f"  ! {caution}" for caution in WORK)


def _gap_words(joint: Joint, choice: SawChoice) -> str:
    if choice.fit.largest < SHOWN_MM:
        return "none: it cuts the cope itself"
    return (f"{format_length(choice.fit.largest)} at the most, {_place(choice)}, clock "
            f"{clock_name(joint, choice.fit.largest_clock)}")


def _place(choice: SawChoice) -> str:
    return "at the ears" if choice.where == "ears" else "in the throat"


def _limit(work: SawWork, best: SawChoice) -> Iterator[str]:
    limit = work.order.limit
    if limit is None:
        return
    said = ", ".join(filter(None, (limit.process, limit.source)))
    yield f"  limit        {format_mm(limit.mm)} ({said})"
    yield "  GOOD         no gap is above the limit" if best.fit.within(limit.mm) else (
        "  TOO OPEN     no better saw in the kit: use the template, or dress the end where it "
        f"touches, at clock {clock_name(work.order.joint, best.fit.contact_clock)}")


def _setting(joint: Joint, choice: SawChoice) -> Iterator[str]:
    saw, point = choice.setting, choice.long_point
    yield (f"  set          {format_angle(saw.set_angle)} from square, "
           f"offset {format_length(saw.offset)}")
    side = "beyond" if saw.centre_beyond_long_point >= 0 else "short of"
    yield (f"  saw's axis   {format_length(abs(saw.centre_beyond_long_point))} {side} the long "
           "point of the cut")
    yield (f"  long point   clock {clock_name(joint, point.clock)}, "
           f"{format_length(abs(point.along))} {from_axis(point.along)}")
    speeds = ", ".join(f"{rpm} in {material}" for material, rpm in saw.rpm.items())
    yield f"  rpm          {speeds}"
    depth = "deep enough" if saw.depth_ok else "TOO SHALLOW: cut from both sides"
    yield (f"  depth        {format_mm(saw.depth_needed)} needed, {format_mm(saw.depth)} there: "
           f"{depth}")


def _table(work: SawWork) -> Iterator[str]:
    limit = work.order.limit
    yield "  the kit, best first:"
    for choice in work.kit.choices:
        saw = choice.setting
        place = "" if choice.fit.largest < SHOWN_MM else _place(choice)
        faults = [] if saw.depth_ok else ["too shallow"]
        if limit is not None and not choice.fit.within(limit.mm):
            faults.append("too open")
        said = ", ".join(faults) or "good"
        yield (f"    {format_inches(saw.diameter):<11} {format_mm(saw.diameter):>9}   gap "
               f"{format_mm(choice.fit.largest):>9} {place:<13}  {said}")
    for diameter in work.kit.too_small:
        yield (f"    {format_inches(diameter):<11} {format_mm(diameter):>9}   leaves tube uncut "
               f"({format_mm(work.kit.needed)} needed)")
