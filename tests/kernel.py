"""The same tubes in a CAD kernel, built only with the kernel's own transforms.

A main is built on x, its first section axis along y and its second along z; a branch on z, its
clock 0 on +x. Clocks come from the kernel's own arc lengths (scipy's on an ellipse), insides from
its own tangents.
"""

import math

import numpy as np
from OCP.BRepAdaptor import BRepAdaptor_CompCurve, BRepAdaptor_Curve
from OCP.BRepAlgoAPI import BRepAlgoAPI_Section
from OCP.BRepBuilderAPI import (
    BRepBuilderAPI_MakeEdge,
    BRepBuilderAPI_MakeFace,
    BRepBuilderAPI_MakeVertex,
    BRepBuilderAPI_MakeWire,
    BRepBuilderAPI_Transform,
)
from OCP.BRepExtrema import BRepExtrema_DistShapeShape
from OCP.BRepPrimAPI import (
    BRepPrimAPI_MakeBox,
    BRepPrimAPI_MakeCone,
    BRepPrimAPI_MakeCylinder,
    BRepPrimAPI_MakePrism,
    BRepPrimAPI_MakeTorus,
)
from OCP.GCPnts import GCPnts_AbscissaPoint
from OCP.gp import (
    gp_Ax1,
    gp_Ax2,
    gp_Circ,
    gp_Dir,
    gp_Elips,
    gp_Lin,
    gp_Pnt,
    gp_Trsf,
    gp_Vec,
)
from OCP.IntCurvesFace import IntCurvesFace_ShapeIntersector
from OCP.TopAbs import TopAbs_EDGE, TopAbs_FACE
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS
from scipy.optimize import brentq
from scipy.special import ellipe, ellipeinc

from coper import Bent, Box, Oval, Plate, Round, Tapered, TaperedOval

LONG = 4000.0
ARC = 1e-11  # mm: how exactly the kernel measures lengths round a section

X = gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(1, 0, 0))
Y = gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 1, 0))
Z = gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1))


def rotation(axis, degrees):
    trsf = gp_Trsf()
    trsf.SetRotation(axis, math.radians(degrees))
    return trsf


def translation(x, y, z):
    trsf = gp_Trsf()
    trsf.SetTranslation(gp_Vec(x, y, z))
    return trsf


def branch_placing(joint):
    """From the branch standing on z, its clock 0 on +x, to its place in the joint."""
    move = translation(0, joint.offset, 0)
    return move.Multiplied(rotation(Y, 90 - joint.angle)).Multiplied(rotation(Z, joint.turn))


def main_placing(joint):
    """From the main on x, its own start at 0, to its place in the joint."""
    return translation(joint.main_at, 0, 0).Multiplied(rotation(X, joint.main_turn))


def outline(shape, axes):
    """The section of a tube as a kernel wire that begins at clock 0; ``axes`` is its gp_Ax2."""
    if isinstance(shape, Oval):
        return _wire([gp_Elips(axes, shape.major / 2, shape.minor / 2)])
    if isinstance(shape, Box):
        return _box_wire(shape, axes)
    return _wire([gp_Circ(axes, shape.diameter / 2)])


def _wire(curves):
    made = BRepBuilderAPI_MakeWire()
    for curve in curves:
        made.Add(curve if not isinstance(curve, (gp_Elips, gp_Circ))
                 else BRepBuilderAPI_MakeEdge(curve).Edge())
    return made.Wire()


def _box_wire(box, axes):
    """Straight edges and quarter circles, counter-clockwise from the middle of the first face."""
    a, b, r = box.first / 2, box.second / 2, box.corner
    one, other = gp_Vec(axes.XDirection()), gp_Vec(axes.YDirection())

    def at(x, y):
        return axes.Location().Translated(one.Multiplied(x).Added(other.Multiplied(y)))

    def corner(x, y, quarter):
        circle = gp_Circ(gp_Ax2(at(x, y), axes.Direction(), axes.XDirection()), r)
        begin = quarter * math.pi / 2
        return BRepBuilderAPI_MakeEdge(circle, begin, begin + math.pi / 2).Edge()

    stops = [((a, 0), (a, b - r)), ((a - r, b), (r - a, b)), ((-a, b - r), (-a, r - b)),
             ((r - a, -b), (a - r, -b)), ((a, r - b), (a, 0))]
    centres = [(a - r, b - r), (r - a, b - r), (r - a, r - b), (a - r, r - b)]
    edges = []
    for index, (start, stop) in enumerate(stops):
        if math.dist(start, stop) > 0:
            edges.append(BRepBuilderAPI_MakeEdge(at(*start), at(*stop)).Edge())
        if r and index < 4:
            edges.append(corner(*centres[index], index))
    return _wire(edges)


