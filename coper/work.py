"""From an order to everything that comes out of it: the one way that every front end goes."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from coper.errors import FileError, JointError
from coper.joint import record
from coper.joint.cautions import WORK, cautions
from coper.joint.cope import Cope
from coper.joint.footprint import Footprint
from coper.joint.joint import Joint
from coper.joint.ordinates import Ordinates, make_ordinates
from coper.joint.saw import SawSetting, own_saw
from coper.joint.template import Cut, Template
from coper.version import __version__

if TYPE_CHECKING:
    from coper.frame.piece import Piece
    from coper.job.job import Job
    from coper.joint.fit import Fit
    from coper.joint.limits import Limit
    from coper.joint.mount import Mounting
    from coper.joint.regrind import Regrind
    from coper.joint.saw_kit import SawKit
    from coper.paper.pages import Page

PAPER_MM = 0.1
"""Office paper: 80 g/m2 is about a tenth of a mm thick (common practice, no source)."""

GLUE_MM = 10.0
MOST_GLUE_MM = 50.0
LONGEST_STRIP_MM = 5000.0
"""No paper is wrapped that is longer; a PDF page ends at 14,400 points, 5.08 m (from memory)."""

MOST_PAGES = 60
"""A template of more pages than this is a slip of a number, or a job for a roll."""


@dataclass(frozen=True, slots=True)
class JointOrder:
    """What a person asks of one joint.

    Attributes
    ----------
    seam : float or None, degrees
        Clock of the template's seam; the toe where ``None``.
    paper_thickness, glue : float, mm
    printer : (across, along), mm
        What the printed 100 mm bars measured.
    """

    joint: Joint
    cut: Cut = "bevelled"
    points: int = 720
    steps: int = 16
    seam: float | None = None
    paper: str = "a4"
    paper_thickness: float = PAPER_MM
    printer: tuple[float, float] = (100.0, 100.0)
    glue: float = GLUE_MM


@dataclass(frozen=True, slots=True, eq=False)
class JointWork:
    """What comes out of it; ``saw`` is ``None`` where no saw has the main's section."""

    order: JointOrder
    cope: Cope
    template: Template
    footprint: Footprint
    ordinates: Ordinates
    saw: SawSetting | None
    cautions: tuple[str, ...]


def work_joint(order: JointOrder) -> JointWork:
    """Compute everything but the pages."""
    joint = order.joint
    cope = joint.cope(order.points)
    return JointWork(
        order,
        cope,
        cope.template(order.cut, order.paper_thickness),
        cope.footprint(),
        make_ordinates(cope, order.cut, order.steps),
        own_saw(joint, cope) if joint.main.kind == "round" else None,
        cautions(cope, order.cut),
    )


def _head() -> dict[str, Any]:
    """What every JSON object begins with."""
    return {"coper": __version__, "units": {"length": "mm", "angle": "deg"}}


def joint_json(work: JointWork) -> dict[str, Any]:
    """The one object that ``--json`` prints."""
    return {
        **_head(),
        "joint": record.joint_record(work.order.joint),
        "cope": record.cope_record(work.cope),
        "template": record.template_record(work.template),
        "footprint": record.footprint_record(work.footprint),
        "saw": None if work.saw is None else record.saw_record(work.saw),
        "cautions": list(work.cautions),
    }


def joint_pages(work: JointWork) -> tuple[Page, ...]:
    """The joint's pages: both templates, the notes beside them, bars on each."""
    from coper.joint.describe import side_names, title
    from coper.paper.footprint import footprint_marks
    from coper.paper.notes import bevel_notes, caution_notes, footprint_notes, strip_notes
    from coper.paper.pages import Block, compose
    from coper.paper.strip import joint_strip
    from coper.paper.strip_marks import strip_marks

    order, cope = work.order, work.cope
    if not 0 <= order.glue <= MOST_GLUE_MM:
        raise JointError(f"{order.glue:g} mm to glue", f"give 0 to {MOST_GLUE_MM:g} mm",
                         "overlap")
    seam = order.joint.toe_clock if order.seam is None else order.seam
    sides = {clock: f"{clock:.0f}" for clock in side_names(order.joint)}
    template = cope.drawn_template(order.cut, order.paper_thickness, seam)
    strip = joint_strip(order.joint, cope, template, order.glue)
    if strip.high - strip.low > LONGEST_STRIP_MM:
        raise JointError(f"the template is {(strip.high - strip.low) / 1000:.1f} m long",
                         "check the angle and the diameters", "paper")
    blocks = [
        Block("template", strip_marks(strip)),
        Block("footprint", footprint_marks(cope, order.paper_thickness, sides)),
        Block("template-notes", strip_notes(order.joint, cope, template, order.glue)),
        Block("footprint-notes", footprint_notes(order.joint, cope)),
        Block("cautions", caution_notes(cope, order.cut)),
    ]
    if order.cut == "bevelled":
        blocks.insert(3, Block("bevel", bevel_notes(order.joint, cope)))
    pages = compose(blocks, order.paper, order.printer, title=title(order.joint))
    if len(pages) > MOST_PAGES:
        raise JointError(f"the template needs {len(pages)} pages of {order.paper}",
                         "check the angle, or use --paper roll", "paper")
    return pages


