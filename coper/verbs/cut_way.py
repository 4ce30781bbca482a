"""How an end was cut, as it is typed: ``bevelled``, ``square``, ``saw`` or the passes of a saw."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from coper.errors import WordsError
from coper.joint.fit.passes import Pass
from coper.joint.joint import Joint
from coper.joint.regrind.cut_end import SAWN
from coper.joint.template import CUTS
from coper.units import plain
from coper.verbs.about import Asked, about
from coper.verbs.options import choice, length, size

SAWN_FORM = f"{SAWN}=DIAMETER[@OFFSET,BEYOND…]"
CUT_HELP = (f"bevelled (usual), square, or {SAWN_FORM}; of a job the end's own, "
            f"or {SAWN} as its card sets it")
MOST_PASSES = 2
"""No saw is set for more."""


@dataclass(frozen=True, slots=True)
class SawnPass:
    """One pass of a saw as it is written; an ``offset`` of ``None`` is the joint's."""

    diameter: float
    offset: float | None = None
    beyond: float = 0.0

    def of(self, joint: Joint) -> Pass:
        """The pass on ``joint``: passes are right to each other, whatever the long point."""
        offset = joint.offset if self.offset is None else self.offset
        return Pass(self.diameter, offset, -self.beyond)


def cut_way(text: str) -> str | tuple[SawnPass, ...]:
    """``bevelled``, ``square``, ``saw``, or the passes of ``saw=DIAMETER[@OFFSET[,BEYOND]…]``."""
    words = "".join(text.lower().split())
    if words == SAWN:
        return SAWN
    if not words.startswith(f"{SAWN}="):
        return choice(*CUTS, f"{SAWN}=DIAMETER")(text)
    diameter, *passes = text.split("=", 1)[1].split("@")
    if len(passes) > MOST_PASSES:
        raise WordsError(f"{len(passes)} passes are too many", f"give {MOST_PASSES} at most")
    saw = size(diameter)
    return tuple(_pass(saw, words) for words in passes) or (SawnPass(saw),)


def read_cut(
    given: str | tuple[SawnPass, ...] | None, asked: Asked
) -> tuple[str | None, tuple[Pass, ...]]:
    """The cut and its passes as they were given of an end; ``None`` where nothing was.

    Raises
    ------
    WordsError
        Where the saw of a joint has no size: only an end of a job has a card that says it.
    """
    end = about(asked)
    if isinstance(given, tuple):
        return SAWN, tuple(one.of(end.first) for one in given)
    if given == SAWN and not end.has_card:
        raise WordsError(f"{SAWN!r} is not known", f"did you mean {SAWN}=DIAMETER?", "--cut")
    return given, ()


def cut_words(cut: str, passes: Sequence[Pass]) -> str:
    """A cut and its passes as they are typed, in mm."""
    if not passes:
        return cut
    sizes = [f"{plain(one.offset)},{plain(-one.at)}" for one in passes]
    return "@".join((f"{cut}={plain(passes[0].diameter)}mm", *sizes))


def _pass(diameter: float, text: str) -> SawnPass:
    """``OFFSET[,BEYOND]``."""
    words = text.split(",")
    if len(words) > 2:
        raise WordsError(f"{text!r} is no pass",
                         "write OFFSET,BEYOND, such as saw=1-1/4in@3.46,2.5@1.24,3.29")
    return SawnPass(diameter, *map(length, words))