def own_main(shape):
    """A main as a kernel solid on x."""
    match shape:
        case Tapered():
            return _cone(shape)
        case Plate():
            return BRepPrimAPI_MakeBox(
                gp_Pnt(-LONG, -LONG, -LONG), gp_Pnt(LONG, LONG, 0)).Shape()
        case Bent():
            axes = gp_Ax2(gp_Pnt(0, 0, -shape.radius), gp_Dir(0, 1, 0))
            return BRepPrimAPI_MakeTorus(axes, shape.radius, shape.diameter / 2).Shape()
        case Round():
            axes = gp_Ax2(gp_Pnt(-LONG, 0, 0), gp_Dir(1, 0, 0))
            return BRepPrimAPI_MakeCylinder(axes, shape.diameter / 2, 2 * LONG).Shape()
    axes = gp_Ax2(gp_Pnt(-LONG, 0, 0), gp_Dir(1, 0, 0), gp_Dir(0, 1, 0))
    face = BRepBuilderAPI_MakeFace(outline(shape, axes)).Face()
    return BRepPrimAPI_MakePrism(face, gp_Vec(2 * LONG, 0, 0)).Shape()


def _cone(shape, far=1500.0):
    """From its apex to ``far`` mm the other way."""
    slope = (shape.end - shape.start) / 2 / shape.length
    apex = -shape.start / 2 / slope
    low, high = (apex, far) if slope > 0 else (-far, apex)
    axes = gp_Ax2(gp_Pnt(low, 0, 0), gp_Dir(1, 0, 0))
    radii = [max(shape.start / 2 + slope * x, 0.0) if x != apex else 0.0 for x in (low, high)]
    return BRepPrimAPI_MakeCone(axes, *radii, high - low).Shape()


def main_solid(joint):
    return BRepBuilderAPI_Transform(own_main(joint.main), main_placing(joint)).Shape()


def section_points(shape, height, clock, depth):
    """Outside-moved-in points of a branch's section, for one height and one clock.

    The arc length finds the place on the section at height 0; the same parameter is taken at
    every height, as generators join equal parameters.
    """
    parameter = _parameter(shape, clock / 360)
    curve = _section_curve(shape, height)
    point, tangent = gp_Pnt(), gp_Vec()
    curve.D1(parameter, point, tangent)
    normal = tangent.Crossed(gp_Vec(0, 0, 1)).Normalized()
    moved = point.Translated(normal.Multiplied(-depth))
    if isinstance(shape, Box):  # deeper than its corners' radius the inside is a sharp rectangle
        for half, get, put in ((shape.first / 2, moved.X, moved.SetX),
                               (shape.second / 2, moved.Y, moved.SetY)):
            put(min(max(get(), depth - half), half - depth))
        if depth > shape.corner and abs(point.X()) > shape.first / 2 - shape.corner and (
                abs(point.Y()) > shape.second / 2 - shape.corner):
            moved.SetX(math.copysign(shape.first / 2 - depth, point.X()))
            moved.SetY(math.copysign(shape.second / 2 - depth, point.Y()))
    return moved


def _parameter(shape, share):
    """Of the section at height 0, where this share of its length has gone by."""
    if isinstance(shape, (Oval, TaperedOval)):  # on an ellipse the kernel is good to 1e-3 mm only
        square = 1 - (shape.minor / shape.major) ** 2
        quarter = ellipe(square)
        return brentq(
            lambda t: quarter - ellipeinc(math.pi / 2 - t, square) - 4 * quarter * share,
            0, 2 * math.pi, xtol=1e-15, rtol=1e-15)
    curve = _section_curve(shape, 0.0)
    length = GCPnts_AbscissaPoint.Length_s(curve, ARC)
    return GCPnts_AbscissaPoint(curve, share * length, curve.FirstParameter(), ARC).Parameter()


def _section_curve(shape, height):
    axes = gp_Ax2(gp_Pnt(0, 0, height), gp_Dir(0, 0, 1), gp_Dir(1, 0, 0))
    if isinstance(shape, Box):
        return BRepAdaptor_CompCurve(outline(shape, axes))
    if isinstance(shape, Oval):
        curve = gp_Elips(axes, shape.major / 2, shape.minor / 2)
    elif isinstance(shape, TaperedOval):
        share = height / shape.length
        major = shape.major + share * (shape.end - shape.major)
        minor = shape.minor + share * (shape.end - shape.minor)
        curve = gp_Elips(axes, major / 2, minor / 2)
    elif isinstance(shape, Tapered):
        share = height / shape.length
        curve = gp_Circ(axes, (shape.start + share * (shape.end - shape.start)) / 2)
    else:
        curve = gp_Circ(axes, shape.diameter / 2)
    return BRepAdaptor_Curve(BRepBuilderAPI_MakeEdge(curve).Edge())


