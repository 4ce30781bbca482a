"""The words of the trade as coper uses them: in code, on screens, on paper."""

from __future__ import annotations

from typing import Final

GLOSSARY: Final = {
    "branch": "the tube whose end is shaped",
    "main": "the member that it seats on: a tube, a shell or a plate",
    "+ end": "the end of the main that the angle is measured from; in a job its end point",
    "cope": "the shaped end; also the computed edge",
    "angle": "between the two axes, from the main's + end to the branch, above 0 and below 180",
    "offset": "shortest distance between the two axes, signed",
    "clock": "position round the tube in degrees: 0 on the side of the main's + end, 90 on the "
             "side of a positive offset",
    "heel, toe": "the side of the acute angle, the side of the obtuse one",
    "along": "position up the branch, from the main's axis or a plate's face",
    "wall": "wall thickness; a diameter is always the outside one",
    "template": "the flat piece of paper that wraps round the branch",
    "footprint": "where the branch lands on the main, and the template that marks it",
    "seat": "to push the branch along its own axis until it first touches the main",
    "gap": "what is then left open, as a feeler gauge meets it on the outside",
    "slide": "how far from its place the seated branch is, positive away from the main",
    "bevelled cut": "the cut face follows the main's surface through the wall",
    "square cut": "the cut face stands square to the tube's wall",
    "open stretch": "clocks at which the branch overhangs the main and meets nothing",
    "saw setting": "what to set on a hole-saw fixture or drill press",
    "regrind": "where to take metal off next, from feeler readings at a dry fit",
    "blank": "the straight piece cut from stock before the ends are shaped",
    "layout": "the frame drawn out on the flat table",
}
"""Each word and its meaning."""
