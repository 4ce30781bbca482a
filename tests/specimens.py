"""Random joints, seeded, overhanging ones among them."""

import numpy as np

from coper import Joint, Round


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
