"""A job that is looked at with a change of its bicycle, in words."""

from __future__ import annotations

from dataclasses import fields

from coper.bicycle.change import Change
from coper.bicycle.wheel import Wheel
from coper.job.job import Job
from coper.units import format_angle, format_size


def job_title(job: Job) -> str:
    """The job's title, with the change that it is looked at with."""
    if not job.change.asked:
        return job.title
    return f"{job.title or 'The job'}, with {change_words(job.change)}"


def change_caution(job: Job) -> tuple[str, ...]:
    """What a drawing says of the change, whose title may be too long for the page."""
    if not job.change.asked:
        return ()
    return (f"This is with {change_words(job.change)}: the job's file is without.",)


def change_words(change: Change) -> str:
    """What becomes different, in a few words."""
    values = [(field.name, getattr(change, field.name)) for field in fields(change)]
    return ", ".join(f"{name.replace('_', ' ')} {_short(name, value)}"
                     for name, value in values if value is not None)


def _short(name: str, value: float | Wheel) -> str:
    if isinstance(value, Wheel):
        return value.size or f"of radius {format_size(value.radius)}"
    return format_angle(value) if name == "head_angle" else format_size(value)
