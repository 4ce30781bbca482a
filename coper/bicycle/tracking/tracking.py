"""Whether a rear end stands straight: what the readings at the dropouts say.

``+`` is to the left throughout, as in the frame's axes. The middle plane is that of the head tube
and the seat tube.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from coper.arrays import OneLine
from coper.bicycle.tracking.rear_end import Faces, LeftRight, RearEnd
from coper.bicycle.tracking.skew import Skew, stay_skew
from coper.bicycle.tracking.straight_edge import LaidEdge, StraightEdge, lay
from coper.bicycle.tracking.string_gaps import BENT_STRING, expected_gap, string_faces
from coper.errors import CoperError
from coper.joint.fit.limits import Limit
from coper.shapes.checks import check_size
from coper.units import format_size

DROPOUT_LIMIT = Limit(0.5, "dropout faces", "Barnett's Manual, 5th ed., ch. 8")
"""What a shop works to where it has no limit of its own."""
MOST_LIMIT_MM = 25.0
"""A larger limit is a slip of the decimal point."""
PACK_OUT = ("read again; where the dropout stands beyond the edge, pack the edge out with two "
            "equal blocks")
"""How to mend a reading of the straight edge that cannot be."""

MOST_OUT_MM = 50.0
"""No rear end that goes together is further out: such readings are slips."""


@dataclass(frozen=True, slots=True)
class TrackingReadings:
    """What was read at the frame; ``None`` where it was not.

    Attributes
    ----------
    edge, string : LeftRight or None, mm
    width : float or None, mm
        Between the dropouts' inner faces.
    stays : LeftRight or None, mm
        Lengths of the stays.
    """

    edge: LeftRight | None = None
    string: LeftRight | None = None
    width: float | None = None
    stays: LeftRight | None = None

    def __post_init__(self) -> None:
        for name, pair, cure in (("straight edge", self.edge, PACK_OUT),
                                 ("string", self.string, BENT_STRING)):
            if pair is not None:
                _check_gap(name, "left", pair.left, cure)
                _check_gap(name, "right", pair.right, cure)
        sizes = [] if self.stays is None else [self.stays.left, self.stays.right]
        for size in sizes:
            check_size(size, "stay")
        if self.width is not None:
            check_size(self.width, "width")


def _check_gap(name: str, side: str, gap: float, cure: str) -> None:
    if not (math.isfinite(gap) and gap >= 0):
        raise CoperError(f"{format_size(gap)} on the {side} cannot be a reading", cure, name)


@dataclass(frozen=True, slots=True)
class Rim:
    """How far the rim stands to the left of the middle plane, mm; what was not read counts as true.

    Attributes
    ----------
    middle : float
        Above and below the axle.
    front, rear : float
        At its foremost point, towards the bracket, and at its rearmost.
    """

    middle: float
    front: float
    rear: float


@dataclass(frozen=True, slots=True)
class Check:
    """One measure against the limit.

    Attributes
    ----------
    name : ``off``, ``width`` or ``stays``
    amount : float, mm
    uncertainty : float, mm
        How far it may be wrong by the readings; what a caliper or a tape says is taken as true.
    limit : float, mm
    """

    name: str
    amount: float
    uncertainty: float
    limit: float

    @property
    def ok(self) -> bool:
        """Whether it is within the limit."""
        return abs(self.amount) <= self.limit

    @property
    def close(self) -> bool:
        """Whether the readings leave it open which side of the limit it is on."""
        return abs(abs(self.amount) - self.limit) < self.uncertainty


@dataclass(frozen=True, slots=True, repr=False)
class Tracking(OneLine):
    """What the readings say of a rear end.

    Attributes
    ----------
    rear, readings, limit
        As given.
    laid : LaidEdge
        Where the straight edge passes the dropouts.
    edge, string : Faces or None
        The dropouts by either way of reading.
    faces : Faces or None
        The dropouts by the better of the two.
    skew : Skew or None
    """

    rear: RearEnd
    readings: TrackingReadings
    limit: Limit
    laid: LaidEdge
    edge: Faces | None = None
    string: Faces | None = None
    faces: Faces | None = None
    skew: Skew | None = None

    @property
    def expected_edge(self) -> float:
        """What both readings at the straight edge should be, mm."""
        return self.laid.reading(self.rear.hub / 2)

    @property
    def expected_string(self) -> float | None:
        """What both gaps of the string should be, mm, where it is known."""
        return expected_gap(self.rear)

    @property
    def off(self) -> float | None:
        """How far the rear end stands to the left of the middle plane, mm."""
        return None if self.faces is None else self.faces.off

    @property
    def moves(self) -> LeftRight | None:
        """How far each dropout has to go to the left, mm, for the hub to stand in the middle.

        What was not read counts as true; ``None`` where nothing was read that moves them.
        """
        width = self.readings.width
        if width is None and self.off is None:
            return None
        spread, off = ((width or self.rear.hub) - self.rear.hub) / 2, self.off or 0.0
        return LeftRight(-spread - off, spread - off)

    @property
    def rim(self) -> Rim | None:
        """Where the rim runs; ``None`` where nothing was read that moves it."""
        if self.off is None and self.skew is None:
            return None
        middle, radius = self.off or 0.0, self.rear.rim_radius or 0.0
        swing = 0.0 if self.skew is None else self.skew.swing(radius)
        return Rim(middle, middle + swing, middle - swing)

    @property
    def checks(self) -> tuple[Check, ...]:
        """Every measure that was read, against the limit."""
        limit = self.limit.mm
        made = []
        if self.faces is not None:
            made.append(Check("off", self.faces.off, self.faces.uncertainty, limit))
        if self.readings.width is not None:
            made.append(Check("width", self.readings.width - self.rear.hub, 0.0, limit))
        if self.skew is not None:
            made.append(Check("stays", self.skew.longer, 0.0, limit))
        return tuple(made)

    @property
    def within(self) -> bool:
        """Whether all that was read is within the limit, the readings taken as right."""
        return all(check.ok for check in self.checks)


def track(
    rear: RearEnd, edge: StraightEdge, readings: TrackingReadings, limit: Limit = DROPOUT_LIMIT
) -> Tracking:
    """What ``readings`` say of a rear end.

    Raises
    ------
    CoperError
        Where a reading cannot be, or something it needs is not known.
    """
    _check_slips(rear, readings)
    laid = lay(rear, edge)
    by_edge = None if readings.edge is None else laid.faces(readings.edge)
    by_string = None if readings.string is None else string_faces(rear, readings.string)
    for name, faces in (("straight edge", by_edge), ("string", by_string)):
        if faces is not None:
            _check_faces(name, faces, rear.hub)
    skew = None
    if readings.stays is not None:
        if rear.rim_radius is None:
            raise CoperError("missing, and a skew moves the rim by its radius",
                             "give the wheel's size, such as 47-507, or the rim's radius", "wheel")
        skew = stay_skew(readings.stays, readings.width or rear.hub)
    better = _better(by_edge, by_string, readings.width)
    return Tracking(rear, readings, limit, laid, by_edge, by_string, better, skew)


def own_limit(mm: float) -> Limit:
    """A limit of the shop's own, mm."""
    if not (math.isfinite(mm) and 0 < mm <= MOST_LIMIT_MM):
        raise CoperError(f"{format_size(mm)} cannot be a limit",
                         f"give one above 0 and up to {format_size(MOST_LIMIT_MM)}")
    return Limit(mm, "", "as given")


