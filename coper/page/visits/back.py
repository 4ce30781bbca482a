"""Undo and redo at any station, and whether the file is still the one that was shown."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from urllib.parse import unquote

from coper.errors import CoperError
from coper.page.keeping import JobFile, OvertakenError, stamp
from coper.page.visit import OVERTAKEN, Form, Reply, Visit


def as_of(visit: Visit) -> Reply:
    """What a page of the job says that it was drawn from, if it is drawn now."""
    return Reply(stamp(visit.text), kind="text/plain")


def gone_back(
    visit: Visit, way: Callable[[JobFile, str], tuple[str, ...]],
    show: Callable[[Visit], Reply],
) -> Reply:
    """The version that undo or redo brings back.

    Parameters
    ----------
    visit
        With where the person is: ``here`` of the form.
    way
        Brings it back.
    show
        The place that the person is at, where there is something to say.
    """
    if visit.overtaken:
        return show(visit.saying(OVERTAKEN, status=409))
    try:
        notes = way(visit.job, visit.text)
    except OvertakenError:
        return show(replace(visit, text=visit.job.text()).saying(OVERTAKEN, status=409))
    except CoperError as error:
        return show(visit.saying(f"Nothing was undone: {error}", status=409))
    if notes:
        return show(replace(visit, text=visit.job.text()).saying(*notes))
    return Reply(status=303, to=visit.address(*places(visit.form)) + visit.search)


def places(form: Form) -> tuple[str, ...]:
    """The parts of the place that a form was at."""
    return tuple(map(unquote, form.get("here", "").split("/")))
