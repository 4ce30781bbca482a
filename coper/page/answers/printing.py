"""The station Print: paper and printer, and the packet as one PDF, all of it or some sheets."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

from coper.drawing.pdf import pdf_bytes
from coper.errors import CoperError, FileError, WordsError
from coper.job.edit import Edit
from coper.job.job import Job
from coper.job.papers import PAPERS
from coper.job.schema import TomlTable
from coper.joint.steps import silent
from coper.page.answers.change import (
    Change,
    every_fault,
    faults_of,
    job_in,
    key_of,
    table_of,
    tried,
)
from coper.page.answers.fields import scalar, shown_value
from coper.sheets.packet import Packet
from coper.verbs.job import job as job_answer

TABLE: Final = "shop"
KEYS: Final = ("paper", "printer")

REMEMBERED: Final = 2
"""Packets that are laid out once: that before a change and that after it."""


@dataclass(frozen=True, slots=True)
class Setting:
    """Paper or printer as it is shown: what stands in its field, what the file has, its faults."""

    typed: str
    was: str
    wrong: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Sheet:
    """A part of the packet that can be printed alone: its number, and what the list says of it."""

    number: int
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Printing:
    """The station as it is shown."""

    title: str
    settings: Mapping[str, Setting]
    papers: tuple[str, ...] = PAPERS
    wrong: tuple[str, ...] = ()


def printing(text: str, change: Change | None = None) -> Printing:
    """Paper and printer of a job."""
    typed = {} if change is None else change.typed
    faults = [] if change is None else [*change.faults]
    title = ""
    try:
        title = job_in(text).title
    except CoperError as error:
        faults += faults_of(error)
    table = table_of(text, TABLE)
    settings = {}
    for key in KEYS:
        was = shown_value(table.get(key))
        wrong = tuple(str(CoperError(fault.fault, fault.cure)) for fault in faults
                      if key_of(fault, TABLE, KEYS) == key)
        stands = typed.get(key, was)
        settings[key] = Setting(stands, was, wrong or (
            ("not written: see above",) if stands != was else ()))
    return Printing(title, settings, wrong=tuple(
        str(fault) for fault in faults if not key_of(fault, TABLE, KEYS)))


def set_up(text: str, typed: Mapping[str, str], first: str = "") -> Change:
    """The text with another paper or printer, as far as it still loads."""
    table, left = table_of(text, TABLE), dict[str, str]()
    faults: list[CoperError] = []
    for key in KEYS:
        if key not in typed or typed[key].strip() == shown_value(table.get(key)):
            continue
        try:
            made, wrong = tried(text, TABLE, [_edit(table, key, typed[key])])
        except CoperError as error:
            made, wrong = None, (error.at(f"{TABLE}.{key}"),)
        if made is None:
            left[key] = typed[key]
            faults += wrong
        else:
            text = made
    return Change(text, left, tuple(faults))


def _edit(table: TomlTable, key: str, typed: str) -> Edit:
    """What is written for what was typed; an empty field takes the key out."""
    if not typed.strip():
        return Edit(key, None)
    if key == "paper":
        return Edit(key, typed.strip())
    parts = typed.strip("[] ").split(",")
    if len(parts) != len(("across", "along")):
        raise WordsError("it does not have two numbers",
                         "write what the bars across and along measured, such as 99.4, 100.2")
    return Edit(key, [scalar(part) for part in parts])


def sheets(text: str, file: str) -> tuple[tuple[Sheet, ...], tuple[str, ...]]:
    """The parts of the packet, or why there is none."""
    try:
        packet = _packet(text, file)
    except CoperError as error:
        return (), every_fault(error)
    return tuple(Sheet(section.first, tuple(section.contents()))
                 for section in packet.sections), ()


def sections_with(text: str, file: str, names: Collection[str]) -> tuple[int, ...]:
    """The numbers of those parts that have anything of these names on them.

    Raises
    ------
    CoperError
        Where there is no packet.
    """
    return tuple(section.first for section in _packet(text, file).sections
                 if not set(names).isdisjoint(section.names))


def packet_pdf(text: str, file: str, chosen: Collection[int] = ()) -> bytes:
    """The packet as one PDF, that of ``coper job``; of ``chosen`` parts alone where some are.

    Raises
    ------
    CoperError
        Where a tube cannot be made, or the packet has no such part.
    """
    packet = _packet(text, file)
    known = {section.first for section in packet.sections}
    if not known.issuperset(chosen):
        raise FileError("the packet has no such sheet", "tick those of its list")
    pages = packet if not chosen else tuple(packet.of(
        section for section in packet.sections if section.first in chosen))
    return pdf_bytes(pages, packet.job.title)


@lru_cache(maxsize=REMEMBERED)
def _packet(text: str, file: str) -> Packet:
    job: Job = replace(job_in(text), file=file)
    pages = job_answer(job).pages(silent)
    assert isinstance(pages, Packet)
    return pages
