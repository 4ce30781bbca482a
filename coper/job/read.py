"""From a job file to a job, or to all its faults at once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from coper.arrays import Point
from coper.bicycle.measured import Measured
from coper.errors import CoperError
from coper.job.bicycle import read_bicycle
from coper.job.corners import read_stretch
from coper.job.drive import DRIVE_KEYS, read_drive
from coper.job.faults import Faults
from coper.job.fitted import FITTED_KEYS, read_fitted
from coper.job.job import Job, Shop
from coper.job.limits import read_gap_limit, read_limits, read_process
from coper.job.papers import PAPERS, TRUE_PRINTER, check_printer, roll_paper
from coper.job.points import NamedPoints
from coper.job.schema import MOST_TEXT, Checker, TomlTable
from coper.job.source import BYTE_ORDER_MARK, job_text
from coper.job.stock import read_rack, read_sawing
from coper.job.table import read_table
from coper.job.toml import read_toml
from coper.job.tubes import check_seats, read_tubes
from coper.job.units_doubt import units_doubt
from coper.joint.saw.setting import RPM_AT_ONE_INCH
from coper.units import UNITS, lengths_in

JOB_KEYS = ("title", "units", "shop", "table", "bicycle", "drive", "points", "tubes", "stock")
SHOP_KEYS = ("process", "gap_limit", "saws", "paper", "blocks", "limits", "depth", "material",
             "kerf", "allowance", "stretch", "stock", "roll", "printer")


def read_job(path: str | Path) -> Job:
    """The job in the file at ``path``.

    Raises
    ------
    FileError
        Where the file cannot be read.
    JobError
        Where it is no job; it holds every fault, each with the file and the dotted path.
    """
    try:
        job = parse_job(job_text(path))
    except CoperError as error:
        raise error.at(str(path) or "FILE") from error
    return replace(job, file=Path(path).name if Path(path).is_file() else "")


def parse_job(text: str, moved: Mapping[str, Point] | None = None) -> Job:
    """The job that ``text`` (TOML) describes.

    Parameters
    ----------
    text
        All of the file.
    moved : dict of name to (x, y, z), mm
        By how much points stand elsewhere than it says, and all that are measured from them.

    Raises
    ------
    JobError
        With every fault found.
    """
    return replace(job_of(job_tables(text), moved), text=text)


def job_tables(text: str) -> TomlTable:
    """The tables of a job's text.

    Raises
    ------
    JobError
        Where it is not TOML.
    """
    return read_toml(text.removeprefix(BYTE_ORDER_MARK))


def job_of(table: TomlTable, moved: Mapping[str, Point] | None = None) -> Job:
    """The job that the tables of a file describe; ``moved`` as :func:`parse_job` has it.

    Raises
    ------
    JobError
        With every fault found.
    """
    check = Checker(Faults())
    check.table("", table, JOB_KEYS)
    check.unit = _unit(check, table)
    with lengths_in(check.unit):
        return _read(check, table, moved or {})


def _read(check: Checker, table: TomlTable, moved: Mapping[str, Point]) -> Job:
    """The job; its faults are written in its unit."""
    faults = check.faults
    title = check.text("title", table["title"], '"Wagtail"') if "title" in table else ""
    if title:
        check.name("title", title, MOST_TEXT)
    shop = _shop(check, table)
    rack, lies = read_rack(check, table), read_table(check, table)
    has_bicycle = "bicycle" in table
    measured, bicycle = (read_bicycle(check, table["bicycle"]) if has_bicycle
                         else (Measured(), None))
    driven = check.table("drive", table.get("drive", {}), (*DRIVE_KEYS, *FITTED_KEYS))
    drive = read_drive(check, driven)
    tubes = check.table("tubes", table.get("tubes", {}))
    points = NamedPoints(check, check.table("points", table.get("points", {})), tubes, bicycle,
                         broken=has_bicycle and bicycle is None, moved=moved)
    drive = read_fitted(check, drive, driven, points)
    plans = read_tubes(check, tubes, points)
    check_seats(faults, plans, tubes)
    if "tubes" not in table and not has_bicycle:  # else it is one that is only begun
        faults.add("tubes", "the job has no tube", "add one, such as [tubes.shell]")
    doubt = units_doubt(table, plans, check.unit)
    faults.cause = None if doubt is None else doubt.error
    faults.raise_any()
    named = {name: point for name, point in points.known.items() if point is not None}
    return Job(title or "", check.unit, shop, named, plans, bicycle, drive, rack, lies,
               measured=measured, doubt=doubt)


def _unit(check: Checker, table: TomlTable) -> str:
    if "units" not in table:
        return "mm"
    return check.choice("units", table["units"], UNITS) or "mm"


def _shop(check: Checker, table: TomlTable) -> Shop:
    shop = check.table("shop", table.get("shop", {}), SHOP_KEYS)

    def choice(key: str, choices: tuple[str, ...]) -> str | None:
        return check.choice(f"shop.{key}", shop[key], choices) if key in shop else None

    def sizes(key: str) -> tuple[float, ...]:
        if key not in shop:
            return ()
        return check.list_of(f"shop.{key}", shop[key], check.size, '["7/8in", "1in"]')

    own = read_limits(check, shop)
    depth = check.size("shop.depth", shop["depth"]) if "depth" in shop else None
    material = choice("material", tuple(RPM_AT_ONE_INCH))
    return Shop(read_process(check, shop, own), read_gap_limit(check, shop), sizes("saws"),
                choice("paper", PAPERS), sizes("blocks"), own, depth, material,
                *read_sawing(check, shop), read_stretch(check, shop), _roll(check, shop),
                _printer(check, shop))


def _printer(check: Checker, shop: TomlTable) -> tuple[float, float]:
    """What the check bars measured, across and along, mm whatever the job's unit."""
    if "printer" not in shop:
        return TRUE_PRINTER
    bars = check.list_of("shop.printer", shop["printer"], check.mm, "[99.4, 100.2]")
    match bars:
        case (across, along):
            check.faults.caught("shop.printer", lambda: check_printer((across, along)))
            return across, along
    check.faults.add("shop.printer", "it does not have two numbers",
                     "write what the bars across and along measured, such as [99.4, 100.2]")
    return TRUE_PRINTER


def _roll(check: Checker, shop: TomlTable) -> float | None:
    """How wide the shop's roll of paper is, mm."""
    width = check.size("shop.roll", shop["roll"]) if "roll" in shop else None
    if width is not None:
        check.faults.caught("shop.roll", lambda: roll_paper(width))
    return width
