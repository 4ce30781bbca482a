"""coper: copes of tube ends, from what was measured to what is held against the work.

::

    import coper
    joint = coper.Joint(coper.Round(28.6, wall=0.9), coper.Round(38.1), angle=62, offset=3)
    cope = joint.cope()
    template = cope.template(cut="bevelled", paper=0.1)

What a verb of the command line answers, ``ask_…`` answers here: ``coper.ask_fit(joint).result``,
``.record()``, ``.svg()``, ``.pdf()``.
"""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from coper.bench.cut_list.cut_list import CutList as CutList
    from coper.bench.layout.layout import Layout as Layout
    from coper.bicycle.change import Change as Change
    from coper.bicycle.tracking.rear_end import LeftRight as LeftRight
    from coper.bicycle.tracking.rear_end import RearEnd as RearEnd
    from coper.bicycle.tracking.straight_edge import StraightEdge as StraightEdge
    from coper.bicycle.tracking.tracking import TrackingReadings as TrackingReadings
    from coper.errors import CoperError as CoperError
    from coper.frame.end import TubeEnd as TubeEnd
    from coper.frame.end import plain_end as plain_end
    from coper.frame.end import shape_end as shape_end
    from coper.frame.piece import Piece as Piece
    from coper.frame.piece import make_piece as make_piece
    from coper.frame.stance import Stance as Stance
    from coper.frame.tube import Tube as Tube
    from coper.job.faults import JobError as JobError
    from coper.job.frame import make_pieces as make_pieces
    from coper.job.job import Job as Job
    from coper.job.named_end import JobEnd as JobEnd
    from coper.job.named_end import find_end as find_end
    from coper.job.read import parse_job as parse_job
    from coper.job.read import read_job as read_job
    from coper.job.shaped import ShapedJob as ShapedJob
    from coper.job.tracking import job_rear_end as job_rear_end
    from coper.joint.cope import Cope as Cope
    from coper.joint.fit.fit import Fit as Fit
    from coper.joint.fit.limits import Limit as Limit
    from coper.joint.fit.limits import own_limit as own_limit
    from coper.joint.fit.limits import process_limit as process_limit
    from coper.joint.fit.mount import Mounting as Mounting
    from coper.joint.joint import Joint as Joint
    from coper.joint.regrind.regrind import Regrind as Regrind
    from coper.joint.saw.kit import SawKit as SawKit
    from coper.joint.template import Template as Template
    from coper.joint.tolerance.spread import Scatter as Scatter
    from coper.shapes.bent import Bent as Bent
    from coper.shapes.box import Box as Box
    from coper.shapes.oval import Oval as Oval
    from coper.shapes.plate import Plate as Plate
    from coper.shapes.read import parse_tube as parse_tube
    from coper.shapes.round import Round as Round
    from coper.shapes.tapered import Tapered as Tapered
    from coper.shapes.tapered_oval import TaperedOval as TaperedOval
    from coper.verbs.answer import Answer as Answer
    from coper.verbs.bicycle import bicycle as ask_bicycle
    from coper.verbs.clearance import clearance as ask_clearance
    from coper.verbs.fit import fit as ask_fit
    from coper.verbs.job import job as ask_job
    from coper.verbs.joint import joint as ask_joint
    from coper.verbs.layout import layout as ask_layout
    from coper.verbs.regrind import regrind as ask_regrind
    from coper.verbs.saw import saw as ask_saw
    from coper.verbs.tolerance import tolerance as ask_tolerance
    from coper.verbs.tracking import tracking as ask_tracking
    from coper.version import __version__ as __version__

_PUBLIC = {
    "Answer": "verbs.answer",
    "Bent": "shapes.bent",
    "Box": "shapes.box",
    "Change": "bicycle.change",
    "Cope": "joint.cope",
    "CoperError": "errors",
    "CutList": "bench.cut_list.cut_list",
    "Fit": "joint.fit.fit",
    "Job": "job.job",
    "JobEnd": "job.named_end",
    "JobError": "job.faults",
    "Joint": "joint.joint",
    "Layout": "bench.layout.layout",
    "LeftRight": "bicycle.tracking.rear_end",
    "Limit": "joint.fit.limits",
    "Mounting": "joint.fit.mount",
    "Oval": "shapes.oval",
    "Piece": "frame.piece",
    "Plate": "shapes.plate",
    "RearEnd": "bicycle.tracking.rear_end",
    "Regrind": "joint.regrind.regrind",
    "Round": "shapes.round",
    "SawKit": "joint.saw.kit",
    "Scatter": "joint.tolerance.spread",
    "ShapedJob": "job.shaped",
    "Stance": "frame.stance",
    "StraightEdge": "bicycle.tracking.straight_edge",
    "Tapered": "shapes.tapered",
    "TaperedOval": "shapes.tapered_oval",
    "Template": "joint.template",
    "TrackingReadings": "bicycle.tracking.tracking",
    "Tube": "frame.tube",
    "TubeEnd": "frame.end",
    "__version__": "version",
    "find_end": "job.named_end",
    "job_rear_end": "job.tracking",
    "make_piece": "frame.piece",
    "make_pieces": "job.frame",
    "own_limit": "joint.fit.limits",
    "parse_job": "job.read",
    "parse_tube": "shapes.read",
    "plain_end": "frame.end",
    "process_limit": "joint.fit.limits",
    "read_job": "job.read",
    "shape_end": "frame.end",
    **{f"ask_{verb}": f"verbs.{verb}" for verb in (
        "bends", "bicycle", "clearance", "fit", "job", "joint", "layout", "regrind", "saw",
        "tolerance", "tracking")},
}
"""The public face: each name, and the module that is imported when it is first asked for."""

__all__ = [
    "Answer", "Bent", "Box", "Change", "Cope", "CoperError", "CutList", "Fit", "Job", "JobEnd",
    "JobError", "Joint", "Layout", "LeftRight", "Limit", "Mounting", "Oval", "Piece", "Plate",
    "RearEnd", "Regrind", "Round", "SawKit", "Scatter", "ShapedJob", "Stance", "StraightEdge",
    "Tapered", "TaperedOval", "Template", "TrackingReadings", "Tube", "TubeEnd", "__version__",
    "ask_bends", "ask_bicycle", "ask_clearance", "ask_fit", "ask_job", "ask_joint",
    "ask_layout", "ask_regrind", "ask_saw", "ask_tolerance", "ask_tracking", "find_end",
    "job_rear_end", "make_piece", "make_pieces", "own_limit", "parse_job", "parse_tube",
    "plain_end", "process_limit", "read_job", "shape_end",
]


def __getattr__(name: str) -> object:
    if name not in _PUBLIC:
        raise AttributeError(f"module 'coper' has no attribute {name!r}")
    return getattr(import_module(f"coper.{_PUBLIC[name]}"), name.removeprefix("ask_"))


def __dir__() -> list[str]:
    return sorted(_PUBLIC)
