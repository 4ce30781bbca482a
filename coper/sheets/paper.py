"""What a template is printed on and how it is glued, where nobody says otherwise."""

from __future__ import annotations

PAPER_MM = 0.1
"""Office paper: 80 g/m2 is about a tenth of a mm thick (common practice, no source)."""

GLUE_MM = 10.0
"""Width of the tab under a template's seam."""
