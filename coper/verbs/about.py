"""What a verb of one end needs of what it is asked about, two tubes or an end of a job."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import wraps
from typing import TYPE_CHECKING, Any, Concatenate, Protocol, TypeAlias

from coper.joint.fit.limits import Limit
from coper.joint.joint import Joint
from coper.joint.mountable import Mountable
from coper.joint.template import CUTS, Cut
from coper.telling.lines import Line
from coper.telling.records.joint import joint_record
from coper.telling.words.joint import title
from coper.telling.words.small import joint_question
from coper.verbs.answer import Answer, Given, Result, in_unit

if TYPE_CHECKING:
    from coper.job.named_end import JobEnd
    from coper.joint.fit.face import Face
    from coper.joint.fit.passes import Pass

Asked: TypeAlias = "Joint | JobEnd"


class About(Protocol):
    """One end, whoever says how it stands."""

    @property
    def title(self) -> str:
        """It in one short line."""

    @property
    def question(self) -> tuple[str, ...]:
        """Whether tubes that are too small for mm were meant so."""

    @property
    def joint(self) -> Mountable:
        """What the end is put together with."""

    @property
    def first(self) -> Joint:
        """It on its only main, or on the one that takes most of it."""

    @property
    def cut(self) -> Cut:
        """How it is cut by its template."""

    @property
    def limit(self) -> Limit | None:
        """The largest gap that the shop calls good; ``None`` where no shop says so."""

    @property
    def has_card(self) -> bool:
        """Whether a card says how it is sawn."""

    def record(self) -> dict[str, Any]:
        """The inputs as they were understood."""

    def notes(self) -> Iterator[Line]:
        """What angle and offset are of, where that is not plain."""

    def face(self, cut: str, passes: Sequence[Pass] = (), saw: float | None = None) -> Face:
        """The face of a cut: of ``passes``, or of a ``saw`` in mm that stands as the main does.

        Raises
        ------
        CoperError
            Where it cannot be cut so.
        """


@dataclass(frozen=True, slots=True)
class AboutJoint:
    """Two tubes, and how they stand; see :class:`About`."""

    joint: Joint
    limit: None = None
    has_card: bool = False

    @property
    def title(self) -> str:
        """The joint."""
        return title(self.joint)

    @property
    def question(self) -> tuple[str, ...]:
        """Of both tubes."""
        return joint_question(self.joint)

    @property
    def first(self) -> Joint:
        """The joint itself."""
        return self.joint

    @property
    def cut(self) -> Cut:
        """As most are."""
        return CUTS[0]

    def record(self) -> dict[str, Any]:
        """The joint."""
        return {"joint": joint_record(self.joint)}

    def notes(self) -> Iterator[Line]:
        """None: there is one main."""
        return iter(())

    def face(self, cut: str, passes: Sequence[Pass] = (), saw: float | None = None) -> Face:
        """See :class:`About`."""
        from coper.joint.fit.face import cut_face  # a cope by itself has no cut face
        from coper.joint.regrind.cut_end import end_face

        return end_face(self.joint, cut, passes) if passes else cut_face(self.joint, cut, saw)


def about(asked: Asked) -> About:
    """What a verb needs of a joint, or of an end of a job."""
    if isinstance(asked, Joint):
        return AboutJoint(asked)
    from coper.verbs.about_end import AboutEnd

    return AboutEnd(asked)


def in_asked_unit(
    verb: Callable[Concatenate[Asked, Given], Answer[Result]],
) -> Callable[Concatenate[Asked, Given], Answer[Result]]:
    """A verb of one end, whose answer about an end of a job is in that job's unit."""

    @wraps(verb)
    def answered(asked: Asked, /, *given: Given.args, **named: Given.kwargs) -> Answer[Result]:
        if isinstance(asked, Joint):
            return verb(asked, *given, **named)
        return in_unit(asked.job.units, lambda: verb(asked, *given, **named))

    return answered
