"""Who may come in: a request is refused before anything of it is read.

The page is served to the person who started it. Another site that is open in the same browser can
send requests here, and a name of its own can be made to lead here (DNS rebinding); on a network
anybody can. Each of them lacks something that the page's own requests have.
"""

from __future__ import annotations

import secrets
from collections.abc import Collection
from dataclasses import dataclass
from typing import Final

MOST_BODY: Final = 1 << 20
"""1 MiB of a form: as much as a job file may have."""

COOKIE: Final = "coper-key"
"""The cookie that holds the key."""

KEY_BYTES: Final = 16
"""128 random bits: nobody guesses it while the page runs."""

READING: Final = ("GET", "HEAD")
CHANGING: Final = "POST"

OWN_SITE: Final = ("same-origin", "none")
"""What a browser says of a request that a page of this address sent, or the person (W3C, Fetch
Metadata Request Headers, section 2.3)."""

HEADERS: Final = {
    "Content-Security-Policy":
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; "
        "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",  # with none at all a browser hides Origin from us as well
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cache-Control": "no-store",
}
"""What every answer says: nothing but its own, no inline script, in nobody's frame, not kept."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What of a request is looked at.

    Attributes
    ----------
    method : str
    host, origin, site : str or None
        Its ``Host``, ``Origin`` and ``Sec-Fetch-Site``; ``None`` where it has none.
    key : str or None
        The key in its cookie, or in its address where it is the first.
    length : str or None
        Its ``Content-Length``.
    """

    method: str
    host: str | None = None
    origin: str | None = None
    site: str | None = None
    key: str | None = None
    length: str | None = None


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why a request is not answered: the status, and a sentence for the person."""

    status: int
    words: str


@dataclass(frozen=True, slots=True)
class Guard:
    """What the page's own requests have.

    Attributes
    ----------
    hosts : collection of str
        Every address that it serves, as a ``Host`` says it: ``127.0.0.1:8731``.
    key : str
        What only the printed address holds; empty where only this computer can come in.
    """

    hosts: Collection[str]
    key: str = ""

    def refusal(self, asked: Asked) -> Refusal | None:
        """Why the request is refused; ``None`` where it may come in."""
        if asked.host is None or asked.host.lower() not in self.hosts:
            return Refusal(403, "This page is not served under that address.")
        if self.key and not secrets.compare_digest(
                self.key.encode(), (asked.key or "").encode("utf-8", "replace")):
            return Refusal(403, "The key is missing or no longer good: open the address that "
                                "coper printed, with all of its letters, or scan its code again.")
        if asked.method not in (*READING, CHANGING):
            return Refusal(405, "The page takes no such request.")
        if asked.method == CHANGING and self._from_elsewhere(asked):
            return Refusal(403, "Another site sent this change: it was not made.")
        if asked.length is not None and not _fits(asked.length):
            return Refusal(413, "That is larger than 1 MiB: it was not read.")
        return None

    def _from_elsewhere(self, asked: Asked) -> bool:
        """Whether a change comes from another site.

        Browsers say so themselves in ``Sec-Fetch-Site``, but only to an address that they trust,
        which this computer is and a network is not; there ``Origin`` says it. What sends neither
        is no browser (the method of Go's ``http.CrossOriginProtection``).
        """
        if asked.site is not None:
            return asked.site not in OWN_SITE
        return asked.origin is not None and asked.origin.lower() != f"http://{asked.host}".lower()


def new_key() -> str:
    """A key that nobody has."""
    return secrets.token_urlsafe(KEY_BYTES)


def _fits(length: str) -> bool:
    return length.isascii() and length.isdigit() and int(length[:20]) <= MOST_BODY
