"""Random ends as a bench makes them, their dry fit, and grinding as it was advised.

What a feeler gauge reads comes from the exact seating of an end that is known everywhere, through
its wall; nothing here knows how advice is found.
"""

from dataclasses import dataclass, replace

import numpy as np

from coper import CoperError, Joint
from coper.joint.edge import even_clocks
from coper.joint.fit.face import Bevelled, Square
from coper.joint.fit.fit import seat
from coper.joint.fit.mount import Mounting
from coper.joint.fit.passes import Pass
from coper.joint.saw.kit import choose_saws
from coper.units import INCH_MM
from tests.specimens import BRANCHES, MAINS, random_branch, random_main

NOISE_MM = 0.05
STEP_MM = 0.05
"""Feeler gauges go by steps of 0.05 mm."""
USUAL = (1.5, 0.7, 0.5)
"""Standard deviations of what a bench does wrong: degrees, degrees, mm."""

MOST_WAVE_MM = 0.12
"""Height of a wave."""
WORST_MM, MOST_OWN_MM = 2.5, 0.8
"""A worse end is cut again, and a saw that leaves more is not taken."""
LEAST_READ = 5
"""An end that overhangs so far that fewer clocks can be read is no case for eight readings."""


def away(clock, at):
    """Degrees from ``at``, -180 to 180."""
    return (np.asarray(clock) - at + 180) % 360 - 180


@dataclass(frozen=True)
class End:
    """An end as it is: a cut, what stands proud (or is ground too deep) of it, what was ground off.

    Its clocks are those of the tube as it is mounted.
    """

    joint: Joint
    cut: str
    passes: tuple
    face: object
    errors: Mounting
    bumps: tuple = ()
    waves: tuple = ()
    ground: tuple = ()

    @property
    def cluster(self):
        return self.face.cluster

    def of(self, chosen):
        return self

    def station(self, clock, depth):
        mounted = np.asarray(clock) + self.errors.clock
        off = 0.0
        for at, wide, proud in self.bumps:
            off -= proud * np.clip(1 - np.abs(away(mounted, at)) / wide, 0, None)
        for order, phase, high in self.waves:
            off -= high * np.cos(np.radians(order * mounted - phase))
        for clocks, remove in self.ground:
            off += np.interp(mounted, clocks, remove, period=360)
        return self.face.station(clock, depth) + off

    def fit(self):
        return seat(self, self.errors.of(self.joint).cluster(), self.errors.clock, 8)

    def after(self, found):
        """The end when the strip was followed; where that is open, on from its end."""
        clocks = even_clocks(720)
        remove = found.at(clocks)
        known = ~np.isnan(remove)
        return replace(self, ground=(*self.ground, (clocks[known], remove[known])))


def own_gap(end):
    """The gap that the cut leaves where nothing is wrong."""
    return 0.0 if end.cut == "bevelled" else seat(end.face, end.joint.cluster(), 0.0, 8).largest


def read(end, fit, rng):
    """Pairs of clock and gap: eight clocks from the heel, and where it touches."""
    clocks = (end.joint.heel_clock + even_clocks(8)) % 360
    touch = round(fit.contact_clock) % 360
    if np.abs(away(clocks, touch)).min() > 2:
        clocks = np.append(clocks, touch)
    return read_at(end, fit, rng, clocks)


def read_at(end, fit, rng, clocks):
    """Pairs of clock and gap at ``clocks`` that meet the main."""
    gaps = fit.at(clocks)[0]
    meets = ~np.isnan(gaps) & ~np.isnan(end.joint.cluster().entry(clocks))
    noisy = np.maximum(gaps + rng.normal(0, NOISE_MM, gaps.size), 0)
    steps = np.round(noisy / STEP_MM) * STEP_MM
    return list(zip(clocks[meets].tolist(), steps[meets].tolist(), strict=True))


def _kit(main):
    """Two saws by the eighth of an inch that are next to the main's size, one smaller."""
    size = getattr(main, "diameter", getattr(main, "start", getattr(main, "major", 60.0)))
    near = round(size / INCH_MM * 8)
    return tuple(eighths * INCH_MM / 8 for eighths in (near - 1, near + 1))


def random_end(seed):
    """An end of any branch on any main with usual errors; some joints overhang, some are steep."""
    rng = np.random.default_rng(seed)
    for _ in range(200):
        end = _tried(seed, rng)
        if end is not None:
            return end
    raise AssertionError(f"no end for seed {seed}")


def _tried(seed, rng):
    branch = random_branch(BRANCHES[seed % len(BRANCHES)], rng)
    main = random_main(MAINS[rng.integers(len(MAINS))], rng)
    joint = Joint(branch, main, rng.uniform(35, 145), rng.normal(0, 5),
                  rng.choice([0.0, rng.uniform(-180, 180)]))
    cut = ("bevelled", "bevelled", "square", "saw")[rng.integers(4)]
    try:
        cluster, passes = joint.cluster(), ()
        if cut == "saw":
            choice = choose_saws(joint, _kit(main), enough=0.3).choices[0]
            face = choice.fit.face
            passes = tuple(Pass(one.diameter, one.offset, -one.centre_beyond_long_point)
                           for one in choice.passes)
        else:
            face = Square(cluster) if cut == "square" else Bevelled(cluster)
        turn, angle, offset = rng.normal(0, USUAL) * rng.choice([0, 1])
        errors = Mounting(angle, turn, offset)
        bumps = tuple((rng.uniform(0, 360), rng.uniform(35, 70), rng.uniform(-0.6, 0.9))
                      for _ in range(rng.integers(0, 3)))
        waves = tuple((order, rng.uniform(0, 360), rng.uniform(0, MOST_WAVE_MM))
                      for order in range(2, 2 + rng.integers(0, 3)))
        end = End(joint, cut, passes, face, errors, bumps, waves)
        fit = end.fit()
        if fit.largest > WORST_MM or own_gap(end) > MOST_OWN_MM:
            return None
        if len(read(end, fit, rng)) < LEAST_READ:
            return None
    except CoperError:
        return None
    return end


def advised(end, fit, rng, advise):
    """The advice on an end, after the clocks were read too that it asks for."""
    pairs = read(end, fit, rng)
    found = advise(end.joint, end.cut, pairs, None, end.passes)
    if not found.read_also:
        return found
    pairs += read_at(end, fit, rng, np.array(found.read_also))
    return advise(end.joint, end.cut, pairs, None, end.passes)


def rounds(seed, advise, times=2):
    """The largest gaps beyond what the cut leaves, before and after every round of advice."""
    end = random_end(seed)
    rng, own = np.random.default_rng(seed + 1), own_gap(end)
    fit = end.fit()
    gaps = [fit.largest - own]
    for _ in range(times):
        end = end.after(advised(end, fit, rng, advise))
        fit = end.fit()
        gaps.append(fit.largest - own)
    return gaps
