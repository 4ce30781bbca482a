"""From gap readings back to what is wrong, and to the metal that has to go.

The readings come from the seating code (``coper.joint.fit.fit``), which the fit does not use.
"""

import numpy as np
import pytest
from scipy.stats import chi2
from scipy.stats import t as student_t

from coper import Joint, Oval, Plate, Round
from coper.errors import JointError
from coper.joint.edge import even_clocks
from coper.joint.fit.face import Bevelled, Square
from coper.joint.fit.fit import seat
from coper.joint.fit.mount import Mounting
from coper.joint.regrind.least_squares import STUDENT, student
from coper.joint.regrind.regrind import gauge_alone, regrind

JOINT = Joint(Round(28.6, wall=0.9), Round(38.1), angle=62, offset=3)
EIGHT = even_clocks(8)
NOISE_MM = 0.05
SPREAD = (1.5, 0.7, 0.5)
NAMES = ("turned on the tube", "wrong angle", "wrong offset")
CASES, SEED = 100, 62


class Ground:
    """A face after the advice was followed, the same distance off through the whole wall."""

    def __init__(self, face, turn, found):
        self.face, self.turn, self.found, self.cluster = face, turn, found, face.cluster

    def station(self, clock, depth):
        found = self.found
        gone = np.interp(clock + self.turn, found.clock, found.remove, period=360)
        return self.face.station(clock, depth) + gone


class Spotted:
    """A face that stands proud round one clock of its own, level again 45 degrees on."""

    def __init__(self, face, clock, proud):
        self.face, self.clock, self.proud, self.cluster = face, clock, proud, face.cluster

    def station(self, clock, depth):
        away = np.abs((clock - self.clock + 180) % 360 - 180)
        return self.face.station(clock, depth) - self.proud * np.clip(1 - away / 45, 0, None)


def seated(true, face=None, joint=JOINT):
    """The fit-up of an end that is off by turn, angle and offset."""
    turn, angle, offset = true
    mounted = Mounting(angle, turn, offset).of(joint).cluster()
    return seat(face or Bevelled(joint.cluster()), mounted, turn, 8)


def readings(fit, noise, clock=EIGHT):
    return list(zip(clock, np.maximum(fit.at(clock)[0] + noise, 0.0), strict=True))


def by_name(found):
    return {cause.cause: cause for cause in found.causes}


@pytest.fixture(scope="module")
def cases():
    """True errors (n, 3), and what was found (n, 3) with its intervals (n, 3) and (n, 3)."""
    random = np.random.default_rng(SEED)
    rows = []
    for _ in range(CASES):
        true = random.normal(0, SPREAD)
        found = by_name(regrind(JOINT, "bevelled", readings(
            seated(true), random.normal(0, NOISE_MM, 8))))
        rows.append((true, *([getattr(found[name], kind) for name in NAMES]
                             for kind in ("amount", "low", "high"))))
    return np.array(rows).transpose(1, 0, 2)


def test_95_of_100_cases_come_out_within_half_a_degree_a_quarter_and_a_tenth_of_a_mm(cases):
    true, amount, _, _ = cases
    assert (np.abs(amount - true) < (0.5, 0.25, 0.1)).all(axis=1).sum() >= 95


def test_the_stated_interval_holds_the_truth_in_90_to_99_of_100_cases(cases):
    true, _, low, high = cases
    held = ((low <= true) & (true <= high)).sum(axis=0)
    assert (held >= 90).all() and (held <= 99).all()


def test_one_round_of_the_advice_closes_a_bad_cope():
    random = np.random.default_rng(SEED)
    face = Bevelled(JOINT.cluster())
    for true in ((2.5, -0.9, 0.6), (-1.8, 1.0, 0.4), (1.2, 0.7, -0.9), (0.0, 1.4, 0.0)):
        before = seated(true)
        found = regrind(JOINT, "bevelled", readings(before, random.normal(0, NOISE_MM, 8)))
        after = seated(true, Ground(face, true[0], found))
        assert before.largest > 0.6
        assert after.largest < 0.3
        assert found.seats_deeper == pytest.approx(before.slide - after.slide, abs=0.25)
        assert found.slide == pytest.approx(after.slide, abs=0.25)


def test_metal_is_only_taken_off_and_nowhere_more_than_needed():
    found = regrind(JOINT, "bevelled", readings(seated((2.0, -0.5, 0.4)), 0.0))
    assert found.remove.min() == 0.0
    assert found.remove.max() == pytest.approx(found.largest, abs=1e-9)
    assert found.clock[found.remove.argmax()] == found.largest_clock
    assert found.seats_deeper == pytest.approx(found.largest, abs=0.01)


