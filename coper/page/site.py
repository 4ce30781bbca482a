"""What every address of the page answers: plain values in and out, no socket."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from threading import Lock
from typing import Final

from coper.cli.files import write_whole
from coper.errors import CoperError
from coper.job.starter import STARTER_UNITS
from coper.page.answers.shelf import (
    FIRST,
    LIKE,
    PAPERS_ASKED,
    Begun,
    JobShown,
    begun,
    job_shown,
)
from coper.page.answers.stations import KEYS
from coper.page.keeping import JobFile, stamp
from coper.page.making import Makings
from coper.page.shelf import Shelf, file_stem
from coper.page.templates import address, rendered
from coper.page.visit import SVG, Address, Call, Form, Reply, Visit
from coper.page.visits import (
    back,
    bench,
    check,
    end_view,
    ends,
    measure,
    printing,
    table,
    tubes,
)

STATIC: Final = Path(__file__).parent / "static"

KINDS_OF: Final = {".css": "text/css", ".js": "text/javascript", ".svg": SVG}

NOWHERE: Final = "The page has no such place."

ADDRESSES: Final = tuple(one for station in (
    measure, tubes, ends, table, check, printing, bench, end_view) for one in
    station.ADDRESSES)
"""Every place of a job but undo and redo, which lead to any of these."""


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
    _makings: Makings = field(default_factory=Makings)
    _sound: set[Path] = field(default_factory=set)
    _shown: dict[str, tuple[str, JobShown]] = field(default_factory=dict)

    def jobs(self, given: Form | None = None, begun_so_far: Begun | None = None) -> Reply:
        """The list of jobs, with the questions of a new one."""
        if self.shelf.only is not None:
            return Reply(status=303, to=address(self.shelf.only.stem, KEYS[0]))
        shown = self._listed()
        wrong = {} if begun_so_far is None else begun_so_far.wrong or {}
        return Reply(rendered(
            "shelf.html", folder=self.shelf.folder.name, jobs=shown, can_begin=True, notices=(),
            network=self.network, given={**FIRST, **(given or {})}, wrong=wrong, kinds=LIKE,
            units=STARTER_UNITS, papers=PAPERS_ASKED), 422 if wrong else 200)

    def _listed(self) -> list[JobShown]:
        """The jobs of the list, each read anew only where its text is another."""
        found: dict[str, tuple[str, JobShown]] = {}
        for name, path in self.shelf.jobs().items():
            try:
                text = JobFile(path).text()
            except CoperError:  # it has just been taken away
                continue
            as_of, before = stamp(text), self._shown.get(name)
            found[name] = before if before and before[0] == as_of else (
                as_of, job_shown(name, text))
        self._shown.clear()
        self._shown.update(found)
        return [one for _, one in found.values()]

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
        return Reply(status=303, to=address(file_stem(form["title"]), KEYS[0]))

    def looked_at(self, call: Call) -> Reply:
        """A place of a job."""
        place = call.parts[1:]
        if place == ("as-of",):
            return back.as_of(self._visit(call, {}))
        for found, own in _places(place):
            if found.get is not None:
                return found.get(self._visit(call, own))
        return self.refused(404, NOWHERE)

    def posted(self, call: Call) -> Reply:
        """A change at a place of a job."""
        place = call.parts[1:]
        for way, go in (("undo", JobFile.undo), ("redo", JobFile.redo)):
            if place == (way,):
                return self._back(call, go)
        for found, own in _places(place):
            if found.post is not None:
                return found.post(self._visit(call, own))
        return self.refused(404, NOWHERE)

    def static(self, name: str) -> Reply:
        """A file of the page itself."""
        known = {path.name: path for path in STATIC.iterdir()}
        if name not in known:
            return self.refused(404, NOWHERE)
        return Reply(known[name].read_bytes(), kind=KINDS_OF[known[name].suffix])

    def refused(self, status: int, words: str) -> Reply:
        """A page that says why there is no answer."""
        head = "There is nothing here" if status == 404 else "That was not done"
        return Reply(rendered("refused.html", head=head, words=words, notices=(words,),
                              network=False), status)

    def _visit(self, call: Call, parts: Mapping[str, str]) -> Visit:
        """Somebody at a job; refused where the folder has none of that name."""
        name = call.parts[0]
        job = JobFile(self.shelf.path(name), self._sound)
        return Visit(name, job, job.text(), parts, call.query, call.form, narrow=call.narrow,
                     network=self.network, drawing=self._drawing, makings=self._makings)

    def _back(self, call: Call, go: Callable[[JobFile, str], tuple[str, ...]]) -> Reply:
        for found, own in _places(back.places(call.form)):
            if found.get is not None:
                return back.gone_back(self._visit(call, own), go, found.get)
        return self.refused(404, NOWHERE)


def _places(place: Sequence[str]) -> Iterator[tuple[Address, dict[str, str]]]:
    """Every place that an address may be, with the parts that it leaves open."""
    for one in ADDRESSES:
        parts = one.open_parts(place)
        if parts is not None:
            yield one, parts
