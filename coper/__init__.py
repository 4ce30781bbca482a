"""coper: copes of tube ends, from what was measured to what is held against the work.

::

    import coper
    joint = coper.Joint(coper.Round(28.6, wall=0.9), coper.Round(38.1), angle=62, offset=3)
    cope = joint.cope()
    template = cope.template(cut="bevelled", paper=0.1)
"""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
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
    from coper.job.read import parse_job as parse_job
    from coper.job.read import read_job as read_job
    from coper.joint.cope import Cope as Cope
    from coper.joint.joint import Joint as Joint
    from coper.joint.template import Template as Template
    from coper.shapes.bent import Bent as Bent
    from coper.shapes.box import Box as Box
    from coper.shapes.oval import Oval as Oval
    from coper.shapes.plate import Plate as Plate
    from coper.shapes.read import parse_tube as parse_tube
    from coper.shapes.round import Round as Round
    from coper.shapes.tapered import Tapered as Tapered
    from coper.shapes.tapered_oval import TaperedOval as TaperedOval
    from coper.version import __version__ as __version__

_PUBLIC = {
    "Bent": "shapes.bent",
    "Box": "shapes.box",
    "Cope": "joint.cope",
    "CoperError": "errors",
    "Job": "job.job",
    "JobError": "job.faults",
    "Joint": "joint.joint",
    "Oval": "shapes.oval",
    "Piece": "frame.piece",
    "Tube": "frame.tube",
    "Plate": "shapes.plate",
    "Round": "shapes.round",
    "Stance": "frame.stance",
    "Tapered": "shapes.tapered",
    "TaperedOval": "shapes.tapered_oval",
    "Template": "joint.template",
    "TubeEnd": "frame.end",
    "__version__": "version",
    "make_piece": "frame.piece",
    "make_pieces": "job.frame",
    "parse_job": "job.read",
    "parse_tube": "shapes.read",
    "plain_end": "frame.end",
    "read_job": "job.read",
    "shape_end": "frame.end",
}
"""The public face: each name, and the module that is imported when it is first asked for."""

__all__ = list(_PUBLIC)


def __getattr__(name: str) -> object:
    if name not in _PUBLIC:
        raise AttributeError(f"module 'coper' has no attribute {name!r}")
    return getattr(import_module(f"coper.{_PUBLIC[name]}"), name)


def __dir__() -> list[str]:
    return sorted(_PUBLIC)
