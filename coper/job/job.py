"""A job: what a person wants built, read and checked."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from coper.arrays import OneLine, Point
from coper.bench.cut_list.stock import KERF_MM, Rack
from coper.bench.layout.table import Lies
from coper.bicycle.bicycle import Bicycle
from coper.bicycle.change import Change
from coper.bicycle.clearance.drive import Drive
from coper.bicycle.measured import Measured
from coper.job.doubt import UnitsDoubt
from coper.job.papers import TRUE_PRINTER, a_paper
from coper.joint.template import Cut
from coper.shapes.read import Shape


@dataclass(frozen=True, slots=True)
class Shop:
    """What the shop works with; ``None`` and empty where the job does not say.

    Attributes
    ----------
    process : str or None
    gap_limit : float or None, mm
    saws, blocks : tuple of float, mm
    paper : str or None
    limits : dict of process to mm
        The shop's own limits, used before those of the table.
    depth : float or None, mm
        Cutting depth of the saws.
    material : str or None
        What is cut, one of ``RPM_AT_ONE_INCH``.
    kerf : float, mm
        What the saw turns to dust.
    allowance : float, mm
        What is left on at each end of a blank for dressing.
    stretch : float, mm
        What a bend of 90 degrees comes out longer than its centreline, on the shop's own bender.
    roll : float or None, mm
        How wide the shop's roll of paper is.
    printer : (across, along), mm
        What the check bars of an uncorrected print measured.
    """

    process: str | None = None
    gap_limit: float | None = None
    saws: tuple[float, ...] = ()
    paper: str | None = None
    blocks: tuple[float, ...] = ()
    limits: dict[str, float] = field(default_factory=dict)
    depth: float | None = None
    material: str | None = None
    kerf: float = KERF_MM
    allowance: float = 0.0
    stretch: float = 0.0
    roll: float | None = None
    printer: tuple[float, float] = TRUE_PRINTER

    def paper_for(self, asked: str | None = None) -> str:
        """What pages are composed for: the paper ``asked`` for, or the shop's own, or A4."""
        return a_paper(asked or self.paper, self.roll)

    def printing(self, asked: tuple[float, float] | None) -> Shop:
        """The shop with the printer ``asked`` for, its own where ``None``."""
        return self if asked is None else replace(self, printer=asked)


@dataclass(frozen=True, slots=True)
class TablePlan:
    """How the frame is laid on the table; ``None`` where the job does not say.

    Attributes
    ----------
    lies : str
        On its right side, or flat.
    origin : (from the left end, from the front edge) or None, mm
        Where the frame's origin stands.
    plane : float or None, mm
        Height above the table: of the frame's middle plane; of its lowest point where it is flat.
    """

    lies: Lies = "on its right side"
    origin: tuple[float, float] | None = None
    plane: float | None = None


@dataclass(frozen=True, slots=True)
class EndPlan:
    """One end of a tube: its point, and how it is cut; straight across where nothing is said.

    Attributes
    ----------
    at : (x, y, z), mm
    on : tuple of str
        Names of tubes that it seats on.
    cut : ``bevelled`` or ``square``
    back : float, mm
        How far short of the point a plain end is cut off.
    mitre : str
        Name of the tube that it is mitred with; empty where there is none, or that one says it.
    face : (x, y, z) or None
        The way that a plane it is cut along looks, of any length.
    twin : bool
        Whether it is mitred with its own twin.
    cap : float, mm
        Thickness of the plate that closes it; 0 for none.
    """

    at: Point
    on: tuple[str, ...] = ()
    cut: Cut = "bevelled"
    back: float = 0.0
    mitre: str = ""
    face: Point | None = None
    twin: bool = False
    cap: float = 0.0

    @property
    def how(self) -> str:
        """The key that says how it is cut, empty where it is plain."""
        ways = {"on": self.on, "mitre": self.mitre, "face": self.face, "twin": self.twin}
        return next((key for key, value in ways.items() if value), "")


@dataclass(frozen=True, slots=True)
class TubePlan:
    """One tube of a job, its twin with it where ``mirror`` says so; ``turn`` in degrees.

    ``turn_given`` is whether the job says which way it lies.
    A tube that is bent on its way has the points ``corners`` where its straight axes would meet,
    and the radius in mm of its centreline at each of them.
    One that is ``existing`` stands already: it seats on nothing and is never cut.
    """

    name: str
    shape: Shape
    start: EndPlan
    end: EndPlan
    turn: float = 0.0
    mirror: bool = False
    existing: bool = False
    corners: tuple[Point, ...] = ()
    radii: tuple[float, ...] = ()
    turn_given: bool = False


@dataclass(frozen=True, slots=True, repr=False)
class Job(OneLine):
    """A whole job; lengths are in mm whatever the file's unit was.

    Attributes
    ----------
    title : str
    units : str
        The unit of the file's bare numbers.
    points : dict of name to (x, y, z), mm
    tubes : tuple of TubePlan, in the file's order
    bicycle : Bicycle or None
        What the bicycle's measured numbers give, where the job has them.
    drive : Drive
    rack : Rack
        What tubes are cut from.
    table : TablePlan
        How the frame is laid on the table.
    file : str
        The name of its file, as it is typed in the folder where that lies; empty where the job
        comes from no file.
    text : str
        All of the file, as it was read: a change that stays is made in it.
    change : Change
        What of the bicycle is different from the text, for a look at it.
    measured : Measured
        The bicycle's numbers, as they were measured.
    doubt : UnitsDoubt or None
        Why its numbers look as if they were in another unit.
    """

    title: str
    units: str
    shop: Shop
    points: dict[str, Point] = field(default_factory=dict)
    tubes: tuple[TubePlan, ...] = ()
    bicycle: Bicycle | None = None
    drive: Drive = field(default_factory=Drive)
    rack: Rack = field(default_factory=Rack)
    table: TablePlan = field(default_factory=TablePlan)
    file: str = ""
    text: str = field(default="", repr=False, compare=False)
    change: Change = field(default_factory=Change)
    measured: Measured = field(default_factory=Measured)
    doubt: UnitsDoubt | None = None

    @property
    def named_points(self) -> dict[str, Point]:
        """Every point that has a name: those that the bicycle gives, and the job's own."""
        return {**({} if self.bicycle is None else self.bicycle.points), **self.points}
