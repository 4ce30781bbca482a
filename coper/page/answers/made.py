"""The station Check, what came out: a finished tube's length and angle, and what follows."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from coper.book.entries import MadePart
from coper.errors import CoperError
from coper.job.made import Outcome
from coper.page.answers.change import answer_in, every_fault, job_in
from coper.page.answers.fields import with_point
from coper.page.answers.words import Block
from coper.verbs.answer import Answer
from coper.verbs.made import LENGTH, made_in_words

FIELDS: Final = ("tube", LENGTH, "angle", "at")

AT: Final = (("angle", "the end that is put home first"), ("angle-start", "its start"),
             ("angle-end", "its end"))
"""What the angle is measured at: the word of the terminal, and what it means."""


@dataclass(frozen=True, slots=True)
class Made:
    """The page as it is shown.

    Attributes
    ----------
    title, units : str
    tubes : tuple of str
        Those that are made, as the terminal takes them: ``chain-stay left``.
    typed : dict of name to str
        What stands in the fields.
    kept : tuple of (tube, what was measured, when)
        What the book has.
    blocks : tuple of Block
        The answer.
    wrong : tuple of str
    """

    title: str
    units: str = "mm"
    tubes: tuple[str, ...] = ()
    typed: Mapping[str, str] | None = None
    kept: tuple[tuple[str, str, str], ...] = ()
    blocks: tuple[Block, ...] = ()
    wrong: tuple[str, ...] = ()
    at: tuple[tuple[str, str], ...] = AT


def made_page(
    text: str, kept: Iterable[MadePart], typed: Mapping[str, str] | None = None,
    said: Sequence[Block] = (), wrong: tuple[str, ...] = (),
) -> Made:
    """The page of a job, with what the book has and what was just answered."""
    try:
        job = job_in(text)
        pieces = answer_in(text).result.pieces
    except CoperError as error:
        return Made("", wrong=every_fault(error))
    tubes = tuple(piece.label for piece in pieces if not piece.tube.existing)
    stands = {**dict.fromkeys(FIELDS, ""), "at": AT[0][0], **(typed or {})}
    return Made(job.title, job.units, tubes, stands, tuple(map(_kept, kept)), tuple(said), wrong)


def _kept(part: MadePart) -> tuple[str, str, str]:
    side = "" if part.side == "centre" else f" {part.side}"
    return f"{part.tube}{side}", f"{part.what}={part.typed}", part.at[:16].replace("T", " ")


def made_answer(text: str, typed: Mapping[str, str], file: str) -> Answer[Outcome]:
    """What follows; its ``keep`` keeps it in the book of ``file``.

    Raises
    ------
    CoperError
        Where it cannot be used.
    """
    job = replace(job_in(text), file=file)
    name = typed.get("tube", "")
    piece = next((one for one in answer_in(text).result.pieces if one.label == name), None)
    words = [name] if piece is None else [piece.tube.name, *(
        () if piece.tube.side == "centre" else (piece.tube.side,))]
    for what, key in ((LENGTH, LENGTH), (typed.get("at", AT[0][0]), "angle")):
        if typed.get(key, "").strip():
            words.append(f"{what}={with_point(' '.join(typed[key].split()))}")
    return made_in_words(job, file, words)
