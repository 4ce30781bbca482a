"""What tubes are cut from: stock lengths, by the tube."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from coper.bench.cut_list.donor import Donor
from coper.bench.cut_list.packing import Stock
from coper.frame.alike import bought
from coper.shapes.bent import Bent
from coper.shapes.read import Shape
from coper.shapes.round import Round

KERF_MM = 2.0
"""What a saw turns to dust unless the shop says otherwise: common practice, without a source.

A band saw takes about 1 mm, a cold saw or a cutting disc 2 to 3. Measure a test cut.
"""


@dataclass(frozen=True, slots=True)
class Shelf:
    """Lengths that are to be had.

    Attributes
    ----------
    stocks : tuple of Stock
    where : str
        Where they are given, for a message.
    """

    stocks: tuple[Stock, ...] = ()
    where: str = "stock"


@dataclass(frozen=True, slots=True)
class Rack:
    """Every length that the shop has or can get.

    Attributes
    ----------
    any_tube : Shelf
        Of any tube.
    own : mapping of a shape, as :func:`stock_shape` gives it, to its Shelf
        Lengths of one tube. Where one of them has no count, they stand in place of those of any
        tube; pieces that are counted, such as offcuts, only come on top.
    donors : mapping of a tapered shape, as :func:`stock_shape` gives it, to what there is of it
    """

    any_tube: Shelf = Shelf()
    own: Mapping[Shape, Shelf] = field(default_factory=dict)
    donors: Mapping[Shape, tuple[Donor, ...]] = field(default_factory=dict)

    def shelf(self, shape: Shape) -> Shelf:
        """The lengths of one tube; without any where nothing is known of it."""
        shelf = self.own.get(shape)
        if shelf is None:
            return self.any_tube
        if any(stock.count is None for stock in shelf.stocks):
            return shelf
        return replace(shelf, stocks=(*shelf.stocks, *self.any_tube.stocks))


def stock_shape(shape: Shape) -> Shape:
    """The straight tube that ``shape`` is cut from, the same for all that share a bar.

    A bend is cut from the round tube that is then bent; a box has its longer side first, a taper
    its thick end.
    """
    return Round(shape.diameter, shape.wall) if isinstance(shape, Bent) else bought(shape)
