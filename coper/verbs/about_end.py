"""What a verb of one end needs of an end of a job; only this part of it loads what reads jobs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from coper.job.limits import shop_limit
from coper.job.named_end import JobEnd
from coper.joint.fit.face import Face
from coper.joint.fit.limits import Limit
from coper.joint.fit.passes import Pass
from coper.joint.joint import Joint
from coper.joint.mountable import Mountable
from coper.joint.template import Cut
from coper.telling.lines import Fact, Line
from coper.telling.records.end import end_head
from coper.telling.words.end import end_title
from coper.telling.words.small import job_question


@dataclass(frozen=True, slots=True)
class AboutEnd:
    """An end of a job; see :class:`coper.verbs.about.About`."""

    end: JobEnd
    has_card: bool = True

    @property
    def title(self) -> str:
        """Its name, and what it seats on."""
        return end_title(self.end)

    @property
    def question(self) -> tuple[str, ...]:
        """Of its tube."""
        return job_question([(self.end.piece.label, self.end.piece.tube.shape)])

    @property
    def joint(self) -> Mountable:
        """The end on all its mains."""
        return self.end.joint

    @property
    def first(self) -> Joint:
        """It on the main that takes most."""
        return self.end.joint.first

    @property
    def cut(self) -> Cut:
        """As the job says."""
        return self.end.end.cope_cut

    @property
    def limit(self) -> Limit | None:
        """That of the job's shop."""
        return shop_limit(self.end.job.shop)

    def record(self) -> dict[str, Any]:
        """Which end it is."""
        return end_head(self.end)

    def notes(self) -> Iterator[Line]:
        """To which of several mains angle and offset are."""
        mains = self.end.end.mains
        if len(mains) > 1:
            main = mains[self.end.joint.main].label
            yield Fact("angle, offset", f"those to {main}, which takes most of the end")

    def face(self, cut: str, passes: Sequence[Pass] = (), saw: float | None = None) -> Face:
        """See there; the saw of a job's end is that of its card."""
        return self.end.face(cut, passes)