def joint_files(
    work: JointWork, svg: Path | None, pdf: Path | None, table: Path | None
) -> dict[Path, bytes]:
    """Every file that was asked for, whole, by its path; nothing is written yet."""
    from coper.joint.describe import title

    pages = joint_pages(work) if svg or pdf else ()
    sheets = _sheet_files(pages, title(work.order.joint), svg, pdf)
    if table is None:
        return sheets
    from coper.paper.table import table_csv

    return _together(sheets, {table: table_csv(work.ordinates).encode()})


def _sheet_files(
    pages: tuple[Page, ...], title: str, svg: Path | None, pdf: Path | None
) -> dict[Path, bytes]:
    """The pages in the formats that were asked for."""
    files: dict[Path, bytes] = {}
    if svg is not None:
        from coper.paper.svg import svg_files

        files = svg_files(svg, pages)
    if pdf is not None:
        from coper.paper.pdf import pdf_bytes

        files = _together(files, {pdf: pdf_bytes(pages, title)})
    return files


def _together(files: dict[Path, bytes], more: dict[Path, bytes]) -> dict[Path, bytes]:
    """Both, refused where one name is in both: a later page of an SVG has a name of its own."""
    for path in more:
        if path in files:
            raise FileError("two outputs have the same name", "give each its own", str(path))
    return files | more


@dataclass(frozen=True, slots=True, eq=False)
class JobWork:
    """What comes out of a job: its pieces in the file's order, the right twin with its left."""

    job: Job
    pieces: tuple[Piece, ...]
    cautions: tuple[str, ...]


def work_job(job: Job) -> JobWork:
    """Shape both ends of every tube of ``job``."""
    from coper.job.frame import make_pieces

    return JobWork(job, make_pieces(job), WORK)


def job_json(work: JobWork) -> dict[str, Any]:
    """The one object that ``coper job --json`` prints."""
    from coper.frame.record import piece_record

    return {
        **_head(),
        "title": work.job.title,
        "tubes": [piece_record(piece) for piece in work.pieces],
        "cautions": list(work.cautions),
    }


def job_pages(work: JobWork) -> tuple[Page, ...]:
    """The templates of every shaped tube, in the job's order, on the shop's paper."""
    from coper.paper.notes import caution_column
    from coper.paper.pages import Block, compose
    from coper.paper.piece import piece_blocks

    blocks = [
        block for piece in work.pieces if any(end.cope for end in piece.ends)
        for block in piece_blocks(piece, PAPER_MM, GLUE_MM)
    ]
    blocks.append(Block("cautions", caution_column(work.cautions)))
    return compose(blocks, work.job.shop.paper or "a4", title=work.job.title)


def job_files(work: JobWork, folder: Path) -> dict[Path, bytes]:
    """What ``coper job --out`` writes: the templates as one PDF."""
    return _sheet_files(job_pages(work), work.job.title, None, folder / "templates.pdf")


@dataclass(frozen=True, slots=True)
class FitOrder:
    """What a person asks of a fit-up.

    Attributes
    ----------
    cut : str
        ``bevelled``, ``square`` or ``saw``.
    saw : float or None, mm
        Diameter of the saw, where one cuts.
    """

    joint: Joint
    cut: str
    saw: float | None
    errors: Mounting
    limit: Limit | None = None
    points: int = 720


@dataclass(frozen=True, slots=True, eq=False)
class FitWork:
    """What comes out of it: the joint as it is put together, and its gap."""

    order: FitOrder
    mounted: Joint
    fit: Fit

    @property
    def ok(self) -> bool | None:
        """Whether no gap is above the limit; ``None`` where none was asked for."""
        limit = self.order.limit
        return None if limit is None else self.fit.within(limit.mm)


def work_fit(order: FitOrder) -> FitWork:
    """Push the shaped end home."""
    from coper.joint.face import cut_face
    from coper.joint.fit import seat

    face = cut_face(order.joint, order.cut, order.saw)
    mounted = order.errors.of(order.joint)
    return FitWork(order, mounted,
                   seat(face, mounted.cluster(), order.errors.clock, order.points))


