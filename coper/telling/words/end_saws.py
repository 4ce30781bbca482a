"""Each saw of a kit by itself at an end of a job: how it is set, and what gap it leaves."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from coper.bench.setup import EndSetup, SawCut, SawPass
from coper.joint.fit.limits import Limit
from coper.telling.cells import SHOWN_MM, bare, gap_cells, gap_heads, length_cells, length_heads
from coper.telling.grid import Cells, Grid
from coper.telling.words.saw import side_word
from coper.units import first_unit, format_angle, format_short


def end_saws_table(
    setups: Sequence[tuple[float, EndSetup]], limit: Limit | None, material: str | None
) -> Grid:
    """The table.

    Parameters
    ----------
    setups
        Each saw's diameter in mm, and the end set up with that saw alone.
    limit
        The largest gap that is still good.
    material
        What is cut, where it is known.
    """
    unit = first_unit()
    speed = f"rpm in {material}" if material else "rpm in mild steel"
    return Grid(
        "The saws", (*length_heads("saw"), *gap_heads("largest gap"), "verdict",
                     "angle from square", f"offset {unit}", f"beyond long point {unit}",
                     f"depth {unit}", speed),
        tuple((*length_cells(saw), *_cells(setup, limit, material or "mild steel"))
              for saw, setup in setups),
        "Each saw of the shop by itself. Right and left are seen looking at the end, heel up; the "
        "saw's axis lies so far beyond the long point of its cut.")


def _cells(setup: EndSetup, limit: Limit | None, material: str) -> Cells:
    if setup.sawn is None:
        return "", "", next(cut.reason for cut in setup.cuts if cut.reason), *("",) * 5
    return (*gap_cells(setup.sawn.largest), ", ".join(_verdict(setup, limit)),
            _each(setup, lambda one: format_angle(abs(one.setting.set_angle))),
            _each(setup, _offset),
            _each(setup, lambda one: bare(format_short(one.setting.centre_beyond_long_point))),
            _each(setup, lambda one: bare(format_short(one.setting.depth_needed))),
            _each(setup, lambda one: str(one.setting.rpm[material])))


def _each(setup: EndSetup, words: Callable[[SawPass], str]) -> str:
    """What is set for each pass of each cut; once where it is the same for all."""
    return " / ".join(dict.fromkeys(words(one) for cut in setup.cuts for one in cut.passes))


def _offset(one: SawPass) -> str:
    if abs(one.sideways) < SHOWN_MM:
        return "none"
    return f"{bare(format_short(abs(one.sideways)))}{side_word(one.sideways)}"


def _verdict(setup: EndSetup, limit: Limit | None) -> list[str]:
    passes = [one for cut in setup.cuts for one in cut.passes]
    said = [] if all(one.setting.depth_ok for one in passes) else ["from both sides"]
    if limit is not None:
        assert setup.sawn is not None
        said.append("good" if setup.sawn.within(limit.mm) else "too open")
    how = {"in two passes": any(len(cut.passes) > 1 for cut in setup.cuts),
           "moved sideways": any(_moved(cut) for cut in setup.cuts),
           "and a file": any(cut.slivers for cut in setup.cuts)}
    return [*said, *(words for words, is_so in how.items() if is_so)]


def _moved(cut: SawCut) -> bool:
    """Whether its only pass stands off the main's axis."""
    return len(cut.passes) == 1 and abs(cut.passes[0].cut.offset - cut.joint.offset) >= SHOWN_MM
