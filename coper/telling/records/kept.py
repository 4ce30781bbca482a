"""A change that was written into a job file, under the names of the JSON output."""

from __future__ import annotations

from typing import Any

from coper.bicycle.before_after import BeforeAfter
from coper.job.changed import Kept
from coper.job.touched import cut_anew, moved_tubes
from coper.telling.words.kept import key_words


def kept_record(kept: Kept, both: BeforeAfter, file: str) -> dict[str, Any]:
    """The keys that are others, as the file has them, the tubes that are, and the head angle."""
    moved = moved_tubes(kept.before, kept.after)
    return {
        "file": file,
        "units": kept.after.units,
        "keys": [{"key": f"bicycle.{key}", "old": old, "new": new}
                 for key, old, new in key_words(kept)],
        "moved": [{"name": name, "points": list(which)} for name, which in moved.items()],
        "cut_anew": list(cut_anew(kept.after, moved)),
        "head_angle": {"before": both.before.measures.head_angle,
                       "after": both.after.measures.head_angle},
    }
