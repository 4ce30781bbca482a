"""Small jobs: soon shaped, laid out and checked."""

import re

from tests.page.pages import DEMO

WAGTAIL = (DEMO / "wagtail.toml").read_text()
DIPPER = (DEMO / "dipper.toml").read_text()


BICYCLE_IN = (DEMO.parent / "coper/job/starters/bicycle-in.toml").read_text()


def with_tubes(*names, of=WAGTAIL):
    """A bicycle with these of its tubes alone, and no brake on one that goes."""
    tables = [table for table in re.split(r"(?m)^(?=\[)", of)
              if not table.startswith("[tubes.") or table[len("[tubes."):].split("]")[0] in names]
    return re.sub(r"(?m)^rear_brake = .*\n", "", "".join(tables))


SMALL = with_tubes("shell", "head-tube", "seat-tube", "chain-stay")
STAYS = with_tubes("shell", "chain-stay")
SHELL = with_tubes("shell")
INCHES = with_tubes("shell", of=BICYCLE_IN)
