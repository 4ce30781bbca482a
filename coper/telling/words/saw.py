"""A saw kit in words: which saw to use, how to set it, what the others would leave."""

from __future__ import annotations

from collections.abc import Iterator

from coper.joint.fit.limits import Limit
from coper.joint.joint import Joint
from coper.joint.saw.kit import SawChoice, SawKit
from coper.joint.saw.setting import SawSetting, too_shallow
from coper.joint.sides import clock_name
from coper.telling.cells import SHOWN_MM, length_cells, length_heads, short_cell, stretch_words
from coper.telling.grid import Cells, Grid
from coper.telling.lines import Fact
from coper.telling.words.joint import from_axis
from coper.units import first_unit, format_angle, format_gap, format_length, format_short


def choice_facts(joint: Joint, kit: SawKit, limit: Limit | None) -> Iterator[Fact]:
    """The best choice with its setting, and the runner-up; or why none of the saws will do."""
    best = kit.choices[0]
    if not best.reaches:
        short = too_shallow(best.depth_needed, best.setting.depth)
        yield Fact("NO SAW", short.fault)
        yield Fact("instead", short.cure)
        return
    yield Fact("take", f"saw {_saw_words(kit, best)}")
    yield Fact("gap", _gap_words(joint, best))
    if limit is not None:
        yield Fact("limit", limit.words())
        yield Fact("GOOD", "no gap is above the limit") if best.fit.within(limit.mm) else Fact(
            "TOO OPEN", "no better setting of the kit's saws was found, sideways or in two passes: "
            "use the template, or dress the end where it touches, at clock "
            f"{clock_name(joint, best.fit.contact_clock)}")
    yield from _setting_facts(joint, best)
    if len(kit.choices) > 1 and kit.choices[1].reaches:
        second = kit.choices[1]
        yield Fact("or else", f"{_saw_words(kit, second)}: {_gap_words(joint, second)}")


def _saw_words(kit: SawKit, choice: SawChoice) -> str:
    """The saw's size, and how many passes where the kit has a choice of one and of two."""
    size = format_length(choice.setting.diameter)
    if choice.aside:
        size += ", moved sideways"
    if choice.slivers:
        size += ", and a file"
    if all(len(other.passes) == 1 for other in kit.choices):
        return size
    return f"{size}, in {'two passes' if len(choice.passes) > 1 else 'one pass'}"


def _gap_words(joint: Joint, choice: SawChoice) -> str:
    if choice.fit.largest < SHOWN_MM:
        return "none: it cuts the cope exactly"
    return (f"{format_gap(choice.fit.largest)} at most, {_where(choice)}, clock "
            f"{clock_name(joint, choice.fit.largest_clock)}")


def _where(choice: SawChoice) -> str:
    return "at the ears" if choice.where == "ears" else "in the throat"


def _setting_facts(joint: Joint, choice: SawChoice) -> Iterator[Fact]:
    saw, point = choice.setting, choice.long_point
    yield from _passes(joint, choice) if len(choice.passes) > 1 else _only_pass(saw)
    if choice.aside and choice.level is not None:
        yield Fact("moved", f"{format_length(abs(choice.aside))} off the main's axis, to clock "
                   f"{_side_name(joint, choice.aside)}: level with it the gap would be "
                   f"{format_gap(choice.level)}")
    if choice.slivers:
        yield Fact("file", f"through at {stretch_words(choice.slivers)}: the saw covers all but "
                   "those, and the end hangs on by them")
    yield Fact("long point", f"clock {clock_name(joint, point.clock)}, "
               f"{format_length(abs(point.along))} {from_axis(joint, point.along)}")
    yield Fact("rpm", ", ".join(f"{rpm} in {material}" for material, rpm in saw.rpm.items()))
    depth = "deep enough" if choice.depth_ok else "TOO SHALLOW: cut from both sides"
    yield Fact("depth", f"{format_short(choice.depth_needed)} needed, "
               f"{format_short(saw.depth)} available: {depth}")


def _only_pass(saw: SawSetting) -> Iterator[Fact]:
    yield Fact("set", f"{format_angle(saw.set_angle)} from square, "
               f"offset {format_length(saw.offset)}")
    yield Fact("saw's axis", f"{_beyond(saw)} the long point of the cut")


def _passes(joint: Joint, choice: SawChoice) -> Iterator[Fact]:
    """Both settings, and how to go from the first to the second."""
    first, second = choice.passes
    yield Fact("set", f"{format_angle(first.set_angle)} from square for both passes")
    for name, saw in (("first pass", first), ("second pass", second)):
        yield Fact(name, f"saw's axis {_aside(joint, saw)}, {_beyond(saw)} the long point")
    comes = "comes off with the first pass" if first.covers else "hangs on until the second pass"
    way = ("right through both times without unclamping the tube" if choice.depth_ok
           else "each pass as deep as it goes, then both again from the other side")
    yield Fact(
        "how", f"{way}: the end {comes};",
        ("no pilot drill in the second pass, it has no metal to bite: use a saw fixture",))


def _aside(joint: Joint, saw: SawSetting) -> str:
    """The side of the tube that the saw's axis passes on, and how far off the tube's."""
    if abs(saw.offset) < SHOWN_MM:
        return "across the tube's"
    return (f"{format_length(abs(saw.offset))} off the tube's, to clock "
            f"{_side_name(joint, saw.offset)}")


def _side_name(joint: Joint, offset: float) -> str:
    """The side of the tube on which an axis lies that has this offset, mm, from it."""
    quarters = 3 if (offset > 0) == (joint.angle <= 90) else 1
    return clock_name(joint, joint.side_clock(quarters))


def _beyond(saw: SawSetting) -> str:
    side = "beyond" if saw.centre_beyond_long_point >= 0 else "short of"
    return f"{format_length(abs(saw.centre_beyond_long_point))} {side}"


def side_word(sideways: float) -> str:
    """To which side a saw's axis lies, mm to the right looking at the end; empty where it is level.

    It stands after a length.
    """
    if abs(sideways) < SHOWN_MM:
        return ""
    return " right" if sideways > 0 else " left"


def kit_table(kit: SawKit, limit: Limit | None) -> Grid:
    """Every saw: what gap it leaves and where, and what is wrong with it."""
    small = f"leaves tube uncut in one pass ({format_short(kit.needed)} needed)"
    return Grid(
        "The kit", (*length_heads("saw"), f"gap {first_unit()}", "where", "verdict"),
        (*(_row(choice, limit) for choice in kit.choices),
         *((*length_cells(diameter), "", "", small) for diameter in kit.too_small)),
        "Best first.")


def _row(choice: SawChoice, limit: Limit | None) -> Cells:
    if not choice.reaches:
        return (*length_cells(choice.setting.diameter), "", "", "too shallow, even from both sides")
    where = "" if choice.fit.largest < SHOWN_MM else _where(choice)
    return (*length_cells(choice.setting.diameter), short_cell(choice.fit.largest), where,
            _verdict(choice, limit))


def _verdict(choice: SawChoice, limit: Limit | None) -> str:
    faults = [] if choice.depth_ok else ["from both sides"]
    if limit is not None and not choice.fit.within(limit.mm):
        faults.append("too open")
    good = "deep enough" if limit is None else "good"
    how = [words for words, is_so in (("moved sideways", choice.aside), ("file", choice.slivers),
                                      ("in two passes", choice.passes[1:])) if is_so]
    return ", ".join((*(faults or (good,)), *how))
