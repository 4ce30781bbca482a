"""From a tube in words to its shape."""

from __future__ import annotations

from coper.shapes.bent import Bent
from coper.shapes.box import Box
from coper.shapes.oval import Oval
from coper.shapes.plate import Plate
from coper.shapes.round import Round
from coper.shapes.tapered import Tapered
from coper.shapes.tapered_oval import TaperedOval
from coper.shapes.words import no_such_form, split_tube

Shape = Round | Tapered | Oval | TaperedOval | Box | Plate | Bent

SHAPES: tuple[type[Shape], ...] = (Round, Tapered, Oval, TaperedOval, Box, Plate, Bent)
"""Every shape that the grammar knows; a new one adds its line here."""

FORMS = tuple(form for shape in SHAPES for form in shape.forms)


def parse_tube(text: str, unit: str = "mm") -> Shape:
    """The shape that ``text`` describes in the grammar of the command line.

    Bare numbers are in ``unit``.

    Raises
    ------
    WordsError
        Where the words cannot be read, or are no known form.
    ShapeError
        Where they describe a tube that cannot exist.
    """
    words = split_tube(text, unit)
    for shape in SHAPES:
        tube = shape.from_words(words)
        if tube is not None:
            return tube
    raise no_such_form(words, FORMS)
