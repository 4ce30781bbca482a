"""The array types used everywhere: one row per point, vectors in the last axis."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]

Point = tuple[float, float, float]
"""x, y, z in mm, where one point is a value by itself."""
