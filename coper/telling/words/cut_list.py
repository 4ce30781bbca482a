"""A cut list in words."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from coper.bench.cut_list.cut_list import Blank, CutList, PlateBlank, Shortage, StockCuts
from coper.bench.cut_list.packing import Bar, Packing
from coper.bench.cut_list.tapered_blank import FLUSH_MM, EndCut, TaperedBlank
from coper.shapes.words import tube_words
from coper.telling.lines import Caution, Fact, Line
from coper.telling.words.alike import alike_lines, batch_titles
from coper.telling.words.cap import caps_words
from coper.units import format_length, format_number, format_short, shown_up

PERMILLE = 1000

BENT_NOTE = ("The blank of a bent tube is straight, as long as its centreline; add what the bender "
             "needs to grip.")

TAPER_NOTE = ("Cuts on a tapered tube are measured from where its taper begins or ends; cut off "
              "any straight part beyond that as well.")
DONOR_NOTE = "Cuts on a tube from stock are measured from its own end."


def numbers_words(numbers: Iterable[int]) -> str:
    """The numbers of blanks: ``4, 5``, and of more than two in a row ``4 to 7``."""
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(map(str, run))
                     for run in runs)


def blank_words(cuts: CutList, labels: Iterable[str]) -> str:
    """What all that are called ``labels`` are on the cut list; empty where nothing is cut."""
    known = cuts.numbers
    numbers = [known[label] for label in labels if label in known]
    blanks = "blank" if len(numbers) == 1 else "blanks"
    return f"{blanks} {numbers_words(numbers)}" if numbers else ""


def near_words(packing: Packing) -> str:
    """How close to the best possible a packing is; the share is rounded up."""
    if packing.over == 0:
        return "no other way uses less"
    share = math.ceil(packing.over * PERMILLE) * 100 / PERMILLE
    return f"within {share:g} % of the least possible"


def unplanned_words(stock: StockCuts) -> str:
    """What a tube stock needs before its bars can be planned."""
    return "no bar planned" if stock.shortages else "give stock lengths to plan the bars"


def bars_words(count: int) -> str:
    """How many bars."""
    return "1 bar" if count == 1 else f"{count} bars"


def offcut_words(bar: Bar) -> str:
    """What is left of a bar."""
    return f"offcut {format_length(bar.rest)}" if bar.rest else "no offcut"


def shortage_words(stock: StockCuts, shortage: Shortage) -> str:
    """What the stock lengths do not give, and what would do."""
    names = ", ".join(map(_blank_words, shortage.blanks))
    tube = tube_words(stock.shape)
    if shortage.too_few:
        return (f"{tube}: no way was found to cut {names} from as many bars as there are: list "
                f"more of them in {shortage.where}, or a length without a count, which can be "
                "bought.")
    is_are = "is" if len(shortage.blanks) == 1 else "are"
    longest = max(blank.length for blank in shortage.blanks)
    return (f"{tube}: {names} {is_are} longer than every length in {shortage.where}, the longest "
            f"is {format_length(shortage.longest)}; one of {format_length(shown_up(longest))} or "
            "more would do.")


def all_shortages(cuts: CutList) -> tuple[str, ...]:
    """Those of every tube stock, and of tapered tubes."""
    return (*(shortage_words(stock, one) for stock in cuts.stocks for one in stock.shortages),
            *(words for blank in cuts.tapered for words in donor_shortages(blank)))


def donor_shortages(blank: TaperedBlank) -> Iterator[str]:
    """Where the tube that a tapered blank is cut from is not there, or does not reach."""
    shape = tube_words(blank.bought_shape)
    if blank.too_few:
        yield (f"{shape}: no tube is left for {blank.label}: list more of them in stock, or one "
               "without a count, which can be bought.")
    into = blank.straight - blank.near
    if blank.owned and into > FLUSH_MM:
        yield (f"{shape}: {blank.label} begins {format_length(into)} within the straight part of "
               f"its tube, which is {format_short(into * blank.slope)} thinner at that end than a "
               "taper that goes on: fit that end to the tube itself.")
    lacks = [(name, -off) for name, off in zip(blank.end_names, blank.off, strict=True)
             if off < -FLUSH_MM]
    if not (blank.owned and lacks):
        return
    short = " and ".join(f"{format_length(lack)} short at its {name} end" for name, lack in lacks)
    yield (f"{shape}: the tube of {format_length(blank.bought)} does not reach for {blank.label}: "
           f"it is {short}; {_would_reach(blank)}.")


def _would_reach(blank: TaperedBlank) -> str:
    """What would do instead of a tube that is too short at one end or at both."""
    near, far = blank.off
    if near + far < -FLUSH_MM:
        least = shown_up(blank.far - min(near, 0.0))
        return f"one that begins as this and is {format_length(least)} long or more would do"
    moved = -near if near < 0 else far
    # Further from the thick end, every place of the tube is thinner.
    thinner = "thinner" if moved > 0 else "thicker"
    return (f"with shape_from = {format_number(round(blank.shape_from(moved), 2))} it does, and is "
            f"then {format_short(abs(moved) * blank.slope)} {thinner} everywhere")


def plates_words(cuts: CutList) -> str:
    """The plates, which no bar gives."""
    return f"plates, cut to their drawings: {', '.join(map(_plate_words, cuts.plates))}"


def _plate_words(plate: PlateBlank) -> str:
    """A plate with its sizes, those that are known."""
    shape = plate.shape
    wide = "" if shape.width is None else f" by {format_number(shape.width)}"
    size = f"{format_number(shape.thickness)}{wide}"
    return f"{plate.label} {size}, {format_length(plate.length)} long"


def existing_words(cuts: CutList) -> str:
    """The tubes that stand already."""
    return f"stands already, not cut: {', '.join(cuts.existing)}"


def own_tube_words(blank: TaperedBlank) -> str:
    """How many tubes a tapered blank and its twin are cut from, and how long those are."""
    words = "one tube each" if blank.count > 1 else "one tube"
    return f"{words}, of {format_length(blank.bought)} from stock" if blank.owned else words


def tapered_name(blank: TaperedBlank) -> str:
    """The numbers of a tapered blank and of those that are cut alike, and all names."""
    return f"{numbers_words(blank.numbers)}: {blank.label}"


def cut_steps(blank: TaperedBlank) -> tuple[str, ...]:
    """How a tapered tube is cut, in the order of the work."""
    first, last = blank.cuts
    datum = blank.end_names[0]
    said = [_past_words(cut) for cut in blank.cuts if cut.off < -FLUSH_MM and not blank.owned]
    if abs(first.off) <= FLUSH_MM:
        said.append(f"Leave the {first.name} end as it is ({_fits_words(first)}).")
    else:
        how = (f"{format_length(blank.far)} from the {datum} end" if blank.far_first
               else f"{format_length(abs(first.off))} "
                    + ("from the end" if first.off > 0 else "before the taper begins"))
        said.append(f"Cut the {first.name} end first, {how}: it is {_across_words(first)} across "
                    f"there ({_fits_words(first)}).")
    if abs(last.off) <= FLUSH_MM:
        said.append(f"Leave the {last.name} end as it is ({_fits_words(last)}): take nothing off "
                    "it.")
    else:
        off = f", taking off {format_short(last.off)}" if last.off > 0 else ""
        said.append(f"Cut the {last.name} end last, to {format_length(blank.length)} overall{off}: "
                    f"it is {_across_words(last)} across there ({_fits_words(last)}).")
    return tuple(said)


def _past_words(cut: EndCut) -> str:
    return (f"Take a tube that runs on {format_length(-cut.off)} past the {cut.name} end of its "
            "taper.")


def _fits_words(cut: EndCut) -> str:
    """Which end of the tube it becomes, and on what."""
    on = f", on {' and '.join(cut.mains)}" if cut.mains else ""
    return f"the tube's {cut.which}{on}"


def _across_words(cut: EndCut) -> str:
    """The outside size at the cut."""
    *major, last = cut.across
    return " by ".join((*(format_number(round(size, 2)) for size in major), format_short(last)))


def cut_list_lines(cuts: CutList) -> Iterator[Line]:
    """The whole list, an empty line first; nothing where there is nothing to cut."""
    if not (cuts.stocks or cuts.tapered):
        return
    yield ""
    left = f", {format_short(cuts.allowance)} left on at each end" if cuts.allowance else ""
    yield f"cut list, kerf {format_short(cuts.kerf)}{left}; cut each bar's longest piece first"
    yield from alike_lines(cuts.alike, batch_titles(cuts.alike))
    for stock in cuts.stocks:
        yield from _stock_lines(stock)
    if any(blank.bent for stock in cuts.stocks for blank in stock.blanks):
        yield BENT_NOTE
    for blank in cuts.tapered:
        yield from map(Caution, donor_shortages(blank))
        yield from _tapered_lines(blank)
    yield from taper_notes(cuts)
    if cuts.plates:
        yield plates_words(cuts)
    if caps := caps_words(cuts.alike):
        yield caps
    if cuts.existing:
        yield existing_words(cuts)


def taper_notes(cuts: CutList) -> tuple[str, ...]:
    """From where the cuts on tapered tubes are measured."""
    found = {DONOR_NOTE if blank.owned else TAPER_NOTE: None for blank in cuts.tapered}
    return tuple(found)


def _stock_lines(stock: StockCuts) -> Iterator[Line]:
    words, packing = tube_words(stock.shape), stock.packing
    yield from (Caution(shortage_words(stock, one)) for one in stock.shortages)
    if packing is None:
        yield f"{words}: {format_length(stock.needed)} in total; {unplanned_words(stock)}"
        yield Fact("blanks", ", ".join(map(_numbered, stock.blanks)))
        return
    yield (f"{words}: {bars_words(len(packing.bars))}, {format_length(packing.total)} of stock; "
           f"{near_words(packing)}")
    yield from (_bar_fact(bar, stock.blanks) for bar in packing.bars)


def _bar_fact(bar: Bar, blanks: tuple[Blank, ...]) -> Fact:
    cut = ", ".join(_numbered(blanks[index]) for index in bar.pieces)
    return Fact(format_short(bar.length), f"{cut}; {offcut_words(bar)}")


def _numbered(blank: Blank) -> str:
    return f"{blank.number}: {_blank_words(blank)}"


def _blank_words(blank: Blank) -> str:
    return f"{blank.label} {format_short(blank.length)}"


def _tapered_lines(blank: TaperedBlank) -> Iterator[Line]:
    yield (f"{tapered_name(blank)}, {tube_words(blank.shape)}: {own_tube_words(blank)}, "
           f"{format_length(blank.length)}")
    first, *further = (f"{number}. {step}" for number, step in enumerate(cut_steps(blank), 1))
    yield Fact("cuts", first, tuple(further))
