"""The table of ordinates as a file."""

from __future__ import annotations

import csv
import io

import numpy as np

from coper.joint.ordinates import Ordinates
from coper.units import format_inches

COLUMNS = ("clock_deg", "way_round_mm", "line_to_cut_mm", "line_to_cut_in")


def table_csv(table: Ordinates, line: str = "line_from_axis_mm") -> str:
    """The table as comma-separated values, a row a step; an open step leaves its cells empty.

    ``line`` names the column that says where the line stands.
    """
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow((*COLUMNS, line))
    for clock, way, length in zip(table.clock, table.way, table.length, strict=True):
        cut = ("", "") if np.isnan(length) else (f"{length:.2f}", format_inches(length))
        writer.writerow((f"{clock:g}", f"{way:.2f}", *cut, f"{table.line:g}"))
    return text.getvalue()
