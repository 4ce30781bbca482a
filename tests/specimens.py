"""Random joints, seeded, overhanging ones among them."""

import numpy as np

from coper import Bent, Box, Joint, Oval, Plate, Round, Tapered, TaperedOval

BRANCHES = (Round, Tapered, Oval, TaperedOval, Box)
MAINS = (Round, Tapered, Oval, Box, Plate, Bent)

EXACT_BRANCHES = [Round(28), Tapered(22.2, 14, 390), Tapered(14, 40, 60), Oval(30, 17),
                  Box(40, 20, 3), Box(40, 20, 10), Box(30, 50)]
BRANCHES_OF_EVERY_KIND = [*EXACT_BRANCHES, TaperedOval(30, 17, 14, 380),
                          TaperedOval(40, 12, 44, 90)]


def random_joint(seed):
    """A round joint of bench sizes; every third overhangs its main on one side or both."""
    rng = np.random.default_rng(seed)
    main = rng.uniform(10, 90)
    overhangs = seed % 3 == 0
    branch = rng.uniform(8, 90) if overhangs else main * rng.uniform(0.2, 0.98)
    most = (main + branch) / 2 * 0.9 if overhangs else (main - branch) / 2
    return Joint(
        Round(branch, branch * rng.uniform(0.02, 0.2)),
        Round(main),
        angle=rng.uniform(15, 165),
        offset=rng.uniform(-most, most),
        turn=rng.choice([0.0, rng.uniform(-180, 180)]),
    )


def random_branch(kind, rng):
    """A branch of bench sizes; half of the boxes have corners tighter than their wall."""
    size, wall = rng.uniform(15, 50), rng.uniform(0.5, 2)
    if kind is Round:
        return Round(size, wall)
    if kind is Tapered:
        return Tapered(size, size * rng.uniform(0.5, 1.6), rng.uniform(150, 400), wall)
    if kind is Oval:
        return Oval(size, size * rng.uniform(0.5, 0.95), wall)
    if kind is TaperedOval:
        minor = size * rng.uniform(0.55, 0.95)
        return TaperedOval(size, minor, size * rng.uniform(0.5, 1.2), rng.uniform(200, 400), wall)
    second = size * rng.uniform(0.4, 1.5)
    corner = min(size, second) * rng.choice([0.0, rng.uniform(0, 0.5)])
    return Box(size, second, corner, wall)


def random_main(kind, rng):
    """A main of bench sizes."""
    size = rng.uniform(30, 90)
    if kind is Round:
        return Round(size)
    if kind is Tapered:
        return Tapered(size, size * rng.uniform(0.6, 1.5), rng.uniform(150, 400))
    if kind is Oval:
        return Oval(size, size * rng.uniform(0.3, 0.95))
    if kind is Box:
        second = size * rng.uniform(0.4, 1.5)
        return Box(size, second, min(size, second) * rng.choice([0.0, rng.uniform(0, 0.5)]))
    if kind is Plate:
        return Plate(6)
    return Bent(size, size * rng.uniform(0.7, 4))


def random_pair(branch, main, seed):
    """A joint of these two kinds, its numbers all at once away from any symmetry."""
    rng = np.random.default_rng([BRANCHES.index(branch), MAINS.index(main), seed])
    return Joint(
        random_branch(branch, rng),
        random_main(main, rng),
        angle=rng.uniform(20, 160),
        offset=rng.uniform(-15, 15),
        turn=rng.uniform(-180, 180),
        main_turn=rng.uniform(-180, 180) if main is not Plate else rng.uniform(-40, 40),
        main_at=rng.uniform(-40, 40),
    )
