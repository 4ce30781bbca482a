"""What an end may seat on, and what was forgotten of it, in words."""

from __future__ import annotations

from collections.abc import Iterator

from coper.frame.seat_offer import SeatOffer
from coper.job.mends import Mend
from coper.telling.lines import sentence
from coper.tolerances import CLASH_MM
from coper.units import format_angle, format_short


def offer_words(offer: SeatOffer) -> Iterator[str]:
    """How the end would stand on a tube and how far its point is from it, then what is amiss."""
    if offer.end is None:
        assert offer.why is not None
        yield f"{_place(offer)}; {offer.why.fault}"
        return
    seat = offer.end.stances[0]
    yield f"at {format_angle(seat.angle)}, offset {format_short(seat.offset)}; {_place(offer)}"
    yield from offer.end.cautions[:1]


def _place(offer: SeatOffer) -> str:
    if offer.away < -CLASH_MM:
        return f"its point is {format_short(-offer.away)} inside"
    if offer.away <= CLASH_MM:
        return "its point is on the skin"
    return f"its point is {format_short(offer.away)} away"


def mend_words(mend: Mend) -> str:
    """What a mend does, as an instruction."""
    if mend.how == "mitre":
        return f"Mitre the {mend.which} of {mend.tube} with {mend.other}"
    return f"Seat the {mend.which} of {mend.tube} on {mend.other}"


def forgotten_words(mend: Mend) -> str:
    """What it mends, where nothing runs through anything."""
    return sentence(f"the {mend.which} of {mend.tube} ends at {mend.other}, and does not seat on "
                    "it")
