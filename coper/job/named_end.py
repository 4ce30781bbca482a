"""An end of a job, found by its name: ``chain-stay left start``."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from coper.arrays import OneLine
from coper.bench.setup import EndSetup, SawShop, set_up
from coper.errors import CoperError, JointError, named_few, nearest_known
from coper.frame.end import TubeEnd
from coper.frame.end_joint import EndJoint, end_joint
from coper.frame.piece import Piece
from coper.frame.tube import REMEMBERED, Side, Which
from coper.job.frame import make_pieces
from coper.job.job import Job, TubePlan
from coper.job.setups import saw_shop
from coper.joint.cluster import Cluster
from coper.joint.fit.face import Bevelled, Face, raised, template_face
from coper.joint.fit.passes import Pass
from coper.joint.regrind.cut_end import SAWN, end_face
from coper.units import order_unit

SIDES: tuple[Side, Side] = ("left", "right")
"""Those of a tube that has a twin."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class JobEnd(OneLine):
    """A coped end of a job.

    Attributes
    ----------
    job : Job
    piece : Piece
    end : TubeEnd
    joint : EndJoint
        The end on all that it seats on.
    mains : tuple of Piece
        Those that it seats on; none of an end that is cut flat.
    """

    job: Job
    piece: Piece
    end: TubeEnd
    joint: EndJoint
    mains: tuple[Piece, ...]

    @property
    def name(self) -> str:
        """As it is asked for: ``chain-stay left start``."""
        return f"{self.piece.label} {self.end.which}"

    def setup(self, shop: SawShop | None = None) -> EndSetup:
        """How the shop's saws cut it, or those of another ``shop``."""
        return set_up_once(order_unit(), self.piece, self.end, shop or saw_shop(self.job.shop))

    def face(self, cut: str | None = None, passes: Sequence[Pass] = ()) -> Face:
        """The cut of the end: its own, as its template is; or another that was made.

        Parameters
        ----------
        cut
            ``bevelled``, ``square``, or ``saw``: as its card sets the shop's saws.
        passes
            Of the saw, where it was set otherwise, on the joint with the only main.

        Raises
        ------
        JointError
            Where the end cannot be cut so.
        """
        whole = self.joint.cluster()
        if cut != SAWN:
            return template_face(whole, cut or self.end.cope_cut)
        if not passes:
            return self._by_card()
        if len(self.end.mains) > 1:
            raise JointError("an end on several mains is not cut by one saw",
                             f"give {SAWN}: then each main's saw is set as the end's card says",
                             "cut")
        cluster = end_face(self.joint.first, SAWN, passes).cluster
        return Bevelled(Cluster(whole.branch, raised(cluster, -self.joint.shift).mains))

    def _by_card(self) -> Face:
        setup = self.setup()
        if setup.sawn is None:
            why = next((cut.reason for cut in setup.cuts if cut.reason), "no saw does")
            raise JointError(f"the end's card has no saw for it: {why}",
                             "give bevelled or square", "cut")
        return setup.sawn.face


@lru_cache(maxsize=REMEMBERED)
def set_up_once(unit: str, piece: Piece, end: TubeEnd, shop: SawShop) -> EndSetup:
    """Once for an end and a shop: choosing saws is slow. ``unit`` is that of what is said of it."""
    return set_up(piece, end, shop)


def find_end(job: Job, tube: str, side: str | None, which: Which) -> JobEnd:
    """The end of ``job`` that has this name.

    Parameters
    ----------
    job
        With at least one tube.
    tube
        Its name in the file.
    side
        ``left`` or ``right``; ``None`` of a tube that has no twin.
    which
        ``start`` or ``end``.

    Raises
    ------
    CoperError
        Where no such end is coped, or a tube of the job cannot be made.
    """
    plan = find_tube(job, tube)
    check_side(plan, side, which)
    pieces = make_pieces(job)
    label = tube if side is None else f"{tube} {side}"
    piece = next(one for one in pieces if one.label == label)
    end = piece.end_at(which)
    if end.cope is None:
        why = ("it stands already, and nothing of it is cut" if plan.existing
               else "it is cut off plain and seats on nothing")
        raise CoperError(why, _shaped(pieces), f"{label} {which}")
    known = {(one.tube.name, one.tube.side): one for one in pieces}
    mains = () if end.flat else tuple(known[main.name, main.side] for main in end.mains)
    return JobEnd(job, piece, end, end_joint(piece.tube, end), mains)


def check_seats(end: TubeEnd, name: str) -> None:
    """Refuse an end that is cut in one plane: there is no gap on a main to close.

    Raises
    ------
    CoperError
        It says what to do instead.
    """
    if end.flat is not None:
        raise CoperError("it is cut in one plane and seats on no main",
                         f"ask coper saw for {name}, and saw it again where it does not close",
                         name)


def find_tube(job: Job, tube: str) -> TubePlan:
    """The tube of that name.

    Raises
    ------
    CoperError
        Where there is none.
    """
    for plan in job.tubes:
        if plan.name == tube:
            return plan
    names = [plan.name for plan in job.tubes]
    raise CoperError(f"the job has no tube {tube!r}",
                     nearest_known(tube, names) if names else "add one, such as [tubes.shell]")


def check_side(plan: TubePlan, side: str | None, which: str) -> None:
    """Refuse a side of a tube that has no twin, and none of one that has; ``which`` comes after.

    Raises
    ------
    CoperError
        It says what to write.
    """
    if plan.mirror and side is None:
        raise CoperError("there is a left and a right one",
                         f"say which: {plan.name} left {which}".rstrip()
                         + f", or {plan.name} right {which}".rstrip(),
                         plan.name)
    if side is not None and not plan.mirror:
        raise CoperError("there is one only, no left and right",
                         f"leave {side} out: {plan.name} {which}".rstrip(), plan.name)


def _shaped(pieces: Sequence[Piece]) -> str:
    """A cure that lists the ends that are coped."""
    names = [f"{piece.label} {end.which}" for piece in pieces for end in piece.ends
             if end.cope is not None]
    return f"name one of {', '.join(named_few(names))}" if names else "say what it is on"
