"""What takes long, made while the page goes on answering: one thing a job, and one at a time."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import dataclass, field
from threading import Lock, Thread, Timer
from time import monotonic
from typing import Final, TypeAlias

from coper.errors import CoperError, FileError, bounded
from coper.page.answers.change import every_fault

WAITED_FOR_S: Final = 120.0
"""What nobody has looked at for so long is not wanted any more: a browser looks after a window in
the background once a minute."""

KEPT_S: Final = 600.0
"""So long what was made is there to be fetched."""

MOST: Final = 6
"""Jobs of which something is being made or kept."""

TURN_S: Final = 0.1
"""Between two looks whether it is its turn, and still wanted."""

THREAD: Final = "coper-making"
"""The name of a thread that makes something."""

TURN: Final = "waits for the packet of another job"

Say: TypeAlias = Callable[[str, float], None]
"""Hears of each step as it begins, and which share of all is done."""

Make: TypeAlias = Callable[[Say], bytes]


class StoppedError(Exception):
    """Nobody waits for it any more: raised in the middle of the work, where it says a step."""


@dataclass(slots=True, eq=False)
class Making:
    """Something that is being made, or was.

    Attributes
    ----------
    wanted
        What of the job; two that are equal are the same thing.
    step, share : str and float
        What is being done, and which share of all is behind it, 0 to 1.
    made : bytes
        What came of it, once it has ended.
    wrong : tuple of str
        Why nothing did.
    ended : bool
    looked : float
        When somebody looked at it last, s.
    """

    wanted: Hashable
    step: str = TURN
    share: float = 0.0
    made: bytes = b""
    wrong: tuple[str, ...] = ()
    ended: bool = False
    stopped: bool = False
    looked: float = field(default_factory=monotonic)

    def say(self, step: str, share: float) -> None:
        """Hear of a step.

        Raises
        ------
        StoppedError
            Where it was stopped, or nobody looks at it any more.
        """
        if self.stopped or monotonic() - self.looked > WAITED_FOR_S:
            raise StoppedError
        self.step, self.share = step, share


@dataclass(frozen=True, slots=True)
class Makings:
    """All that is being made, or kept until it is fetched, by its job."""

    _known: dict[Hashable, Making] = field(default_factory=dict)
    _lock: Lock = field(default_factory=Lock)
    _turn: Lock = field(default_factory=Lock)

    def of(self, job: Hashable) -> Making | None:
        """What is being made of a job, or was; it is looked at with that."""
        with self._lock:
            found = self._known.get(job)
            if found is not None:
                found.looked = monotonic()
            return found

    def begin(self, job: Hashable, wanted: Hashable, make: Make) -> Making:
        """Make something of a job; what was being made of it instead is stopped.

        What is wanted twice at once is made once.

        Raises
        ------
        FileError
            Where as much is being made already as there may be.
        """
        with self._lock:
            found = self._known.get(job)
            if found is not None and found.wanted == wanted and (found.made or not found.ended):
                found.looked = monotonic()
                return found
            self._make_room(job)
            making = self._known[job] = Making(wanted)
        Thread(target=self._work, args=(job, making, make), name=THREAD, daemon=True).start()
        return making

    def stop(self, job: Hashable) -> None:
        """What is being made of a job ends at its next step; nothing of it is kept."""
        with self._lock:
            self._let_go(job)

    def _make_room(self, job: Hashable) -> None:
        self._let_go(job)
        if len(self._known) < MOST:
            return
        done = [other for other, making in self._known.items() if making.ended]
        if not done:
            raise FileError("as many packets are being made as there may be at once",
                            "wait until one is done, or cancel it")
        self._let_go(done[0])

    def _let_go(self, job: Hashable) -> None:
        making = self._known.pop(job, None)
        if making is not None:
            making.stopped = True

    def _work(self, job: Hashable, making: Making, make: Make) -> None:
        try:
            making.made = self._in_turn(making, make)
        except StoppedError:
            self._forget(job, making)
        except CoperError as error:
            making.wrong = every_fault(error)
        except Exception as error:
            making.wrong = (f"A fault in coper itself ({type(error).__name__}: "
                            f"{bounded(str(error))}). Report it.",)
        making.ended = True
        if not making.stopped:
            forgetting = Timer(KEPT_S, self._forget, (job, making))
            forgetting.daemon = True
            forgetting.start()

    def _in_turn(self, making: Making, make: Make) -> bytes:
        while not self._turn.acquire(timeout=TURN_S):
            making.say(TURN, 0.0)
        try:
            return make(making.say)
        finally:
            self._turn.release()

    def _forget(self, job: Hashable, making: Making) -> None:
        """Let go of it, where nothing else has its place already."""
        with self._lock:
            if self._known.get(job) is making:
                self._let_go(job)
