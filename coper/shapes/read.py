"""From a tube in words to its shape."""

from __future__ import annotations

from functools import lru_cache
from importlib import import_module
from typing import TYPE_CHECKING, TypeAlias

from coper.shapes.pipe import without_pipe
from coper.shapes.words import no_such_form, split_tube

if TYPE_CHECKING:
    from coper.shapes.bent import Bent
    from coper.shapes.box import Box
    from coper.shapes.oval import Oval
    from coper.shapes.plate import Plate
    from coper.shapes.round import Round
    from coper.shapes.tapered import Tapered
    from coper.shapes.tapered_oval import TaperedOval

Shape: TypeAlias = "Round | Tapered | Oval | TaperedOval | Box | Plate | Bent"

SHAPES = {
    "Round": "round",
    "Tapered": "tapered",
    "Oval": "oval",
    "TaperedOval": "tapered_oval",
    "Box": "box",
    "Plate": "plate",
    "Bent": "bent",
}
"""Every shape that the grammar knows, and its module; a new one adds its line here.

They are imported in turn until one reads the words, so a command that needs only round tubes does
not wait for the rest.
"""


def shape_class(name: str) -> type[Shape]:
    """The class of the shape called ``name`` in ``SHAPES``."""
    found: type[Shape] = getattr(import_module(f"coper.shapes.{SHAPES[name]}"), name)
    return found


def forms() -> dict[str, str]:
    """Every form of the grammar, as examples."""
    return {form: means for name in SHAPES for form, means in shape_class(name).forms.items()}


@lru_cache(maxsize=64)  # a job has few, and many tubes of each
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
    words = split_tube(without_pipe(text), unit)
    for name in SHAPES:
        tube = shape_class(name).from_words(words)
        if tube is not None:
            return tube
    raise no_such_form(words, forms())
