"""A change that was written into a job file, in words."""

from __future__ import annotations

from collections.abc import Iterator

from coper.bicycle.before_after import BeforeAfter
from coper.job.changed import Kept
from coper.job.toml_value import toml_text
from coper.job.touched import cut_anew, moved_tubes
from coper.telling.grid import Grid
from coper.telling.lines import Fact, Line
from coper.units import format_angle

NOTHING = "-"
"""Of a key that was not there, or is no more."""


def kept_lines(kept: Kept, both: BeforeAfter, file: str) -> Iterator[Line]:
    """Which keys are others, which tubes move, and the head angle on the ground."""
    yield Grid(f"[bicycle] in {file}, bare numbers in {kept.after.units}", ("key", "was", "is"),
               tuple((key, old or NOTHING, new or NOTHING) for key, old, new in key_words(kept)))
    if any(new is None for _, _, new in key_words(kept)):
        yield "what is taken out was measured with the old parts"
    moved = moved_tubes(kept.before, kept.after)
    if moved:
        yield Fact("tubes that move", "; ".join(
            f"{name}, its {' and '.join(which)}" for name, which in moved.items()))
    if anew := cut_anew(kept.after, moved):
        yield Fact("cut anew", f"{', '.join(anew)}, seated on those")
    if kept.after.tubes and not moved:
        yield Fact("tubes that move", "none")
    angles = [one.measures.head_angle for one in (both.before, both.after)]
    if None not in angles:
        before, after = (format_angle(angle) for angle in angles if angle is not None)
        yield Fact("head angle", f"on the ground {before} before, {after} now")


def key_words(kept: Kept) -> tuple[tuple[str, str | None, str | None], ...]:
    """Each key that is another, its old and its new value as written; ``None`` for none."""
    return tuple((edit.key, None if edit.key not in kept.old else toml_text(kept.old[edit.key]),
                  None if edit.value is None else toml_text(edit.value)) for edit in kept.edits)
