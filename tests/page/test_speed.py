"""What a page keeps of its jobs stays within bounds, however often a number is changed."""

import tracemalloc

import pytest

from coper.page.answers.measure import changed

FILLED = 20_000
"""Letters of a text: what keeps all of them grows by as much with every change."""


BIKE = f"""\
# {'x' * FILLED}
[bicycle]
drop = 58
chain_stay = 419
seat_angle = 69
reach = 345
stack = 484
head_tube = 110
fork_length = 350
rake = 45
lower_stack = 12
rear_wheel = "40-507"
front_wheel = "40-507"
head_angle = 70
"""


def after_changes(count, text):
    """Bytes that are held after so many changes of one number, and the text then."""
    for _ in range(count):
        number = float(text.rsplit("=", 1)[1]) + 0.01
        text = changed(text, {"head_angle": f"{number:.2f}"}).text
        assert float(text.rsplit("=", 1)[1]) == pytest.approx(number)
    return tracemalloc.get_traced_memory()[0], text


def test_after_many_changes_no_more_is_held_than_after_a_few():
    tracemalloc.start()
    few, text = after_changes(20, BIKE)
    many, _ = after_changes(80, text)
    tracemalloc.stop()
    assert many - few < 20 * FILLED
