"""Where in the text of a TOML file its statements stand: each key with its value, and each heading.

The text has been read by the parser already, so that it is known to be TOML; this says of every
key from which character to which it and its value go.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

Path = tuple[str, ...]
"""Nested keys, the outermost first."""

Place = tuple[str | int, ...]
"""The keys and places in lists that lead to a value."""

_TEXT: Final = (
    r'''"""(?:[^"\\]++|\\.|"{1,2}(?!"))*+"{3,5}'''
    r"""|'''(?:[^']++|'{1,2}(?!'))*+'{3,5}"""
    r'''|"(?:[^"\\\n]++|\\.)*+"|'[^'\n]*+\'''')
"""Any text of TOML 1.0 in its quotes."""

_TOKEN: Final = re.compile(
    rf"{_TEXT}|\#[^\n]*+|[\[\]{{}},\n]|[^\S\n]++|[^\s\"'\#\[\]{{}},]++", re.DOTALL)
"""What a value is made of, its blanks and the comments in it too."""

_PART: Final = re.compile(rf"{_TEXT}|[A-Za-z0-9_-]++", re.DOTALL)
"""One part of a dotted key."""

_BETWEEN: Final = re.compile(r"(?:\s++|\#[^\n]*+)*+")
"""Blanks, line ends and comments between two statements."""

_BLANKS: Final = re.compile(r"[ \t]*+")
_DOT: Final = re.compile(r"[ \t]*+\.[ \t]*+")
_EQUALS: Final = re.compile(r"[ \t]*+=[ \t]*+")


@dataclass(frozen=True, slots=True)
class Statement:
    """A key with its value, or a heading.

    Attributes
    ----------
    path : Path
        Of the whole file.
    heading : Path
        Of the heading that it stands under; of a heading its own.
    start, value, end : int
        Where it begins in the text, where its value does, and where that ends. Of a heading the
        value is where the heading ends.
    inline : bool
        Whether it stands in a table in { }.
    """

    path: Path
    heading: Path
    start: int
    value: int
    end: int
    inline: bool = False

    @property
    def is_heading(self) -> bool:
        """Whether it is the heading of a table."""
        return self.value == self.end


@dataclass(frozen=True, slots=True)
class Spot:
    """Where in the text a part of a key, or a text in quotes, stands.

    Attributes
    ----------
    path : Place
        Of the whole file, up to it.
    start, end : int
    value : str
        It without its quotes.
    """

    path: Place
    start: int
    end: int
    value: str


def statements(text: str) -> Iterator[Statement]:
    """Every statement of ``text`` in its order, those in a table in { } after the whole table's."""
    at, heading = _past(_BETWEEN, text, 0), Path()
    while at < len(text):
        if text[at] == "[":
            marks = 2 if text.startswith("[[", at) else 1
            heading, end = _key(text, past_blanks(text, at + marks))
            end = past_blanks(text, end) + marks
            yield Statement(heading, heading, at, end, end)
        else:
            key, end = _key(text, at)
            value = _past(_EQUALS, text, end)
            end = _value_end(text, value)
            yield Statement((*heading, *key), heading, at, value, end)
            yield from _inline(text, (*heading, *key), value)
        at = _past(_BETWEEN, text, end)


def _inline(text: str, path: Path, value: int) -> Iterator[Statement]:
    """The statements in the table that begins at ``value``; none where it is no table."""
    if text[value] != "{":
        return
    at = _past(_BETWEEN, text, value + 1)
    while text[at] != "}":
        key, end = _key(text, at)
        inner = _past(_EQUALS, text, end)
        end = _value_end(text, inner)
        yield Statement((*path, *key), path, at, inner, end, inline=True)
        yield from _inline(text, (*path, *key), inner)
        at = _past(_BETWEEN, text, end)
        if text[at] == ",":
            at = _past(_BETWEEN, text, at + 1)


def _key(text: str, at: int) -> tuple[Path, int]:
    """The parts of the key at ``at``, and where it ends."""
    parts = tuple(_parts(text, at))
    return tuple(part.value for part in parts), parts[-1].end


def _parts(text: str, at: int) -> Iterator[Spot]:
    """Each part of the key at ``at``."""
    path: Place = ()
    while True:
        end = _past(_PART, text, at)
        part = unquoted(text[at:end])
        path = (*path, part)
        yield Spot(path, at, end, part)
        following = _DOT.match(text, end)
        if following is None:
            return
        at = following.end()


def key_parts(text: str, one: Statement) -> Iterator[Spot]:
    """Each part of the key that a statement begins with, or of its heading, with its whole path."""
    at = one.start
    if one.is_heading:
        at = past_blanks(text, at + (2 if text.startswith("[[", at) else 1))
    before = () if one.is_heading else one.heading
    for part in _parts(text, at):
        yield Spot((*before, *part.path), part.start, part.end, part.value)


def texts(text: str) -> Iterator[Spot]:
    """Every text in quotes that is a value, in lists and tables in { } too."""
    for one in statements(text):
        if not (one.is_heading or one.inline):
            yield from _texts(text, one.path, one.value)


def _texts(text: str, path: Place, at: int) -> Iterator[Spot]:
    """The texts in the value at ``at``."""
    sign = text[at]
    if sign in "\"'":
        end = _value_end(text, at)
        yield Spot(path, at, end, unquoted(text[at:end]))
    if sign not in "[{":
        return
    at, index = _past(_BETWEEN, text, at + 1), 0
    while text[at] not in "]}":
        inner: Place = (*path, index)
        if sign == "{":
            key, at = _key(text, at)
            inner, at = (*path, *key), _past(_EQUALS, text, at)
        yield from _texts(text, inner, at)
        at, index = _past(_BETWEEN, text, _value_end(text, at)), index + 1
        if text[at] == ",":
            at = _past(_BETWEEN, text, at + 1)


def unquoted(part: str) -> str:
    """A key or a text without its quotes."""
    if part[:1] not in ("'", '"'):
        return part
    return str(tomllib.loads(f"part = {part}")["part"])


def _value_end(text: str, start: int) -> int:
    """Where the value that begins at ``start`` ends, blanks after it not counted."""
    depth, end = 0, start
    for token in _TOKEN.finditer(text, start):
        sign = token[0]
        if depth == 0 and sign[0] in "#\n,]}":
            break
        depth += (sign in ("[", "{")) - (sign in ("]", "}"))
        if not sign.isspace():
            end = token.end()
    return end


def _past(pattern: re.Pattern[str], text: str, at: int) -> int:
    """Where the match of ``pattern`` at ``at`` ends; ``at`` itself where there is none."""
    found = pattern.match(text, at)
    return at if found is None else found.end()


def past_blanks(text: str, at: int) -> int:
    """Where the blanks that begin at ``at`` end, in the same line."""
    return _past(_BLANKS, text, at)
