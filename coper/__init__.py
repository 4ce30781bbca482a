"""coper: copes of tube ends, from what was measured to what is held against the work.

import coper
joint = coper.Joint(coper.Round(28.6, wall=0.9), coper.Round(38.1), angle=62, offset=3)
cope = joint.cope()
template = cope.template(cut="bevelled", paper=0.1)
"""

from coper.errors import CoperError
from coper.joint.cope import Cope
from coper.joint.joint import Joint
from coper.joint.template import Template
from coper.shapes.bent import Bent
from coper.shapes.box import Box
from coper.shapes.oval import Oval
from coper.shapes.plate import Plate
from coper.shapes.read import parse_tube
from coper.shapes.round import Round
from coper.shapes.tapered import Tapered
from coper.shapes.tapered_oval import TaperedOval
from coper.version import __version__

__all__ = [
    "Bent", "Box", "Cope", "CoperError", "Joint", "Oval", "Plate", "Round", "Tapered",
    "TaperedOval", "Template", "__version__", "parse_tube",
]
