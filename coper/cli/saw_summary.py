"""What a person reads on the terminal after ``coper saw``."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from coper.cli.tables import SHOWN_MM
from coper.joint.cautions import SAFETY
from coper.joint.joint import Joint
from coper.joint.saw.kit import SawChoice
from coper.joint.saw.setting import SawSetting
from coper.joint.sides import clock_name
from coper.telling.words.joint import from_axis, title
from coper.units import format_angle, format_gap, format_inches, format_length, format_mm
from coper.work.saw import SawWork


def saw_summary(work: SawWork, written: tuple[Path, ...] = ()) -> Iterator[str]:
    """The lines of the summary: the choice, its setting, then the whole kit."""
    joint, kit = work.order.joint, work.kit
    best = kit.choices[0]
    yield title(joint)
    ways = any(len(choice.passes) > 1 for choice in kit.choices)
    yield f"  take         the saw of {format_length(best.setting.diameter)}{_way(best, ways)}"
    yield f"  gap          {_gap_words(joint, best)}"
    yield from _limit(work, best)
    yield from _setting(joint, best)
    if len(kit.choices) > 1:
        second = kit.choices[1]
        yield (f"  or else      {format_length(second.setting.diameter)}{_way(second, ways)}: "
               f"{_gap_words(joint, second)}")
    yield from _table(work)
    yield from (f"  ! {caution}" for caution in SAFETY)
    yield from (f"wrote {path}" for path in written)


def _way(choice: SawChoice, told: bool) -> str:
    """How many passes, where the kit has a choice of one and of two."""
    if not told:
        return ""
    return ", in two passes" if len(choice.passes) > 1 else ", in one pass"


def _gap_words(joint: Joint, choice: SawChoice) -> str:
    if choice.fit.largest < SHOWN_MM:
        return "none: it cuts the cope itself"
    return (f"{format_gap(choice.fit.largest)} at the most, {_place(choice)}, clock "
            f"{clock_name(joint, choice.fit.largest_clock)}")


def _place(choice: SawChoice) -> str:
    return "at the ears" if choice.where == "ears" else "in the throat"


def _limit(work: SawWork, best: SawChoice) -> Iterator[str]:
    limit = work.order.limit
    if limit is None:
        return
    yield f"  limit        {limit.words()}"
    yield "  GOOD         no gap is above the limit" if best.fit.within(limit.mm) else (
        "  TOO OPEN     no better saw in the kit: use the template, or dress the end where it "
        f"touches, at clock {clock_name(work.order.joint, best.fit.contact_clock)}")


def _setting(joint: Joint, choice: SawChoice) -> Iterator[str]:
    saw, point = choice.setting, choice.long_point
    yield from _passes(joint, choice) if len(choice.passes) > 1 else _only_pass(saw)
    yield (f"  long point   clock {clock_name(joint, point.clock)}, "
           f"{format_length(abs(point.along))} {from_axis(point.along)}")
    speeds = ", ".join(f"{rpm} in {material}" for material, rpm in saw.rpm.items())
    yield f"  rpm          {speeds}"
    depth = "deep enough" if choice.depth_ok else "TOO SHALLOW: cut from both sides"
    yield (f"  depth        {format_mm(choice.depth_needed)} needed, {format_mm(saw.depth)} there: "
           f"{depth}")


def _only_pass(saw: SawSetting) -> Iterator[str]:
    yield (f"  set          {format_angle(saw.set_angle)} from square, "
           f"offset {format_length(saw.offset)}")
    yield f"  saw's axis   {_beyond(saw)} the long point of the cut"


def _passes(joint: Joint, choice: SawChoice) -> Iterator[str]:
    """Both settings, and how to go from the first to the second."""
    first, second = choice.passes
    yield f"  set          {format_angle(first.set_angle)} from square for both passes"
    for name, saw in (("first pass", first), ("second pass", second)):
        yield f"  {name:<11}  saw's axis {_aside(joint, saw)}, {_beyond(saw)} the long point"
    comes = "comes off with the first pass" if first.covers else "hangs on until the second pass"
    yield f"  how          right through both times, the tube clamped all along: the end {comes};"
    yield "               no pilot drill in the second, it finds no metal: use a saw fixture"


def _aside(joint: Joint, saw: SawSetting) -> str:
    """On which side of the tube the saw's axis passes, and how far off the tube's."""
    if abs(saw.offset) < SHOWN_MM:
        return "across the tube's"
    quarters = 3 if (saw.offset > 0) == (joint.angle <= 90) else 1
    side = clock_name(joint, joint.side_clock(quarters))
    return f"{format_length(abs(saw.offset))} off the tube's, to clock {side}"


def _beyond(saw: SawSetting) -> str:
    side = "beyond" if saw.centre_beyond_long_point >= 0 else "short of"
    return f"{format_length(abs(saw.centre_beyond_long_point))} {side}"


def _table(work: SawWork) -> Iterator[str]:
    limit = work.order.limit
    yield "  the kit, best first:"
    for choice in work.kit.choices:
        saw = choice.setting
        place = "" if choice.fit.largest < SHOWN_MM else _place(choice)
        faults = [] if choice.depth_ok else ["too shallow"]
        if limit is not None and not choice.fit.within(limit.mm):
            faults.append("too open")
        good = "deep enough" if limit is None else "good"
        said = (", ".join(faults) or good) + (", in two passes" if choice.passes[1:] else "")
        yield (f"    {format_inches(saw.diameter):<11} {format_mm(saw.diameter):>9}   gap "
               f"{format_mm(choice.fit.largest):>9} {place:<13}  {said}")
    for diameter in work.kit.too_small:
        yield (f"    {format_inches(diameter):<11} {format_mm(diameter):>9}   leaves tube uncut "
               f"in one pass ({format_mm(work.kit.needed)} needed)")