def _check_slips(rear: RearEnd, readings: TrackingReadings) -> None:
    """Refuse a width or stays that are slips of the pen."""
    if readings.width is not None and abs(readings.width - rear.hub) > MOST_OUT_MM:
        raise CoperError(f"{format_size(readings.width)} between dropouts for a hub of "
                         f"{format_size(rear.hub)}", "measure again, from inner face to inner face",
                         "width")
    if readings.stays is not None and 2 * abs(readings.stays.half_difference) > MOST_OUT_MM:
        raise CoperError("the two lengths are too far apart for the stays of one frame",
                         "measure both again, from places that match", "stays")


def _check_faces(name: str, faces: Faces, hub: float) -> None:
    """Refuse readings that put the dropouts where none can be."""
    for out, what in ((faces.off, "off the middle"), (faces.width - hub, "off the hub's width")):
        if abs(out) > MOST_OUT_MM:
            raise CoperError("the readings put the dropouts "
                             f"{format_size(round(abs(out), 1))} {what}",
                             "read both sides again, and check the measures of the frame", name)


def _better(edge: Faces | None, string: Faces | None, width: float | None) -> Faces | None:
    """The straight edge's, which is read at the dropout itself, unless the width contradicts it."""
    if edge is None or string is None:
        return edge or string
    if width is None or not misread(edge, width) or misread(string, width):
        return edge
    return string


def misread(faces: Faces, width: float) -> bool:
    """Whether the two readings cannot both be right, the dropouts being ``width`` mm apart."""
    return abs(faces.width - width) > 2 * faces.uncertainty
