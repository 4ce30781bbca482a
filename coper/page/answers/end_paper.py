"""The paper of one end: a PDF of its own, and which sheets of the packet have it."""

from __future__ import annotations

from coper.errors import FileError
from coper.frame.order import work_order
from coper.job.named_end import JobEnd
from coper.page.answers.change import answer_in
from coper.page.answers.printing import sections_with
from coper.sheets.batches import batch_sheets
from coper.sheets.tube_templates import notes_name
from coper.units import lengths_in
from coper.verbs.joint_end import usual_joint_end


def joint_pdf(end: JobEnd) -> bytes:
    """What ``coper joint FILE TUBE END --pdf`` writes."""
    return usual_joint_end(end).pdf()


def packet_sheets(text: str, file: str, label: str) -> tuple[int, ...]:
    """The sheets of the packet that have a tube: what is cut out for it, and its cards.

    Raises
    ------
    CoperError
        Where there is no packet, or the tube has no sheet in it.
    """
    shaped = answer_in(text).result
    with lengths_in(shaped.job.units):
        batches = batch_sheets(shaped.cut_list, work_order(shaped.pieces))
    names = {name for batch in batches if label in [one.piece.label for one in batch.members]
             for name in (*(f"{batch.title} {part}" for part in ("whole", "start", "end")),
                          notes_name(batch.piece))}
    found = sections_with(text, file, names)
    if not found:
        raise FileError(f"the packet has no sheet of {label}", "choose one of its list")
    return found