def fit_json(work: FitWork) -> dict[str, Any]:
    """The one object that ``coper fit --json`` prints."""
    from coper.joint.fit_record import gap_record

    order = work.order
    return {
        **_head(),
        "joint": record.joint_record(order.joint),
        "cut": order.cut,
        "saw_diameter": order.saw,
        "errors": {"angle": order.errors.angle, "clock": order.errors.clock,
                   "offset": order.errors.offset},
        "gap": gap_record(work.fit, order.limit),
        "cautions": list(WORK),
    }


def fit_files(work: FitWork, picture: Path) -> dict[Path, bytes]:
    """The picture of the gap, in the format that its name ends in; nothing is written yet."""
    from coper.joint.describe import title
    from coper.paper.gap_picture import gap_page

    order = work.order
    page = gap_page(work.mounted, work.fit, order.limit, f"{title(order.joint)}, {order.cut} cut")
    match picture.suffix.lower():
        case ".svg":
            from coper.paper.svg import svg_text

            return {picture: svg_text(page).encode()}
        case ".pdf":
            from coper.paper.pdf import pdf_bytes

            return {picture: pdf_bytes((page,), title(order.joint))}
        case ".png":
            from coper.paper.pdf import png_bytes

            return {picture: png_bytes(page)}
    raise FileError(f"no picture can be written as {picture.suffix or 'a name without an ending'}",
                    "end its name in .svg, .pdf or .png", str(picture))


@dataclass(frozen=True, slots=True)
class SawOrder:
    """What a person asks of a kit: its saws and their cutting depth, mm."""

    joint: Joint
    kit: tuple[float, ...]
    depth: float
    limit: Limit | None = None


@dataclass(frozen=True, slots=True)
class SawWork:
    """What comes out of it."""

    order: SawOrder
    kit: SawKit

    @property
    def ok(self) -> bool:
        """Whether the best saw is deep enough and leaves no gap above the limit."""
        limit = self.order.limit
        return self.kit.choices[0].ok(None if limit is None else limit.mm)


def work_saw(order: SawOrder) -> SawWork:
    """Try every saw of the kit."""
    from coper.joint.saw_kit import choose_saws

    return SawWork(order, choose_saws(order.joint, order.kit, order.depth))


def saw_json(work: SawWork) -> dict[str, Any]:
    """The one object that ``coper saw --json`` prints."""
    from coper.joint.fit_record import kit_records

    limit = work.order.limit
    rows = kit_records(work.kit, None if limit is None else limit.mm)
    return {
        **_head(),
        "joint": record.joint_record(work.order.joint),
        "limit": None if limit is None else limit.mm,
        "covering_diameter": work.kit.needed,
        "saw": rows[0],
        "choices": rows,
        "cautions": list(WORK),
    }


@dataclass(frozen=True, slots=True)
class RegrindOrder:
    """What a person asks after a dry fit; ``gaps`` are pairs of clock (degrees) and gap (mm)."""

    joint: Joint
    cut: Cut
    gaps: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, eq=False)
class RegrindWork:
    """What comes out of it."""

    order: RegrindOrder
    found: Regrind


def work_regrind(order: RegrindOrder) -> RegrindWork:
    """Find what is wrong with the fit, and the metal to take off."""
    from coper.joint.regrind import regrind

    return RegrindWork(order, regrind(order.joint, order.cut, order.gaps))


def regrind_json(work: RegrindWork) -> dict[str, Any]:
    """The one object that ``coper regrind --json`` prints."""
    from coper.joint.regrind_record import regrind_record

    return {
        **_head(),
        "joint": record.joint_record(work.order.joint),
        "cut": work.order.cut,
        "regrind": regrind_record(work.found),
        "cautions": list(WORK),
    }


def regrind_pages(work: RegrindWork) -> tuple[Page, ...]:
    """The strip to wrap along the existing edge, and how it is used."""
    from coper.joint.describe import title
    from coper.paper.notes import caution_column
    from coper.paper.pages import Block, compose
    from coper.paper.regrind_strip import regrind_marks, regrind_notes

    joint, found = work.order.joint, work.found
    blocks = [
        Block("regrind", regrind_marks(joint, found, PAPER_MM, GLUE_MM)),
        Block("regrind-notes", regrind_notes(joint, found)),
        Block("cautions", caution_column(WORK)),
    ]
    return compose(blocks, "a4", title=f"regrind: {title(joint)}")


def regrind_files(work: RegrindWork, svg: Path | None, pdf: Path | None) -> dict[Path, bytes]:
    """The strip in the formats that were asked for; nothing is written yet."""
    from coper.joint.describe import title

    pages = regrind_pages(work) if svg or pdf else ()
    return _sheet_files(pages, title(work.order.joint), svg, pdf)
