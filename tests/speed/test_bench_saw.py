"""The whole saw kit beside seating one saw's cut by itself, in the same run."""

import time

from coper import Joint, Round
from coper.joint.fit.face import covering_diameter, sawn
from coper.joint.fit.fit import seat
from coper.joint.saw.kit import USUAL_KIT_MM, choose_saws

JOINT = Joint(Round(28.6, 0.9), Round(36), 62, 3)


def one_seat():
    """The shortest of several seatings of one saw's cut, in seconds."""
    face, mounted, times = sawn(JOINT, 38.1), JOINT.cluster(), []
    for _ in range(15):
        start = time.perf_counter()
        seat(face, mounted)
        times.append(time.perf_counter() - start)
    return min(times)


def test_the_usual_kit_in_one_pass_beside_a_seating_for_each_saw(benchmark):
    kit = benchmark(choose_saws, JOINT)
    tried = sum(saw >= covering_diameter(JOINT) for saw in USUAL_KIT_MM)
    assert len(kit.choices) == tried == 10
    benchmark.extra_info["times a seating for each"] = (
        benchmark.stats.stats.min / (tried * one_seat()))


def test_the_usual_kit_with_two_passes_beside_one_seating(benchmark):
    kit = benchmark(choose_saws, JOINT, enough=0.0)
    assert len(kit.choices[0].passes) == 2
    benchmark.extra_info["times one seating"] = benchmark.stats.stats.min / one_seat()
