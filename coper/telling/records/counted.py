"""Records of an end's clocks, as its tube counts them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

Record = dict[str, Any]


def recounted(
    record: Record, count: Callable[[float], float], lists: Sequence[str], clocks: Sequence[str]
) -> Record:
    """``record`` in the order of clocks that ``count`` gives of its own.

    Parameters
    ----------
    record
        With a list ``clock``, degrees.
    count
        A clock, degrees, as it is to be counted.
    lists
        The names of the lists that run over the same clocks.
    clocks
        Those of single clocks, each a number or ``None``.
    """
    clock = [count(own) for own in record["clock"]]
    order = sorted(range(len(clock)), key=clock.__getitem__)
    return {
        **record,
        "clock": [clock[at] for at in order],
        **{name: [record[name][at] for at in order] for name in lists},
        **{name: None if record[name] is None else count(record[name]) for name in clocks},
    }
