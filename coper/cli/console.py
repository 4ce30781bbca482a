"""What is printed, whoever listens: any encoding, a reader that has left, a stream that is shut.

What a command has done does not depend on who hears of it. A line that cannot be written is
dropped and the work goes on; where the answer itself was lost, ``lost`` says why, and the command
ends with a complaint. A reader that leaves has seen enough, and a stream that was shut before the
command began has none: neither is a fault.
"""

from __future__ import annotations

import unicodedata
from typing import Final, TextIO

from coper.units import printable

_PLAIN: Final = {
    "°": "deg", "×": "x", "–": "-", "—": "-", "−": "-", "·": ".", "…": "...", "′": "'", "″": '"',
    "‘": "'", "’": "'", "“": '"', "”": '"', "≤": "<=", "≥": ">=", "←": "<-", "→": "->",
    "↑": "up", "↓": "down",
}
"""The signs of the trade in plain letters, for a console that has no others."""


class Console:
    """A stream that takes any line.

    Attributes
    ----------
    stream : TextIO or None
        ``None`` where the stream was shut before the command began.
    alive : bool
        Whether it is a terminal, where a line can be overwritten.
    lost : str
        Why lines were lost, in the system's words; empty where none were, or nobody listens.
    """

    def __init__(self, stream: TextIO | None) -> None:
        self.stream = stream
        self.alive = stream is not None and stream.isatty()
        self.lost = ""
        self._encoding = getattr(stream, "encoding", None) or "utf-8"

    def line(self, text: str, end: str = "\n") -> None:
        """Write one line; no character of it moves the cursor or begins another line."""
        self.put(f"{self.spelt(printable(text))}{end}")

    def spelt(self, text: str) -> str:
        """The text, with plain letters for what the console's encoding has not."""
        if text.isascii() or self._has(text):
            return text
        return "".join(c if self._has(c) else self._plain(c) for c in text)

    def put(self, text: str) -> None:
        """Write what is known to be harmless, as it is."""
        if self.stream is None:
            return
        try:
            self.stream.write(text)
        except (OSError, ValueError) as fault:
            self._shut(fault)

    def flush(self) -> None:
        """Hand on all that was written."""
        if self.stream is None:
            return
        try:
            self.stream.flush()
        except (OSError, ValueError) as fault:
            self._shut(fault)

    def _shut(self, fault: OSError | ValueError) -> None:
        """Write nothing more."""
        self.stream = None
        if not isinstance(fault, BrokenPipeError):
            self.lost = (getattr(fault, "strerror", None) or "the stream is shut").lower()

    def _has(self, text: str) -> bool:
        try:
            text.encode(self._encoding)
        except (UnicodeError, LookupError):
            return False
        return True

    def _plain(self, character: str) -> str:
        """A character in ASCII: by its meaning, without its accent, or by its number."""
        if character in _PLAIN:
            return _PLAIN[character]
        base = unicodedata.normalize("NFKD", character).encode("ascii", "ignore").decode()
        return base or character.encode("ascii", "backslashreplace").decode()
