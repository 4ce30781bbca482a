"""From the text of a job file to its tables, or to one line about what TOML does not take.

People write what they mean: 12mm, 40,5, 6". The parser says where it stopped; this says what was
probably meant, with the line as it should be.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from functools import lru_cache
from typing import Final

from coper.errors import CoperError
from coper.job.bounds import check_bounds
from coper.job.faults import JobError
from coper.job.schema import TomlTable
from coper.units import shown

Advice = tuple[str, str]
"""What is wrong, and what mends it."""

LONGEST_LINE = 1000
"""What was meant is looked for in a line of so many characters: nobody types a longer one, and
the patterns of what people write take long over it."""

REMEMBERED: Final = 8
"""Texts that are read once: a change reads one before it, one after it, and both again to check."""

_PLACE = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")
_STATEMENT = re.compile(r"\s*([\w.\"' -]+?)\s*=\s*(.*?)\s*(?:#[^\"']*)?$")
_CURLY = str.maketrans({"“": '"', "”": '"', "„": '"', "‟": '"', "«": '"', "»": '"', "″": '"',
                        "‘": "'", "’": "'"})
_DECIMAL_COMMA = re.compile(r"([+-]?\d+),(\d+)")
_DOUBLED = re.compile(r'("[^"]*\d)""')
_INCHES = r'\1in"'
_TABLE = re.compile(r"\s*(\[\[?)([^\[\]]*)(\]\]?)")


@lru_cache(maxsize=REMEMBERED)
def read_toml(text: str) -> TomlTable:
    """The tables of ``text``: they are read, and never changed.

    Raises
    ------
    JobError
        With one fault: the place, the line as it stands, and how it should be.
    """
    check_bounds(text)
    try:
        return tomllib.loads(text)
    except ValueError as error:  # a syntax fault, or a whole number of thousands of digits
        raise JobError([_fault(text, str(error))]) from None


def _fault(text: str, message: str) -> CoperError:
    found, said = _PLACE.search(message), _PLACE.sub("", message)
    if not found:
        return CoperError(f"not valid TOML: {said}", "mend the line")
    number, line, column = _stop(text, found)
    advice = _advice(text, number, line, column, said) if len(line) <= LONGEST_LINE else iter(())
    fault, cure = next(advice, (
        f"not valid TOML ({said[:1].lower()}{said[1:]})", "mend the line"))
    where = f"line {number} column {column}"
    return CoperError(f"{shown(line.strip())}: {fault}", cure, where)


def _stop(text: str, found: re.Match[str]) -> tuple[int, str, int]:
    """Number, text and column of the line where the parser stopped, from 1.

    At a line's first column, or at the end, the fault is in the last line before that holds
    anything.
    """
    lines = text.splitlines() or [""]
    number, column = (int(found[1]), int(found[2])) if found[1] else (len(lines) + 1, 1)
    if column == 1 and number > 1:
        number -= 1
        while number > 1 and not lines[number - 1].strip():
            number -= 1
        column = len(lines[number - 1]) + 1
    return number, lines[min(number, len(lines)) - 1], column


def _advice(text: str, number: int, line: str, column: int, said: str) -> Iterator[Advice]:
    """What may be meant, the likeliest first."""
    straight = line.translate(_CURLY)
    if straight != line:
        yield "curly quotes", f"use straight ones: {straight.strip()}"
    if "Cannot" in said or "twice" in said:
        yield _twice(text, number, line)
    for judge in (_of_statement, _of_list, _of_heading):
        advice = judge(line, column, said)
        if advice:
            yield advice


def _twice(text: str, number: int, line: str) -> Advice:
    """A key or a table that stands in the file a second time."""
    name = line.split("=", maxsplit=1)[0].strip()
    before = next((index for index, other in enumerate(text.splitlines()[:number - 1], 1)
                   if other.split("=")[0].strip() == name), None)
    first = "" if before is None else f", first in line {before}"
    return f"{shown(name)} stands twice{first}", "take one away, or give it another name"


def _of_statement(line: str, column: int, said: str) -> Advice | None:
    """A value that is not as TOML wants it; ``key = value`` on the line."""
    statement = _STATEMENT.fullmatch(line)
    if not statement:
        return None
    key, value = statement[1], statement[2]
    if " " in key and key[0] not in "\"'":
        return "a key with spaces needs quotes", f'write "{key}" = {value}'
    if not value:
        return "nothing after the =", f"add the value, such as {key} = 25.4"
    if value[0] in "[{":
        return None
    judges = (_round_brackets, _comma, _truth, _inch_mark, _open_quote, _bare)
    advice = next(filter(None, (judge(value) for judge in judges)), None)
    return None if advice is None else (advice[0], f"write {key} = {advice[1]}")


def _round_brackets(value: str) -> Advice | None:
    if value[0] == "(":
        return "a list stands in square brackets", f"[{value.strip('()')}]"
    return None


def _comma(value: str) -> Advice | None:
    found = _DECIMAL_COMMA.fullmatch(value)
    return ("a comma is no decimal sign here, a point is", f"{found[1]}.{found[2]}"
            ) if found else None


def _truth(value: str) -> Advice | None:
    word = value.lower()
    if word in ("yes", "on", "true"):
        return f"{value} is not a word of TOML", "true"
    return (f"{value} is not a word of TOML", "false") if word in ("no", "off", "false") else None


def _inch_mark(value: str) -> Advice | None:
    """An inch mark that the parser takes for the end of the text, or for its beginning."""
    inner = value[1:-1] if value[:1] == '"' == value[-1:] and len(value) > 1 else value
    if '"' not in inner or not re.search(r"\d\"", inner):
        return None
    better = re.sub(r"(\d)\"", r"\1in", inner).strip('"')
    return "the inch mark ends the quotes", f'"{better}"'


def _open_quote(value: str) -> Advice | None:
    mark = value[0]
    if mark in "\"'" and value.count(mark) == 1:
        return "the quotes are not closed", f"{value}{mark}"
    return None


def _bare(value: str) -> Advice | None:
    """Text without its quotes."""
    if value[0] in "\"'":
        return None
    if re.fullmatch(r"[+-]?(\.\d+|\d+\.)", value):
        whole, _, part = value.partition(".")
        return "a number has digits on both sides of its point", f"{whole or 0}.{part or 0}"
    if re.fullmatch(r"0\d+(\.\d+)?", value):
        return "a number does not begin with 0", value.lstrip("0")
    return "text needs quotes", f'"{value}"'


def _of_list(line: str, column: int, said: str) -> Advice | None:
    """A list or an inline table: bare text in it, a comma too few or too many, no end."""
    if line.lstrip().startswith("["):
        return None
    before, after = line[:column - 1], line[column - 1:]
    return _in_list(line, before, after) or _list_end(line, before, after.strip(), said)


def _in_list(line: str, before: str, after: str) -> Advice | None:
    """Text in a list whose quotes are missing, or ended by an inch mark."""
    if _DOUBLED.search(line):
        return "the inch mark ends the quotes", f"write {_DOUBLED.sub(_INCHES, line).strip()}"
    word = _word_at(before, after)
    if not word:
        return None
    better = word.replace('"', "in")
    return f"{shown(word)} needs quotes", f'write "{better}"'


def _list_end(line: str, before: str, after: str, said: str) -> Advice | None:
    """Commas and brackets."""
    if any(word in said for word in ("Unterminated", "Illegal")):
        return "the quotes are not closed", "close them"
    if line.count("{") > line.count("}"):
        return "a table in { } is not closed in its line", "write it on one line, and close it"
    if before.rstrip().endswith(",") and after[:1] in ("]", "}"):
        return "a comma before the closing bracket", (
            f"write {before.rstrip()[:-1].strip()} {after}")
    if "Unclosed" in said and after and after[0] not in "]},#":
        return f"a comma is missing before {shown(after)}", f"write {before.strip()}, {after}"
    if line.count("[") > line.count("]"):
        return "a bracket is not closed", "close it"
    return None


def _word_at(before: str, after: str) -> str | None:
    """The word in a list where the parser stopped, if it is neither number nor quoted."""
    begun = re.search(r"[^\s,=\[\]{}\"']*$", before)
    rest = re.match(r"[^\s,\[\]{}']*", after)
    word = (begun[0] if begun else "") + (rest[0] if rest else "")
    ahead = before[:len(before) - len(begun[0] if begun else "")].rstrip()
    bare = re.search(r"[A-Za-z/\"]", word) and not word.startswith('"')
    return word if bare and ahead[-1:] in ("=", "[", ",") else None


def _of_heading(line: str, column: int, said: str) -> Advice | None:
    """The heading of a table, or a line that is neither a heading nor a key with a value."""
    heading = _TABLE.match(line)
    if heading and " " in heading[2].strip():
        *path, name = heading[2].split(".", 1)
        quoted = ".".join((*path, f'"{name.strip()}"'))
        return "a name with spaces needs quotes", f"write [{quoted}]"
    if line.lstrip().startswith("["):
        return "the heading of a table is not closed", f"write {line.strip()}]"
    if "=" not in line:
        colon = re.fullmatch(r"\s*([\w-]+)\s*:\s*(.+)", line)
        better = f"{colon[1]} = {colon[2]}" if colon else "KEY = VALUE"
        return "no = between key and value", f"write {better}"
    return None
