"""What every address of the page answers: plain values in and out, no socket."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from threading import Lock
from typing import Final
from urllib.parse import quote

from coper.cli.files import write_whole
from coper.errors import CoperError, FileError
from coper.frame.tube import ENDS, Which
from coper.job.named_end import SIDES
from coper.job.starter import KINDS, STARTER_UNITS
from coper.page.answers.bench import NO_SIDE, answered, card, end_name, end_of, ends
from coper.page.answers.change import Change, every_fault
from coper.page.answers.fields import FIELDS
from coper.page.answers.frame import frame_svg
from coper.page.answers.measure import changed, measuring
from coper.page.answers.printing import KEYS as SETTINGS
from coper.page.answers.printing import packet_pdf, printing, set_up, sheets
from coper.page.answers.shelf import FIRST, PAPERS_ASKED, Begun, begun, job_shown
from coper.page.answers.stations import KEYS, STATIONS
from coper.page.answers.words import Block, blocks, said
from coper.page.keeping import JobFile, OvertakenError, stamp
from coper.page.shelf import Shelf, file_stem
from coper.page.templates import rendered

STATIC: Final = Path(__file__).parent / "static"

Form = Mapping[str, str]
"""The fields of a form by their names."""

Parts = tuple[str, str, str]
"""Tube, side and end, as an address has them."""

OVERTAKEN: Final = (
    "Another window or program changed the file: this is how it is now. Nothing was written over; "
    "what you changed still stands in its field, and is not kept yet.")

KINDS_OF: Final = {".css": "text/css", ".js": "text/javascript", ".svg": "image/svg+xml"}

HTML: Final = "text/html"

CHANGES: Final[dict[str, tuple[tuple[str, ...], Callable[[str, Form, str], Change]]]] = {
    "measure": (FIELDS, changed), "print": (SETTINGS, set_up)}
"""Stations with fields that are written into the file: their names, and what a change comes to."""


@dataclass(frozen=True, slots=True)
class Reply:
    """What is sent back.

    Attributes
    ----------
    body : str or bytes
    status : int
    kind : str
        Its media type.
    to : str
        Where the browser goes on to, if anywhere.
    file : str
        The name to keep it under; empty for what is shown.
    """

    body: str | bytes = ""
    status: int = 200
    kind: str = HTML
    to: str = ""
    file: str = ""


@dataclass(frozen=True, slots=True)
class Site:
    """The page of a shelf.

    Attributes
    ----------
    shelf : Shelf
    network : bool
        Whether other devices may come in, which every page then says.
    """

    shelf: Shelf
    network: bool = False
    _drawing: Lock = field(default_factory=Lock)
    _sound: set[Path] = field(default_factory=set)

    def _job(self, name: str) -> JobFile:
        """The file of a job; refused where the folder has none of that name."""
        return JobFile(self.shelf.path(name), self._sound)

    def jobs(self, given: Form | None = None, begun_so_far: Begun | None = None) -> Reply:
        """The list of jobs, with the questions of a new one."""
        if self.shelf.only is not None:
            return Reply(status=303, to=_address(self.shelf.only.stem, KEYS[0]))
        shown = []
        for name, path in self.shelf.jobs().items():
            try:
                shown.append(job_shown(name, JobFile(path).text()))
            except CoperError:  # it has just been taken away
                continue
        wrong = {} if begun_so_far is None else begun_so_far.wrong or {}
        return Reply(rendered(
            "shelf.html", folder=self.shelf.folder.name, jobs=shown, can_begin=True, notices=(),
            network=self.network, given={**FIRST, **(given or {})}, wrong=wrong, kinds=KINDS,
            units=STARTER_UNITS, papers=PAPERS_ASKED), 422 if wrong else 200)

    def begin(self, form: Form) -> Reply:
        """A new job, or its questions again with what is wrong."""
        made = begun(form)
        if made.wrong:
            return self.jobs(form, made)
        try:
            path = self.shelf.free(form["title"])
            write_whole([(path, made.text.encode())], force=False)
        except CoperError as error:
            return self.jobs(form, Begun(wrong={"title": str(error)}))
        return Reply(status=303, to=_address(file_stem(form["title"]), KEYS[0]))

    def station(self, name: str, key: str) -> Reply:
        """A station of a job."""
        if key not in KEYS:
            return self.refused(404, "The page has no such place.")
        job = self._job(name)
        return self._shown(name, job, job.text(), key)

    def picture(self, name: str) -> Reply:
        """The frame of a job, drawn one at a time: a shelf asks for many at once."""
        text = self._job(name).text()
        with self._drawing:
            return Reply(frame_svg(text), kind=KINDS_OF[".svg"])

    def as_of(self, name: str) -> Reply:
        """What a page of the job says that it was drawn from, if it is drawn now."""
        return Reply(stamp(self._job(name).text()), kind="text/plain")

    def change(self, name: str, key: str, form: Form) -> Reply:
        """Fields of a station that were changed, written as far as they can be."""
        job = self._job(name)
        if key not in CHANGES:
            return self.refused(404, "The page has no such place.")
        text, (names, made_of) = job.text(), CHANGES[key]
        typed = {one: form[one] for one in names
                 if one in form and form[one] != form.get(f"was.{one}", form[one])}
        if form.get("as_of") != stamp(text):
            return self._overtaken(name, job, typed, key)
        change = made_of(text, typed, form.get("first", ""))
        try:
            notes = job.write(text, change.text) if change.text != text else ()
        except OvertakenError:
            return self._overtaken(name, job, typed, key)
        except CoperError as error:
            return self._shown(name, job, text, key, Change(text, typed, (error,)),
                               (f"Not kept: {error}",), 507)
        if change.typed or notes:
            return self._shown(name, job, change.text, key, change, notes,
                               422 if change.typed else 200)
        return Reply(status=303, to=_address(name, key))

    def sheets(self, name: str) -> Reply:
        """The sheets of the packet, to be ticked."""
        job = self._job(name)
        text = job.text()
        with self._drawing:
            found, wrong = sheets(text, job.path.name)
        return Reply(rendered("sheets.html", **self._common(name, job, text, "print", ()),
                              title=name, sheets=found, wrong=wrong))

    def packet(self, name: str, chosen: Sequence[str]) -> Reply:
        """The packet, or the sheets of it that were ticked, as one PDF."""
        job = self._job(name)
        numbers = {int(one) for one in chosen if one.isascii() and one.isdigit() and len(one) < 6}
        if len(numbers) < len(set(chosen)):
            return self.refused(404, "The packet has no such sheet.")
        with self._drawing:
            content = packet_pdf(job.text(), job.path.name, numbers)
        return Reply(content, kind="application/pdf", file=f"{name}.pdf")

    def end(self, name: str, parts: Parts, form: Form | None = None) -> Reply:
        """The card of one end; with a form, what that ticks, or its round of readings answered."""
        job = self._job(name)
        text = job.text()
        end = end_of(text, *_end_parts(parts))
        if form is None:
            return self._card(name, job, text, parts, {})
        if form.get("as_of") != stamp(text):
            return self._card(name, job, text, parts, form, (OVERTAKEN,), status=409)
        if "step" in form:
            job.tick(end_name(end), form["step"], bool(form.get("done")), text)
            return Reply(status=303, to="/".join(quote(part, safe="") for part in
                                                 ("", name, "bench", *parts)))
        try:
            answer = answered(end, form, str(job.path))
        except CoperError as error:
            return self._card(name, job, text, parts, form, wrong=every_fault(error), status=422)
        kept = answer.keep()
        lines = [*answer.lines(), *(() if kept is None else kept.lines)]
        return self._card(name, job, text, parts, form, said=blocks(lines))

    def _card(
        self, name: str, job: JobFile, text: str, parts: Parts, typed: Form,
        notices: tuple[str, ...] = (), wrong: tuple[str, ...] = (), said: tuple[Block, ...] = (),
        status: int = 200,
    ) -> Reply:
        end = end_of(text, *_end_parts(parts))
        book = job.bench(end_name(end))
        common = self._common(name, job, text, "bench", (*notices, *book.notes))
        return Reply(rendered(
            "card.html", **common, title=name, parts=parts, wrong=wrong, blocks=said,
            card=card(end, book.rounds, book.ticks, typed)), status)

    def undo(self, name: str, form: Form) -> Reply:
        """The version before this one again."""
        return self._back(name, form, JobFile.undo)

    def redo(self, name: str, form: Form) -> Reply:
        """The version again that an undo left."""
        return self._back(name, form, JobFile.redo)

    def _back(
        self, name: str, form: Form, go: Callable[[JobFile, str], tuple[str, ...]]
    ) -> Reply:
        job = self._job(name)
        text = job.text()
        key = form.get("station", "")
        if key not in KEYS:
            return self.refused(404, "The page has no such place.")
        if form.get("as_of") != stamp(text):
            return self._overtaken(name, job, {}, key)
        try:
            go(job, text)
        except OvertakenError:
            return self._overtaken(name, job, {}, key)
        except CoperError as error:
            return self._shown(name, job, text, key, None, (f"Nothing was undone: {error}",), 409)
        return Reply(status=303, to=_address(name, key))

    def _overtaken(self, name: str, job: JobFile, typed: Form, key: str) -> Reply:
        """The page of the file as it is now: something else changed it since it was shown."""
        return self._shown(name, job, job.text(), key, Change(job.text(), typed), (
            OVERTAKEN,), 409)

    def _shown(
        self, name: str, job: JobFile, text: str, key: str, change: Change | None = None,
        notices: tuple[str, ...] = (), status: int = 200,
    ) -> Reply:
        """A station as a page."""
        common = self._common(name, job, text, key, notices)
        if key == "measure":
            page = measuring(text, change)
            return Reply(rendered("measure.html", **common, page=page, title=page.title), status)
        if key == "print":
            settings = printing(text, change)
            return Reply(rendered("print.html", **common, page=settings, title=settings.title),
                         status)
        if key == "bench":
            book = job.bench()
            found, wrong = ends(text, book.rounds, book.ticks)
            return Reply(rendered("bench.html", **common, title=name, ends=found, wrong=wrong),
                         status)
        words = said(key, text)
        return Reply(rendered("words.html", **common, title=words.title, wrong=words.wrong,
                              blocks=words.blocks, frame=key == "tubes" and not words.wrong),
                     status)

    def _common(
        self, name: str, job: JobFile, text: str, key: str, notices: tuple[str, ...]
    ) -> dict[str, object]:
        """What every station's page has."""
        around, notes = job.around(text)
        return {"name": name, "station": STATIONS[KEYS.index(key)], "as_of": stamp(text),
                "notices": (*notices, *notes), "around": around, "network": self.network}

    def refused(self, status: int, words: str) -> Reply:
        """A page that says why there is no answer."""
        head = "There is nothing here" if status == 404 else "That was not done"
        return Reply(rendered("refused.html", head=head, words=words, notices=(words,),
                              network=False), status)

    def static(self, name: str) -> Reply:
        """A file of the page itself."""
        known = {path.name: path for path in STATIC.iterdir()}
        if name not in known:
            return self.refused(404, "The page has no such place.")
        return Reply(known[name].read_bytes(), kind=KINDS_OF[known[name].suffix])


def _address(name: str, key: str) -> str:
    return f"/{quote(name, safe='')}/{key}"


def _end_parts(parts: Parts) -> tuple[str, str, Which]:
    """Tube, side and end; refused where they name none."""
    tube, side, which = parts
    if which not in ENDS or side not in (*SIDES, NO_SIDE):
        raise FileError("there is no such end", "choose one of the list")
    return tube, side, which
