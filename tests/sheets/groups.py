"""Groups of a written SVG: the strokes and the words of one part of a page, mm, y up."""

import re
from xml.etree import ElementTree

import numpy as np

SVG = "{http://www.w3.org/2000/svg}"


def _group(text, name):
    root = ElementTree.fromstring(text.encode())
    group = next(one for one in root.iter(f"{SVG}g") if one.attrib.get("id") == name)
    return group, float(root.attrib["viewBox"].split()[3])


def group_strokes(text, name):
    """Every line (n, 2) of a group; a path that is drawn in several goes gives several."""
    group, height = _group(text, name)
    lines = []
    for path in group.iter(f"{SVG}path"):
        for part in path.attrib["d"].split("M")[1:]:
            pairs = re.findall(r"-?[\d.]+,-?[\d.]+", part)
            points = np.array([tuple(map(float, pair.split(","))) for pair in pairs])
            lines.append(points * (1, -1) + (0, height))
    return lines


def group_words(text, name):
    """The words of a group, each with the place (2,) of its anchor."""
    group, height = _group(text, name)
    return [(one.text or "", np.array((float(one.attrib["x"]), height - float(one.attrib["y"]))))
            for one in group.iter(f"{SVG}text")]
