"""The same tubes in a CAD kernel, built only with the kernel's own transforms."""

import math

import numpy as np
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.BRepAlgoAPI import BRepAlgoAPI_Section
from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
from OCP.BRepPrimAPI import BRepPrimAPI_MakeCylinder
from OCP.gp import gp_Ax1, gp_Ax2, gp_Dir, gp_Lin, gp_Pnt, gp_Trsf, gp_Vec
from OCP.IntCurvesFace import IntCurvesFace_ShapeIntersector
from OCP.TopAbs import TopAbs_EDGE
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS

LONG = 4000.0

X = gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(1, 0, 0))
Y = gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 1, 0))
Z = gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1))


def rotation(axis, degrees):
    trsf = gp_Trsf()
    trsf.SetRotation(axis, math.radians(degrees))
    return trsf


def branch_placing(joint):
    """From the branch standing on z, its clock 0 on +x, to its place in the joint."""
    move = gp_Trsf()
    move.SetTranslation(gp_Vec(0, joint.offset, 0))
    return move.Multiplied(rotation(Y, 90 - joint.angle)).Multiplied(rotation(Z, joint.turn))


def round_main(diameter):
    axis = gp_Ax2(gp_Pnt(-LONG, 0, 0), gp_Dir(1, 0, 0))
    return BRepPrimAPI_MakeCylinder(axis, diameter / 2, 2 * LONG).Shape()


def round_generator(diameter, clock):
    angle = math.radians(clock)
    foot = gp_Pnt(diameter / 2 * math.cos(angle), diameter / 2 * math.sin(angle), 0)
    return gp_Lin(foot, gp_Dir(0, 0, 1))


def first_entry(shape, line):
    """The largest parameter at which a line meets a solid; nan where it misses."""
    intersector = IntCurvesFace_ShapeIntersector()
    intersector.Load(shape, 1e-9)
    intersector.Perform(line, -LONG, LONG)
    found = [intersector.WParameter(i + 1) for i in range(intersector.NbPnt())]
    return max(found, default=math.nan)


def round_alongs(joint, clocks, depth=0.0):
    """Alongs of a round branch's generators on a round main."""
    main = round_main(joint.main.diameter)
    placing = branch_placing(joint)
    lines = [round_generator(joint.branch.diameter - 2 * depth, c).Transformed(placing)
             for c in clocks]
    return np.array([first_entry(main, line) for line in lines])


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