def test_the_metal_is_what_lies_between_the_two_edges():
    true = (1.5, 0.8, -0.4)
    found = regrind(JOINT, "bevelled", readings(seated(true), 0.0, even_clocks(24)))
    clock = even_clocks(36)
    mounted = Mounting(true[1], true[0], true[2]).of(JOINT).cluster()
    depth = np.linspace(0, 0.9, 91)[:, None]
    excess = (mounted.entry(clock, depth)
              - JOINT.cluster().entry(clock - true[0], depth)).max(axis=0)
    np.testing.assert_allclose(found.at(clock), excess - excess.min(), rtol=0, atol=0.02)


def test_a_perfect_end_needs_nothing():
    found = regrind(JOINT, "bevelled", [(clock, 0.0) for clock in EIGHT])
    assert found.largest == pytest.approx(0, abs=1e-6)
    assert found.seats_deeper == pytest.approx(0, abs=1e-3)
    assert not any(cause.sure or cause.explains for cause in found.causes)


@pytest.mark.parametrize(("index", "amount"), [(0, 2.0), (1, -1.5), (2, 0.8)])
def test_a_single_error_explains_nearly_all(index, amount):
    true = np.zeros(3)
    true[index] = amount
    found = regrind(JOINT, "bevelled", readings(seated(true), 0.0))
    assert found.causes[0].cause == NAMES[index]
    assert found.causes[0].amount == pytest.approx(amount, abs=0.05)
    assert found.causes[0].explains > 0.95
    assert sum(cause.explains for cause in found.causes) == pytest.approx(1, abs=0.01)


def test_a_square_cut_is_not_blamed_for_the_gap_that_it_always_leaves():
    true = (1.5, -0.8, 0.4)
    fit = seated(true, Square(JOINT.cluster()))
    found = by_name(regrind(JOINT, "square", readings(fit, 0.0)))
    amounts = [found[name].amount for name in NAMES]
    np.testing.assert_allclose(amounts, true, rtol=0, atol=0.1)


def test_a_proud_spot_is_found_and_taken_off():
    face = Spotted(Bevelled(JOINT.cluster()), 135, 0.8)
    fit = seated((0.0, 0.0, 0.0), face)
    found = regrind(JOINT, "bevelled", readings(fit, 0.0))
    spot = by_name(found)["too little taken at one spot"]
    assert found.spot == 135 and found.causes[0] == spot
    assert spot.amount == pytest.approx(0.8, abs=0.1) and spot.unit == "mm"
    assert spot.low <= 0.8 <= spot.high
    assert abs((found.largest_clock - 135 + 180) % 360 - 180) < 5
    assert seated((0.0, 0.0, 0.0), Ground(face, 0.0, found)).largest < 0.3


def test_no_spot_is_told_where_the_mounting_explains_the_readings():
    found = regrind(JOINT, "bevelled", readings(seated((2.0, 0.5, -0.5)), 0.0))
    assert found.spot is None and len(found.causes) == 3


def test_what_a_joint_cannot_show_is_not_told():
    flat = Joint(Round(28.6, wall=0.9), Plate(6), angle=90)
    fit = seated((0.0, 1.5, 0.0), joint=flat)
    found = by_name(regrind(flat, "bevelled", readings(fit, 0.0)))
    assert found["wrong angle"].amount == pytest.approx(1.5, abs=0.05)
    for name in ("turned on the tube", "wrong offset"):
        assert found[name].low is None and found[name].high is None
        assert found[name].amount == pytest.approx(0, abs=1e-6)


def test_two_causes_that_look_the_same_are_said_to_be_so():
    assert regrind(JOINT, "bevelled", [(0, 0.5), (90, 0.2), (180, 0)]).alike
    assert not regrind(JOINT, "bevelled", readings(seated((2.0, 0.5, -0.5)), 0.0)).alike


def test_other_sections_are_fitted_too():
    joint = Joint(Oval(30, 17, wall=0.9), Round(38.1), angle=75, turn=30)
    true = (1.5, -0.8, 0.4)
    clock = even_clocks(12)
    found = by_name(regrind(joint, "bevelled", readings(seated(true, joint=joint), 0.0, clock)))
    np.testing.assert_allclose([found[name].amount for name in NAMES], true, rtol=0, atol=0.1)


@pytest.mark.parametrize(("gaps", "words"), [
    ([3.5] * 8, "contact nowhere"),
    ([0, 0.1], "2 readings are too few"),
    ([0.1] * 25, "25 readings are too many"),
])
def test_readings_that_cannot_be_are_refused(gaps, words):
    pairs = [(index * 360 / len(gaps), gap) for index, gap in enumerate(gaps)]
    with pytest.raises(JointError, match=words):
        regrind(JOINT, "bevelled", pairs)


