"""Who asks for what somebody is being answered already waits in line; who goes away is let go.

An answer may take long, and cannot be stopped in the middle. So each thing is worked out for one
at a time, and the next finds most of it known; whoever closed the window, or loaded it again,
while they waited is not answered at all. However often a slow page is asked for, one of it is
worked on, and everybody else is answered meanwhile.
"""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from dataclasses import dataclass, field
from typing import Final

LOOK_S: Final = 0.01
"""Between two looks of who waits whether it is their turn."""


@dataclass(frozen=True, slots=True)
class Lines:
    """The lines, by what is waited for; each is there as long as somebody is answered in it."""

    _taken: set[str] = field(default_factory=set)

    async def answered(
        self, line: str, gone: Callable[[], bool], answer: Callable[[], Awaitable[None]]
    ) -> None:
        """Answer when it is their turn; not at all where they have ``gone`` before."""
        while line in self._taken:
            await asyncio.sleep(LOOK_S)
            if gone():
                return
        self._taken.add(line)
        try:
            await answer()
        finally:
            self._taken.discard(line)
