"""Speed, as ratios against something in the same run: ``pytest --benchmark-only``.

Aims: the cope's edges 1000 times as fast as the kernel's Boolean section of the same joint, and
one joint to an SVG within 2.5 times ``python -c "import numpy"``.
"""

import os
import subprocess
import sys
import time

import numpy as np
from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut
from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
from OCP.BRepPrimAPI import BRepPrimAPI_MakeCylinder
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt

from coper import Joint, Round
from coper.joint.edge import grid_edges
from tests import kernel

JOINT = Joint(Round(28.6, 0.9), Round(38.1), 62, 3)


def best(work, rounds):
    """The shortest of several runs, in seconds."""
    def once():
        start = time.perf_counter()
        work()
        return time.perf_counter() - start

    return min(once() for _ in range(rounds))


def hollow_branch():
    axis = gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1))
    outside = BRepPrimAPI_MakeCylinder(axis, 14.3, 400).Shape()
    inside = BRepPrimAPI_MakeCylinder(axis, 13.4, 400).Shape()
    return BRepBuilderAPI_Transform(
        BRepAlgoAPI_Cut(outside, inside).Shape(), kernel.branch_placing(JOINT)).Shape()


def kernel_seconds():
    branch, main = hollow_branch(), kernel.main_solid(JOINT)
    return best(lambda: kernel.section(branch, main), 5)


def test_both_edges_beside_the_kernels_section(benchmark):
    cluster = JOINT.cluster()
    benchmark(grid_edges, cluster)
    benchmark.extra_info["times the kernel"] = kernel_seconds() / benchmark.stats.stats.min


def test_the_whole_cope_beside_the_kernels_section(benchmark):
    benchmark(JOINT.cope)
    benchmark.extra_info["times the kernel"] = kernel_seconds() / benchmark.stats.stats.min


def test_the_whole_command_beside_import_numpy(benchmark, tmp_path):
    words = [sys.executable, "-m", "coper", "joint", "28.6 x 0.9", "38.1", "--angle", "62",
             "--offset", "3", "--svg", str(tmp_path / "cope.svg"), "--force"]
    # As on a person's machine, where Python keeps what it has compiled.
    kept = {**os.environ, "PYTHONPYCACHEPREFIX": str(tmp_path / "compiled")}
    kept.pop("PYTHONDONTWRITEBYTECODE", None)

    def command(line):
        return lambda: subprocess.run(line, check=True, capture_output=True, env=kept)

    bare = best(command([sys.executable, "-c", "import numpy"]), 15)
    command(words)()
    benchmark.pedantic(command(words), rounds=15)
    benchmark.extra_info["times import numpy"] = benchmark.stats.stats.min / bare
    assert np.isfinite(bare)
