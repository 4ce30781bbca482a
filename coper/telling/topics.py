"""Topics to look up: tubes, words, limits, keys of a job file, paper, care."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from coper.job.papers import PAPERS
from coper.job.starter import starter_job
from coper.joint.cautions import SAFETY
from coper.joint.fit.limits import PROCESSES
from coper.shapes.read import forms
from coper.telling.cells import gap_cells
from coper.telling.glossary import GLOSSARY
from coper.telling.grid import Grid
from coper.telling.lines import Caution, Line
from coper.units import GAUGES, UNITS


def tubes() -> Iterator[Line]:
    """Every form of the grammar."""
    yield Grid("Tubes", ("write", "for"), tuple(forms().items()),
               "Capitals and spaces make no difference; × does for x. Diameters are outside ones.")
    yield (f"Lengths: a bare number is in mm, or in the unit of the job or of --units; "
           f"{', '.join(UNITS)}, \" and ' may follow it, as decimals or fractions: 1.125in, 7/8in, "
           "1-1/8in, 1 1/8\", 1⅛in; feet with inches too: 20ft 6in, 20' 6\".")
    yield ("In inches or feet, answers and papers are in inches first: to a thousandth, and to a "
           "64th for a rule. JSON is in mm always.")
    yield (f"Walls: also a gauge with its system ({', '.join(GAUGES)}): 20bwg. A bare one, such as "
           "11 ga, means different walls: give that in inches, such as 0.120in.")
    yield "Angles: 62, 62.5deg, 62°30'."
    yield ("What is not round stands on its first side or its major axis; --turn and --main-turn "
           "turn it about its own axis. A job file says what one sees: tall = 40 for the side that "
           "stands up, bulge = \"up\" or through = [x, y, z] for a bend, or turn in degrees.")


def words() -> Iterator[Line]:
    """The words of the trade as coper uses them."""
    yield Grid("Words", ("word", "meaning"), tuple(GLOSSARY.items()))


def limits() -> Iterator[Line]:
    """The largest gap that each process bridges, and who says so."""
    yield Grid("Largest gap that is still good", ("process", "mm", "in", "source"), tuple(
        (limit.process, *gap_cells(limit.mm), limit.source) for limit in PROCESSES.values()))
    yield "Set your own with --limit, or in a job file: coper help keys."


def keys() -> Iterator[Line]:
    """Every key of a job file, in a complete job."""
    yield from starter_job().splitlines()


def paper() -> Iterator[Line]:
    """Papers, and how to print true to scale."""
    yield f"Papers: {', '.join(PAPERS)}. Anything larger than a page is split into tiles that"
    yield "overlap; a roll takes everything on one sheet, as wide and as long as it has to be, up"
    yield "to 5 m. --paper roll=36in, or roll under [shop], says how wide the roll is: what is"
    yield "wider is cut into strips, with marks to join them by as tiles have."
    yield "The template of one end may have 60 tiles, a drawing at full size 150: more are refused,"
    yield "with how many there would be, before any is made."
    yield ""
    yield "Every page has a bar of 100 mm across and one along; in inches, 4 in on its other side."
    yield "Print at 100 %, not fitted to the page, and measure both. If one is off, print again"
    yield "with --printer ACROSS,ALONG, what the two bars of 100 mm measured in mm, such as"
    yield "--printer 99.4,100.2, or printer = [99.4, 100.2] under [shop]: the next print is true."
    yield "Every verb that prints has it, and corrects all pages. The code at the foot of a page is"
    yield "that of what it is made from: pages of another code are of another job or printer."
    yield "Print on one side; files have two holes at the left, and nothing stands there."
    yield ""
    yield "Paper wraps outside the tube, so a template is longer than the tube's girth, by pi times"
    yield "the paper's thickness: give --paper-thickness for anything thicker than paper."


def care() -> Iterator[Line]:
    """What to take care of."""
    yield from map(Caution, SAFETY)


TOPICS: dict[str, Callable[[], Iterator[Line]]] = {
    "tubes": tubes, "words": words, "limits": limits, "keys": keys, "paper": paper, "care": care}
"""Every topic by its name."""
