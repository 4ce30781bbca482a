"""What is said where the lettering on paper lacks a letter."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from coper.drawing.letters import MARK, lacking

MOST_LACKING = 8
"""Letters that are named; of a title in another script the first do."""


def lacking_words(names: Iterable[str]) -> Iterator[str]:
    """A caution where the lettering on paper has not every letter of some names."""
    letters = lacking("".join(names))
    if letters:
        codes = ", ".join(f"U+{ord(letter):04X}" for letter in letters[:MOST_LACKING])
        more = ", …" if len(letters) > MOST_LACKING else ""
        yield (f"The lettering lacks letters of a name ({codes}{more}): {MARK} stands for each. "
               "Two names may look the same.")
