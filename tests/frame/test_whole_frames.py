"""Whole random frames with a bent tube, several mains and mitres, against the kernel's solids."""

import math

import numpy as np
import pytest
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeVertex
from OCP.BRepClass3d import BRepClass3d_SolidClassifier
from OCP.BRepExtrema import BRepExtrema_DistShapeShape
from OCP.gp import gp_Pnt
from OCP.TopAbs import TopAbs_IN, TopAbs_SHELL
from OCP.TopExp import TopExp_Explorer

from coper import make_pieces, parse_job
from coper.frame.clash import find_clashes
from coper.frame.surface import surfaces
from tests import kernel
from tests.frame import course_kernel
from tests.frame.kernel import branch_placing, main_solid
from tests.profiles import seeds

DEEP_MM = 1e-3
CLOCKS = np.arange(0.0, 360.0, 45.0)
SHARES = np.linspace(0, 1, 5)


def point(place):
    return f"[{', '.join(f'{value:.6f}' for value in place)}]"


def frame(seed):
    """A hoop on two rails, a strut on hoop and rail, mitred with a stay that seats on the rail."""
    rng = np.random.default_rng([21, seed])
    wide, high, lean = rng.uniform(280, 400), rng.uniform(260, 380), rng.uniform(-60, 60)
    tube, bend = rng.uniform(24, 34), rng.uniform(60, 110)
    rail = rng.uniform(34, 44)
    strut = rng.uniform(14, 20)
    foot = np.array((0.0, wide, 0.0)) + rng.uniform(-2, 2, 3)
    peak = np.array((rng.uniform(200, 300), wide + rng.uniform(-40, 40), rng.uniform(120, 200)))
    end = np.array((rng.uniform(420, 520), wide + rng.uniform(-3, 3), rng.uniform(-3, 3)))
    return f"""\
[tubes.rail]
shape = "{rail:.4f} x 2"
start = {{ at = [-200, {wide:.6f}, 0] }}
end = {{ at = [700, {wide:.6f}, 0] }}
mirror = true
[tubes.hoop]
shape = "{tube:.4f} x 1.5"
start = {{ at = [0, {wide:.6f}, 0], on = ["rail"] }}
corners = [{point((lean, wide, high))}, {point((lean, -wide, high))}]
bend = {bend:.4f}
end = {{ at = [0, {-wide:.6f}, 0], on = ["rail"] }}
[tubes.strut]
shape = "{strut:.4f} x 1.2"
start = {{ at = {point(foot)}, on = ["hoop", "rail"] }}
end = {{ at = {point(peak)}, mitre = "stay" }}
[tubes.stay]
shape = "{strut:.4f} x 1.2"
start = {{ at = {point(peak)} }}
end = {{ at = {point(end)}, on = ["rail"] }}
"""


def solid(tube):
    """The whole tube in the kernel, bends and all, as if its ends went on."""
    if tube.course is None:
        return main_solid(tube)
    return course_kernel.solid(tube.shape, [tube.start, *tube.corners, tube.end], tube.radii,
                               tube.pose.axes[0], past=(0.0, 0.0))


def entries(tube, which, mains, depth):
    """Where the kernel's generators leave the mains for the tube's body, from its start point."""
    solids, place = [kernel.loaded(solid(main)) for main in mains], branch_placing(tube)
    if tube.course is not None:
        pytest.fail("only straight tubes are followed")
    found = []
    for clock in CLOCKS:
        line, rise = kernel.generator(tube.shape, clock, depth)
        line = line.Transformed(place)
        at = 0.0 if which == "start" else tube.length
        met = []
        for one in solids:
            one.Perform(line, at - 150, at + 150)
            met += [one.WParameter(i + 1) * rise for i in range(one.NbPnt())]
        found.append((max if which == "start" else min)(met, default=math.nan))
    return np.array(found)


def deepest(shape, points):
    """How far inside a solid the deepest of points (n, 3) is, mm; 0 where none is."""
    shell = TopExp_Explorer(shape, TopAbs_SHELL).Current()
    depth = 0.0
    for place in points:
        known = BRepClass3d_SolidClassifier(shape, gp_Pnt(*place), 1e-7)
        if known.State() == TopAbs_IN:
            vertex = BRepBuilderAPI_MakeVertex(gp_Pnt(*place)).Vertex()
            depth = max(depth, BRepExtrema_DistShapeShape(vertex, shell).Value())
    return depth


@pytest.mark.parametrize("seed", seeds(3))
def test_the_ends_of_a_random_frame_lie_where_the_kernels_solids_are(seed):
    pieces = {piece.label: piece for piece in make_pieces(parse_job(frame(seed)))}
    for label, which in (("strut", "start"), ("stay", "end")):
        piece = pieces[label]
        end = piece.start if which == "start" else piece.end
        mains = [pieces[main.label].tube for main in end.mains]
        for depth, own in ((0.0, end.outer), (piece.tube.shape.wall, end.inner)):
            ours = np.array([own[end.clock == clock][0] for clock in CLOCKS])
            np.testing.assert_allclose(ours, entries(piece.tube, which, mains, depth), rtol=0,
                                       atol=1e-6)


@pytest.mark.parametrize("seed", seeds(3))
def test_no_tube_of_a_random_frame_is_inside_another_and_no_edge_is_open(seed):
    pieces = make_pieces(parse_job(frame(seed)))
    assert find_clashes(pieces) == ()
    by_label = {piece.label: piece for piece in pieces}
    for piece in pieces:
        for end in piece.ends:
            assert end.open == () and np.isfinite(end.outer).all()
    for label, others in (("strut", ("hoop", "rail left")), ("stay", ("rail left",)),
                          ("hoop", ("rail left", "rail right"))):
        skin = next(surfaces(by_label[label])).at(CLOCKS[:, None], SHARES).reshape(-1, 3)
        for other in others:
            assert deepest(solid(by_label[other].tube), skin) < DEEP_MM


@pytest.mark.parametrize("seed", seeds(3))
def test_the_two_ends_of_a_mitre_in_a_random_frame_are_one_edge(seed):
    pieces = {piece.label: piece for piece in make_pieces(parse_job(frame(seed)))}
    strut, stay = pieces["strut"], pieces["stay"]
    edge = strut.tube.seen_from("end")[1].outward(strut.end.cope.points)
    other = stay.tube.as_main.distance(stay.tube.pose.inward(edge))
    assert other == pytest.approx(np.zeros(len(edge)), abs=1e-6)
    way = stay.tube.end - stay.tube.start
    way, own = way / np.linalg.norm(way), strut.tube.start - strut.tube.end
    own = own / np.linalg.norm(own)
    assert (edge - strut.tube.end) @ (own - way) == pytest.approx(np.zeros(len(edge)), abs=1e-6)
