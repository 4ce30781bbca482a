"""Tapered tubes that the shop has, such as the stays of a donor frame, and what is cut from which.

::

    | off |            blank            |   off   |
    |-----+-----------------------------+---------|
    |  straight  |  taper …                       |
    |            begins                           length

Where on a taper a diameter stands cannot be chosen: the tube either reaches or it does not.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from coper.bench.cut_list.tapered_blank import FLUSH_MM, TaperedBlank, sides_label
from coper.shapes.read import Shape


@dataclass(frozen=True, slots=True)
class Donor:
    """A tapered tube to cut from, its thick or oval end first.

    Attributes
    ----------
    length : float, mm
        All of it.
    begins : float, mm
        From its first end to where the taper has its first size.
    straight : float or None, mm
        How long it runs straight from its first end before it tapers; ``None`` where that is not
        known.
    count : int or None
        How many there are; ``None`` for as many as are needed.
    where : str
        Where it is given, for a message.
    """

    length: float
    begins: float = 0.0
    straight: float | None = None
    count: int | None = None
    where: str = "stock"

    def cut(self, blank: TaperedBlank) -> TaperedBlank:
        """The blank as it is cut from this tube, its places counted from the tube's first end."""
        return blank.on(self.length, self.begins, self.straight or 0.0)


def from_donors(
    blanks: Iterable[TaperedBlank], donors: Mapping[Shape, tuple[Donor, ...]],
) -> tuple[TaperedBlank, ...]:
    """The blanks, each on the shortest tube that it fits and that is left.

    One that fits none is on the tube that lacks least. Tubes that are cut alike from different
    donors come apart. A shape without donors is cut from a tube as long as its taper.
    """
    left = {donor: donor.count for tubes in donors.values() for donor in tubes}
    found: list[TaperedBlank] = []
    for blank in blanks:
        tubes = donors.get(blank.bought_shape, ())
        if not tubes:
            found.append(blank)
            continue
        chosen: dict[tuple[Donor, bool], list[str]] = defaultdict(list)
        for label in blank.labels:
            free = [tube for tube in tubes if left[tube] != 0]
            donor = _best(blank, free or tubes)
            count = left[donor]
            left[donor] = None if count is None else max(count - 1, 0)
            chosen[donor, not free].append(label)
        found += [_named(replace(donor.cut(blank), too_few=too_few), blank, labels)
                  for (donor, too_few), labels in chosen.items()]
    return tuple(found)


def _best(blank: TaperedBlank, tubes: Sequence[Donor]) -> Donor:
    return min(tubes, key=lambda tube: (_lacks(tube.cut(blank)) > FLUSH_MM,
                                        _lacks(tube.cut(blank)), tube.length))


def _lacks(blank: TaperedBlank) -> float:
    """How far the blank goes past the ends of its tube, both together, mm."""
    return sum(max(-off, 0.0) for off in blank.off)


def _named(cut: TaperedBlank, whole: TaperedBlank, labels: Sequence[str]) -> TaperedBlank:
    """The blank for those of its tubes that come from one donor."""
    sides = tuple(side for side in whole.sides if sides_label(whole.name, (side,)) in labels)
    others = tuple(label for label in whole.others if label in labels)
    if sides:
        return replace(cut, sides=sides, others=others)
    return replace(cut, name=others[0], sides=("centre",), others=others[1:])
