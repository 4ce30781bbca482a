"""A tube in hand: its fields, and what it comes to."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from coper.errors import CoperError
from coper.frame.standing import WAYS
from coper.frame.tube import ENDS
from coper.job.job import Job
from coper.page.answers.boxes import Box, Filled, filled
from coper.page.answers.change import (
    Change,
    answer_in,
    every_fault,
    job_in,
    title_and_units,
)
from coper.page.answers.fields import shown_value
from coper.page.answers.mending import MendShown, mends_in
from coper.page.answers.tube_change import CORNER, SIZE, tube_table
from coper.page.answers.tube_ends import EndShown, end_shown
from coper.page.answers.words import Block, blocks
from coper.shapes.kinds import KINDS, Kind, kind_named, measured_kind
from coper.telling.lines import Line, sentence
from coper.telling.words.alike import alike_lines, batch_titles
from coper.telling.words.job import piece_lines
from coper.units import lengths_in

TURNED: Final = {
    "tall": ("tall", "which of its two sides stands up"),
    "turn": ("turn", "degrees, right-handed from start to end"),
    "bulge": ("bulge", f"{', '.join(WAYS)}, or three numbers"),
    "through": ("through", "a point that the bend passes through"),
}
"""How a tube that is not round lies."""

LIES: Final = {"box": ("tall", "turn"), "oval": ("tall", "turn"), "tapered oval": ("tall", "turn"),
               "plate": ("turn",), "bent": ("bulge", "through", "turn")}
"""What may be said of that, by the kind."""

TAPERS: Final = ("tapered", "tapered oval")


@dataclass(frozen=True, slots=True)
class TubeShown:
    """A tube as it is shown.

    Attributes
    ----------
    title, units, name : str
    there : bool
        Whether the job has it.
    wrong : tuple of str
        What is wrong with no field of it.
    kind : str
        The kind whose numbers are asked for.
    kinds : tuple of str
    sizes : tuple of Box
        Its numbers.
    shape : Box
        Its words.
    own : tuple of Box
        What else there is to say of it.
    course : tuple of Box
        Its corners and its bend.
    ends : tuple of EndShown
    blocks : tuple of Block
        What it comes to.
    mends : tuple of MendShown
        What was forgotten of it.
    twin : bool
    """

    title: str
    units: str
    name: str
    there: bool = True
    wrong: tuple[str, ...] = ()
    kind: str = ""
    kinds: tuple[str, ...] = tuple(kind.name for kind in KINDS)
    sizes: tuple[Box, ...] = ()
    shape: Box | None = None
    own: tuple[Box, ...] = ()
    course: tuple[Box, ...] = ()
    ends: tuple[EndShown, ...] = ()
    blocks: tuple[Block, ...] = ()
    mends: tuple[MendShown, ...] = ()
    twin: bool = False

    @property
    def form(self) -> str:
        """Which fields there are: with others the form is another one."""
        ways = (box for end in self.ends for box in (end.pick, *end.ways) if box is not None)
        names = (box.name for box in (*self.sizes, *self.own, *self.course, *ways))
        return " ".join((self.name, self.kind, *names))


def tube_shown(
    text: str, name: str, kind: str = "", change: Change | None = None
) -> TubeShown:
    """The station of one tube.

    Parameters
    ----------
    text
        All of the file.
    name
        Of the tube.
    kind
        The kind whose numbers are asked for; its own where that is empty.
    change
        What of the fields could not be written, if anything.
    """
    table, form = tube_table(text, name), filled(change, name)
    wrong = () if change is None else change.elsewhere
    try:
        job: Job | None = job_in(text)
    except CoperError as error:
        job, wrong = None, (*every_fault(error), *wrong)
    title, units = title_and_units(text)
    if not table:
        return TubeShown(title, units, name, there=False, wrong=wrong)
    with lengths_in(units):
        found = measured_kind(str(table.get("shape", "")))
        asked = kind_named(kind or (found[0].name if found else ""))
        lines, bad = _comes_to(text, name) if job is not None else ((), ())
        return TubeShown(
            title, units, name, wrong=(*wrong, *bad), kind=asked.name,
            sizes=tuple(_sizes(asked, found, form)),
            shape=form.box("shape", "in words", shown_value(table.get("shape")),
                           "as 28.6mm x 0.9mm, or box 2in by 1in x 1/16in"),
            own=tuple(_own(table, asked, form)), course=tuple(_course(table, form)),
            ends=tuple(end_shown(text, job, name, which, table, form) for which in ENDS),
            blocks=blocks(lines), mends=mends_in(text, name), twin=table.get("mirror") is True)


def kind_of(text: str, name: str) -> str:
    """The kind of a tube as the file has it; empty where its words are of none."""
    found = measured_kind(str(tube_table(text, name).get("shape", "")))
    return "" if found is None else found[0].name


def _sizes(
    kind: Kind, found: tuple[Kind, Mapping[str, str]] | None, form: Filled
) -> Iterator[Box]:
    """The numbers of a kind; those of the file where it is of that kind."""
    known = found[1] if found is not None and found[0] == kind else {}
    for part in kind.parts:
        label = part.name if part.needed else f"{part.name} (may be left out)"
        yield form.box(f"{SIZE}{part.key}", label, known.get(part.key, ""))


def _own(table: Mapping[str, object], kind: Kind, form: Filled) -> Iterator[Box]:
    """A taper's place, which way it lies, a twin, and whether it stands already."""
    if kind.name in TAPERS or "shape_from" in table:
        yield form.box("shape_from", "the taper begins", shown_value(table.get("shape_from")),
                       "how far from the start point its first diameter stands; 0 where empty")
    for key, (label, how) in TURNED.items():
        if key in LIES.get(kind.name, ()) or key in table:
            yield form.box(key, label, shown_value(table.get(key)), how)
    yield form.tick("mirror", "has a twin on the other side", table.get("mirror"))
    yield form.tick("existing", "stands already: nothing of it is cut", table.get("existing"))


def _course(table: Mapping[str, object], form: Filled) -> Iterator[Box]:
    """Its corners and one more, and the radius."""
    corners = table.get("corners")
    found = [shown_value(one) for one in corners] if isinstance(corners, list) else []
    for number, was in enumerate((*found, "")):
        yield form.box(f"{CORNER}{number}", f"corner {number + 1}", was,
                       "" if number else "where its straight axes would meet: a point's name, or "
                       "three numbers")
    yield form.box("bend", "bend", shown_value(table.get("bend")),
                   "radius of the centreline; or one for each corner, with commas")


def _comes_to(text: str, name: str) -> tuple[tuple[Line, ...], tuple[str, ...]]:
    """What the terminal says of a tube; or why it has nothing to say."""
    try:
        shaped = answer_in(text).result
    except CoperError as error:
        return (), every_fault(error)
    pieces = [piece for piece in shaped.pieces if piece.tube.name == name]
    lines: list[Line] = [line for piece in pieces for line in piece_lines(piece)]
    groups = shaped.cut_list.alike
    own = [group for group in groups if any(
        member.piece.tube.name == name for batch in group.batches for member in batch.members)]
    alike = alike_lines(own, batch_titles(groups))
    return (*lines, *map(sentence, alike)), ()
