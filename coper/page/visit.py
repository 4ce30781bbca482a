"""Somebody at a job: what they ask for, and what every answer of a station has."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from threading import Lock
from typing import Final
from urllib.parse import urlencode

from coper.errors import CoperError
from coper.page.answers.change import Change, title_and_units
from coper.page.answers.stations import KEYS, STATIONS
from coper.page.keeping import JobFile, OvertakenError, stamp
from coper.page.making import Makings
from coper.page.templates import address, rendered

Form = Mapping[str, str]
"""The fields of a form by their names."""

HTML: Final = "text/html"
SVG: Final = "image/svg+xml"

OVERTAKEN: Final = (
    "Another window or program changed the job: this is how it is now. Nothing was written over; "
    "what you changed still stands in its field, and is not kept yet.")


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
class Call:
    """What somebody's browser asks for.

    Attributes
    ----------
    parts : tuple of str
        The parts of the address.
    query : dict of str to tuple of str
        What stands behind its question mark.
    form : Form
        What is posted; empty where something is only looked at.
    narrow : bool
        Whether it is a phone's.
    """

    parts: tuple[str, ...]
    query: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    form: Form = field(default_factory=dict)
    narrow: bool = False


@dataclass(frozen=True, slots=True)
class Visit:
    """Somebody at a job.

    Attributes
    ----------
    name : str
        The job's, that of its file.
    job : JobFile
    text : str
        All of the file, as it was when they came.
    parts : dict of str to str
        The parts of the address that its pattern leaves open.
    query : dict of str to tuple of str
        What stands behind the question mark of the address.
    form : Form
        What was posted; empty where something is only looked at.
    notices : tuple of str
        What is said above the station.
    status : int
        That of the answer, of HTTP.
    narrow : bool
        Whether they look from a phone.
    network : bool
        Whether other devices may come in, which every page then says.
    drawing : Lock
        Held by what takes long: such things are done one at a time.
    makings : Makings
        What is made while the page goes on answering.
    """

    name: str
    job: JobFile
    text: str
    parts: Mapping[str, str] = field(default_factory=dict)
    query: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    form: Form = field(default_factory=dict)
    notices: tuple[str, ...] = ()
    status: int = 200
    narrow: bool = False
    network: bool = False
    drawing: Lock = field(default_factory=Lock)
    makings: Makings = field(default_factory=Makings)

    @property
    def overtaken(self) -> bool:
        """Whether the file is not what the posted form was drawn from."""
        return self.form.get("as_of") != stamp(self.text)

    def asked(self, key: str) -> str:
        """The last value of a key behind the question mark; empty where it has none."""
        return self.query.get(key, ("",))[-1]

    @property
    def search(self) -> str:
        """What stands behind the address, its question mark too; empty where nothing does."""
        return self.asking({})

    def asking(self, given: Form) -> str:
        """The same with other values of some keys; what is empty is left out."""
        own = [(key, value) for key, values in self.query.items() for value in values
               if key not in ("as_of", *given)]
        pairs = [(key, value) for key, value in (*own, *given.items()) if value]
        return f"?{urlencode(pairs)}" if pairs else ""

    def saying(self, *notices: str, status: int = 200) -> Visit:
        """The same with something to be said above the station."""
        return replace(self, notices=(*self.notices, *notices), status=status)

    def address(self, *parts: str) -> str:
        """The address of a place of this job."""
        return address(self.name, *parts)

    def page(self, template: str, key: str, **values: object) -> Reply:
        """A page of the station ``key``.

        Undo and redo come back to it at ``key`` and the open parts of its address: a place that
        shows one has such an address.
        """
        around, notes = self.job.around(self.text)
        values["title"] = values.get("title") or title_and_units(self.text)[0]
        return Reply(rendered(
            template, name=self.name, station=STATIONS[KEYS.index(key)], as_of=stamp(self.text),
            notices=(*self.notices, *notes), around=around, network=self.network,
            here=address(key, *self.parts.values()).lstrip("/"), search=self.search,
            asking=self.asking, **values), self.status)


Show = Callable[[Visit, Change | None], Reply]
"""A station as a page, with what of a change could not be written."""


@dataclass(frozen=True, slots=True)
class Address:
    """A place of a job.

    Attributes
    ----------
    path : str
        What stands behind the job's name, such as ``bench/{tube}/{side}/{end}``.
    get, post
        What looking and posting there do.
    """

    path: str
    get: Callable[[Visit], Reply] | None = None
    post: Callable[[Visit], Reply] | None = None

    def open_parts(self, given: Sequence[str]) -> dict[str, str] | None:
        """The parts of an address that the path leaves open; ``None`` where it is another."""
        own = self.path.split("/")
        if len(own) != len(given):
            return None
        pairs = list(zip(own, given, strict=True))
        if any(one != part for one, part in pairs if not one.startswith("{")):
            return None
        return {one.strip("{}"): part for one, part in pairs if one.startswith("{")}


def changed_fields(visit: Visit, names: Iterable[str]) -> dict[str, str]:
    """What was typed in those fields that are not as they were when the form was drawn."""
    form = visit.form
    return {one: form[one] for one in names
            if one in form and form[one] != form.get(f"was.{one}", form[one])}


def kept(visit: Visit, typed: Form, change: Callable[[], Change], show: Show, to: str) -> Reply:
    """A change written as far as it can be, and the station anew.

    Parameters
    ----------
    visit
        With the form that was posted.
    typed
        What stays in its fields where nothing could be written.
    change
        Makes the text that is to be written.
    show
        The station as a page, where there is something to say.
    to
        The address that the browser goes on to where all of it is written.
    """
    if visit.overtaken:
        return overtaken(visit, show, typed)
    made = change()
    try:
        notes = visit.job.write(visit.text, made.text) if made.text != visit.text else ()
    except OvertakenError:
        return overtaken(visit, show, typed)
    except CoperError as error:
        return show(visit.saying(f"Not kept: {error}", status=507),
                    Change(visit.text, typed, (error,)))
    if made.typed or made.faults or notes:
        status = 422 if made.typed or made.faults else 200
        return show(replace(visit, text=made.text).saying(*notes, status=status), made)
    return Reply(status=303, to=to)


def overtaken(visit: Visit, show: Show, typed: Form) -> Reply:
    """The station of the file as it is now: something else changed it since it was shown."""
    text = visit.job.text()
    return show(replace(visit, text=text).saying(OVERTAKEN, status=409), Change(text, typed))
