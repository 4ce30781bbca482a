"""Lengths, gauges and angles as people write them, and as coper writes them."""

from coper.units.angle import parse_angle
from coper.units.gauge import parse_wall
from coper.units.length import parse_length
from coper.units.names import GAUGES, INCH_MM, INCHES, LENGTH_WORDS, UNITS
from coper.units.order import first_unit, in_first_unit, in_inches, lengths_in, order_unit
from coper.units.text import printable, shown, spelt_fractions, unreadable
from coper.units.written import (
    INCH_PLACES,
    format_angle,
    format_far,
    format_gap,
    format_inches,
    format_length,
    format_mm,
    format_number,
    format_short,
    format_size,
    format_thousandths,
    plain,
    shown_up,
)

__all__ = [
    "GAUGES", "INCHES", "INCH_MM", "INCH_PLACES", "LENGTH_WORDS", "UNITS", "first_unit",
    "format_angle", "format_far", "format_gap", "format_inches", "format_length", "format_mm",
    "format_number", "format_short", "format_size", "format_thousandths", "in_first_unit",
    "in_inches", "lengths_in", "order_unit", "parse_angle", "parse_length", "parse_wall",
    "plain", "printable", "shown", "shown_up", "spelt_fractions", "unreadable",
]
