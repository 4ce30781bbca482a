"""Read, grind as advised, read again: random ends of every kind are closed, none is made worse."""

import pytest

from coper.joint.regrind.regrind import regrind
from tests.joint.regrind_ends import check_loop, own_gap, random_end, rounds
from tests.profiles import seeds
