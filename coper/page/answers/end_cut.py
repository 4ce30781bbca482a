"""How an end is cut at its wall: bevelled or square, which the file says."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from coper.errors import CoperError
from coper.frame.tube import Which
from coper.job.edit import Edit, edited
from coper.job.named_end import check_side, find_tube
from coper.joint.template import CUTS
from coper.page.answers.change import Change, job_in, whole
from coper.page.answers.named import NO_SIDE
from coper.sheets.joint_notes import CUT_WORDS

CUT: Final = "cut"


@dataclass(frozen=True, slots=True)
class CutShown:
    """The choice as it is shown.

    Attributes
    ----------
    typed : str
        What is chosen.
    was : str
        What the file has; empty where the end has no choice.
    words : tuple of str
        What each means.
    wrong : tuple of str
        Why the choice is not written.
    choices : tuple of str
    """

    typed: str = ""
    was: str = ""
    words: tuple[str, ...] = ()
    wrong: tuple[str, ...] = ()
    choices: tuple[str, ...] = CUTS


def cut_shown(
    text: str, tube: str, side: str, which: Which, change: Change | None = None
) -> CutShown:
    """The cut of an end: one that seats on nothing has no choice."""
    try:
        plan = find_tube(job_in(text), tube)
    except CoperError:
        return CutShown()
    end = plan.start if which == "start" else plan.end
    if not end.on:
        return CutShown()
    typed = end.cut if change is None else change.typed.get(CUT, end.cut)
    faults = () if change is None else change.faults
    wrong = tuple(str(CoperError(fault.fault, fault.cure)) for fault in faults)
    if typed != end.cut and not wrong:
        wrong = ("not written: see above",)
    both = ("Left and right are cut alike.",) if plan.mirror else ()
    return CutShown(typed, end.cut, (*(f"{cut}: {CUT_WORDS[cut]}" for cut in CUTS), *both), wrong)


def cut_changed(
    text: str, tube: str, side: str, which: Which, typed: Mapping[str, str]
) -> Change:
    """The text with another cut of an end, where it still loads.

    Raises
    ------
    CoperError
        Where there is no such tube.
    """
    if CUT not in typed:
        return Change(text, {})
    check_side(find_tube(job_in(text), tube), None if side == NO_SIDE else side, which)
    edit = Edit(CUT, typed[CUT], "on")
    return whole(text, typed, lambda: edited(text, ("tubes", tube, which), [edit]))