@pytest.mark.parametrize("gaps", [[0.5] * 8, [0.5, 0.3, 0.4]])
def test_readings_that_touch_nowhere_are_said_to_and_are_not_refused(gaps):
    pairs = [(index * 360 / len(gaps), gap) for index, gap in enumerate(gaps)]
    found = regrind(JOINT, "bevelled", pairs)
    assert not found.touches and found.largest < 1
    assert found.after <= found.before


def test_readings_that_no_error_explains_are_ground_by_themselves():
    found = regrind(JOINT, "bevelled", list(zip(EIGHT, [1, 0] * 4, strict=True)))
    assert found.by == "readings" and not found.causes and found.spot is None
    assert found.after < 0.7 * found.before
    assert (found.at(EIGHT[1::2]) > found.at(EIGHT[::2]).max()).all()


def test_a_reading_where_the_end_meets_no_main_is_refused():
    joint = Joint(Round(38.1, wall=1.2), Round(25.4), angle=62, offset=7)
    with pytest.raises(JointError, match=r"clock 90 \(side\): the end meets no main there"):
        regrind(joint, "bevelled", [(0, 0.0), (90, 0.2), (180, 0.1)])


def test_the_quantiles_are_students():
    known = student_t.ppf(0.975, np.arange(1, len(STUDENT) + 1))
    np.testing.assert_allclose(STUDENT, known, rtol=0, atol=5e-4)
    assert student(5) == STUDENT[4]


@pytest.mark.parametrize("limit", [0.4, 0.6, 1.0])
def test_no_more_goes_than_brings_the_largest_gap_to_half_the_limit(limit):
    read = readings(seated((2.5, -0.9, 0.6)), 0.0)
    whole, found = regrind(JOINT, "bevelled", read), regrind(JOINT, "bevelled", read, limit)
    assert found.before > limit
    assert found.after == pytest.approx(limit / 2, abs=0.02)
    assert found.largest < whole.largest and found.seats_deeper < whole.seats_deeper
    face = Bevelled(JOINT.cluster())
    after = seated((2.5, -0.9, 0.6), Ground(face, 2.5, found))
    assert after.largest == pytest.approx(limit / 2, abs=0.12)
    assert after.largest < limit


def test_readings_far_apart_ask_for_more_between_them_and_then_for_no_more():
    read = [(clock, 0.0 if clock == 90 else 0.4) for clock in EIGHT]
    also = regrind(JOINT, "bevelled", read).read_also
    np.testing.assert_allclose(also, EIGHT + 22.5, atol=0.51)
    more = regrind(JOINT, "bevelled", [*read, *((clock, 0.4) for clock in also)])
    assert more.read_also == ()


def test_an_end_that_closes_is_read_no_more():
    assert regrind(JOINT, "bevelled", [(clock, 0.05) for clock in EIGHT]).read_also == ()


def test_the_tips_of_an_overhanging_end_are_always_asked_for():
    joint = Joint(Round(38.1, wall=1.2), Round(25.4), angle=62, offset=7)
    meets = ~np.isnan(joint.cluster().entry(even_clocks(360)))
    clocks = even_clocks(8)[meets[::45]]
    also = np.array(regrind(joint, "bevelled", [(clock, 0.0) for clock in clocks]).read_also)
    assert also.size and meets[also.astype(int)].all()
    assert (~meets[(also.astype(int) + 1) % 360] | ~meets[also.astype(int) - 1]).all()


def test_what_gauges_alone_leave_is_chi_squared():
    known = chi2.ppf(0.95, np.arange(1, 22)) / np.arange(1, 22) * NOISE_MM**2
    found = [gauge_alone(free) for free in range(1, 22)]
    np.testing.assert_allclose(found, known, rtol=0.03)


def test_where_a_reading_is_on_the_limit_its_neighbourhood_is_read_before_the_end_is_good():
    joint = Joint(Round(28.6, wall=0.9), Round(38.1), angle=62)
    gaps = [0.3, 0.3, 0.1, 0.1, 0, 0.05, 0.15, 0.05]
    pairs = [(45.0 * place, gap) for place, gap in enumerate(gaps)]
    found = regrind(joint, "bevelled", pairs, 0.3)
    assert found.within(0.3) and found.read_also == (22.0, 68.0, 338.0)
    clear = [(clock, min(gap, 0.2)) for clock, gap in pairs]
    assert regrind(joint, "bevelled", clear, 0.3).read_also == ()
