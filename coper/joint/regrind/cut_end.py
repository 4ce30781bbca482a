"""How the end was cut that is fitted: what gap of it is no fault."""

from __future__ import annotations

from collections.abc import Sequence

from coper.errors import JointError
from coper.joint.fit.face import Bevelled, Face, cut_face, left_uncut, pass_face
from coper.joint.fit.passes import Pass
from coper.joint.joint import Joint
from coper.joint.saw.place import place_on
from coper.joint.template import CUTS
from coper.shapes.checks import check_size
from coper.tolerances import TOUCH_MM
from coper.units import format_size

SAWN = "saw"
"""The name of the third way to cut."""


def end_face(joint: Joint, cut: str, passes: Sequence[Pass] = ()) -> Face:
    """The face of a ``bevelled`` or ``square`` cut, or of the ``passes`` of a ``saw``.

    The passes are right to each other; together they stand where the seated branch ends up where
    the design puts it, as :mod:`coper.joint.saw` sets them.

    Raises
    ------
    JointError
        Where the cut is none of these, or the saw leaves tube uncut.
    """
    if cut in CUTS and not passes:
        return cut_face(joint, cut)
    if cut != SAWN or not passes:
        raise JointError(f"{cut!r} is no cut", "known are bevelled, square, saw=DIAMETER", "cut")
    for one in passes:
        check_size(one.diameter, "saw")
    _check_whole(pass_face(joint, passes), passes)
    return place_on(joint).cut(passes).face


def _check_whole(face: Bevelled, passes: Sequence[Pass]) -> None:
    """Refuse passes between which part of the tube is left."""
    left = left_uncut(face)
    if left > TOUCH_MM:
        raise JointError(f"a saw of {format_size(passes[0].diameter)} set so leaves part of the "
                         "tube uncut",
                         "give the cut as it was made, or leave it out", "cut")