def generator(shape, clock, depth=0.0, near=0.0, half=0.02):
    """The kernel's line through two sections either side of ``near``, and its share of height."""
    low = section_points(shape, near - half, clock, depth)
    high = section_points(shape, near + half, clock, depth)
    direction = gp_Vec(low, high).Normalized()
    foot = low.Translated(direction.Multiplied(-low.Z() / direction.Z()))
    return gp_Lin(foot, gp_Dir(direction)), direction.Z()


def loaded(shape):
    intersector = IntCurvesFace_ShapeIntersector()
    intersector.Load(shape, 1e-9)
    return intersector


def first_entry(intersector, line):
    """The largest parameter at which a line meets a solid; nan where it misses."""
    intersector.Perform(line, -LONG, LONG)
    found = [intersector.WParameter(i + 1) for i in range(intersector.NbPnt())]
    return max(found, default=math.nan)


def near_entry(joint):
    """How an entry is found: on a bend met from its inside, where the line leaves the near side."""
    if not isinstance(joint.main, Bent):
        return first_entry
    centre = gp_Pnt(0, 0, -joint.main.radius).Transformed(main_placing(joint))
    crown = gp_Pnt(0, 0, 0).Transformed(main_placing(joint))
    out = gp_Vec(centre, crown)

    def found(intersector, line):
        if gp_Vec(line.Direction()).Dot(out) >= 0:
            return first_entry(intersector, line)
        intersector.Perform(line, -LONG, LONG)
        met = sorted(intersector.WParameter(i + 1) for i in range(intersector.NbPnt()))
        if len(met) < 2:
            return math.nan
        middle = line.Location().Translated(
            gp_Vec(line.Direction()).Multiplied((met[0] + met[1]) / 2))
        # Of a line that misses the near side only the far one is left, across the bend's middle.
        return met[1] if gp_Vec(centre, middle).Dot(out) > 0 else math.nan

    return found


def alongs(joint, clocks, depth=0.0):
    """Alongs of a branch's generators on its main, both built by the kernel."""
    main, placing = loaded(main_solid(joint)), branch_placing(joint)
    first_entry = near_entry(joint)
    found = []
    for clock in clocks:
        along = 0.0
        for _ in range(6 if isinstance(joint.branch, TaperedOval) and depth else 1):
            line, rise = generator(joint.branch, clock, depth, along)
            along = first_entry(main, line.Transformed(placing)) * rise
            if math.isnan(along):
                break
        found.append(along)
    return np.array(found)


def skin_distance(shape, point):
    """Shortest distance from a point of the main's own frame to the main's skin, unsigned."""
    solid = own_main(shape)
    faces = TopExp_Explorer(solid, TopAbs_FACE)
    # The main's frame has its axis third; the kernel's solid has it on x.
    vertex = BRepBuilderAPI_MakeVertex(gp_Pnt(*(float(point[i]) for i in (2, 0, 1)))).Vertex()
    least = math.inf
    while faces.More():
        least = min(least, BRepExtrema_DistShapeShape(vertex, faces.Current()).Value())
        faces.Next()
    return least


def branch_solid(joint):
    axis = gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1))
    solid = BRepPrimAPI_MakeCylinder(axis, joint.branch.diameter / 2, 400).Shape()
    return BRepBuilderAPI_Transform(solid, branch_placing(joint)).Shape()


def section(one, other):
    """The kernel's Boolean section of two solids."""
    made = BRepAlgoAPI_Section(one, other)
    made.Build()
    return made.Shape()


def edge_points(shape, count=20):
    """Points (n, 3) along every edge of a section."""
    points = []
    explorer = TopExp_Explorer(shape, TopAbs_EDGE)
    while explorer.More():
        curve = BRepAdaptor_Curve(TopoDS.Edge(explorer.Current()))
        for t in np.linspace(curve.FirstParameter(), curve.LastParameter(), count):
            at = curve.Value(float(t))
            points.append((at.X(), at.Y(), at.Z()))
        explorer.Next()
    return np.array(points)


def branch_frame(joint, points):
    """Joint points told as (clock in degrees, along), by the kernel's inverse transform."""
    back = branch_placing(joint).Inverted()
    told = [gp_Pnt(*map(float, p)).Transformed(back) for p in points]
    clock = np.degrees([math.atan2(p.Y(), p.X()) for p in told]) % 360
    return clock, np.array([p.Z() for p in told])
