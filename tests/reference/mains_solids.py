"""The mains a branch can sit on as Open CASCADE solids: round, plate, mitre, rectangular and bent round tube.

Frame of the branch: origin at the joint centre, z along the branch axis into its body, x to the heel side of
the first main. Frame of a main: x along its axis, y to its side, z up at the branch, origin on its axis at the
landing station. Every main is the set of points within a radius of a core, and the core is kept beside the
solid, so that the kernel can be asked twice in different ways: where a line meets the solid, and where the
distance from the core becomes the radius. Lengths in mm.
"""

import math

from OCP.Bnd import Bnd_Box
from OCP.BRepBndLib import BRepBndLib
from OCP.BRepBuilderAPI import (
    BRepBuilderAPI_MakeEdge,
    BRepBuilderAPI_MakeFace,
    BRepBuilderAPI_MakeVertex,
    BRepBuilderAPI_MakeWire,
    BRepBuilderAPI_NurbsConvert,
    BRepBuilderAPI_Transform,
)
from OCP.BRepClass3d import BRepClass3d_SolidClassifier
from OCP.BRepExtrema import BRepExtrema_DistShapeShape
from OCP.BRepFilletAPI import BRepFilletAPI_MakeFillet
from OCP.BRepIntCurveSurface import BRepIntCurveSurface_Inter
from OCP.BRepOffsetAPI import BRepOffsetAPI_MakePipe
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox, BRepPrimAPI_MakeCylinder, BRepPrimAPI_MakeTorus
from OCP.ElCLib import ElCLib
from OCP.Extrema import Extrema_ExtElC, Extrema_ExtPElC, Extrema_POnCurv
from OCP.gp import gp_Ax1, gp_Ax2, gp_Ax3, gp_Circ, gp_Dir, gp_Lin, gp_Pnt, gp_Trsf, gp_Vec
from OCP.TopAbs import TopAbs_EDGE, TopAbs_IN
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS

ORIGIN = gp_Pnt(0.0, 0.0, 0.0)
X, Y, Z = gp_Dir(1.0, 0.0, 0.0), gp_Dir(0.0, 1.0, 0.0), gp_Dir(0.0, 0.0, 1.0)
# How far beyond its end a limb of a centre line still counts as itself: two limbs meet there.
SEAM = 1e-9


def moved(shape, placing):
    return BRepBuilderAPI_Transform(shape, placing, True).Shape()


def rotation(axis, degrees):
    turning = gp_Trsf()
    turning.SetRotation(gp_Ax1(ORIGIN, axis), math.radians(degrees))
    return turning


def displacement(source, target):
    placing = gp_Trsf()
    placing.SetDisplacement(source, target)
    return placing


def on_line(line, distance):
    """The point of a line at a distance from its location."""
    return line.Location().Translated(gp_Vec(line.Direction()).Multiplied(distance))


class Main:
    """What every kind shares: the pose, and what the file says of it.

    `placing` takes the main's own frame to the branch frame: the axis leans by the included angle and stands
    aside by the offset; then the main is turned about the branch from x towards y, and shifted along it.
    """

    kind = None

    def __init__(self, angle_deg, offset=0.0, about_deg=0.0, shift=0.0):
        # Rounded first and used afterwards: what the file says is exactly what the kernel saw.
        self.angle_deg, self.offset = round(angle_deg, 4), round(offset, 4)
        self.about_deg, self.shift = round(about_deg, 4), round(shift, 4)
        self.angle = math.radians(self.angle_deg)
        assert 5.0 <= self.angle_deg <= 90.0, self.angle_deg
        along = gp_Dir(math.sin(self.angle), 0.0, math.cos(self.angle))
        leaning = displacement(gp_Ax3(ORIGIN, Z, X), gp_Ax3(gp_Pnt(0.0, self.offset, 0.0), along.Crossed(Y), along))
        shifting = gp_Trsf()
        shifting.SetTranslation(gp_Vec(0.0, 0.0, self.shift))
        self.placing = shifting.Multiplied(rotation(Z, self.about_deg)).Multiplied(leaning)

    def half_length(self, branch, across):
        """Long enough that no generator of a branch of this radius gets past the end of a main this wide."""
        return 2.0 * (branch + across + abs(self.offset)) / math.sin(self.angle) + branch

    def finish(self):
        box = Bnd_Box()
        for piece in self.pieces:
            BRepBndLib.Add_s(piece, box)
        # Above it there is nothing of this main.
        self.top = box.CornerMax().Z() + 10.0

    def spline_pieces(self):
        """The same surfaces as splines, which the kernel meets with other algorithms."""
        return [BRepBuilderAPI_NurbsConvert(piece, True).Shape() for piece in self.pieces]

    def describe(self):
        said = {"kind": self.kind} | self.sizes()
        said |= {"angle_deg": self.angle_deg, "angle_rad": self.angle, "offset": self.offset}
        if self.about_deg or self.shift:
            said |= {"about_deg": self.about_deg, "shift": self.shift}
        return said


class Tube(Main):
    """A main that is all points within a radius of a centre line of lines and circles."""

    # (line or circle, first parameter, last parameter), in the branch frame
    limbs = ()
    core_radius = 0.0

    def beyond(self, point):
        """Distance of a point from the centre line less the radius: above 0 it is outside."""
        nearest = math.inf
        for limb, first, last in self.limbs:
            found = Extrema_ExtPElC(point, limb, 1e-14, first - SEAM, last + SEAM)
            if found.IsDone():
                for i in range(1, found.NbExt() + 1):
                    nearest = min(nearest, found.SquareDistance(i))
        return math.sqrt(nearest) - self.core_radius

    def clearances(self, line):
        """At every place where the distance between a line and the centre line is least or greatest, that
        distance less the radius: a least one above 0 misses there, 0 grazes."""
        found = []
        for limb, first, last in self.limbs:
            near = Extrema_ExtElC(line, limb, 1e-12)
            if not near.IsDone() or near.IsParallel():
                continue
            for i in range(1, near.NbExt() + 1):
                ours, theirs = Extrema_POnCurv(), Extrema_POnCurv()
                near.Points(i, ours, theirs)
                at = theirs.Parameter()
                if first - SEAM <= at <= last + SEAM:
                    found.append(math.sqrt(near.SquareDistance(i)) - self.core_radius)
        return found


class Round(Tube):
    kind = "round"

    def __init__(self, radius, branch, gap, **pose):
        super().__init__(**pose)
        self.radius = round(radius, 4)
        self.core_radius = self.across = self.radius + gap
        half = self.half_length(branch, self.across)
        start = gp_Ax2(gp_Pnt(-half, 0.0, 0.0), X)
        cylinder = BRepPrimAPI_MakeCylinder(start, self.core_radius, 2.0 * half).Shape()
        self.pieces = [moved(cylinder, self.placing)]
        self.limbs = [(gp_Lin(ORIGIN, X).Transformed(self.placing), -half, half)]
        self.finish()

    def sizes(self):
        return {"radius": self.radius}


class Plate(Main):
    """A half space: a box whose top face is the plate's, larger than the branch can see."""

    kind = "plate"

    def __init__(self, branch, gap, **pose):
        super().__init__(**pose)
        assert self.offset == 0.0, "a plate has no offset"
        self.gap, self.across = gap, 0.0
        half = self.half_length(branch, branch + gap)
        box = BRepPrimAPI_MakeBox(gp_Pnt(-half, -half, gap - half), gp_Pnt(half, half, gap)).Shape()
        self.pieces = [moved(box, self.placing)]
        self.finish()

    def beyond(self, point):
        return point.Transformed(self.placing.Inverted()).Z() - self.gap

    def clearances(self, _line):
        return []

    def sizes(self):
        return {}


class Mitre(Plate):
    """The dividing plane of two tubes that meet at an included angle between their axes."""

    kind = "mitre"

    def __init__(self, radius, included_deg, branch, gap, **pose):
        self.radius, self.included_deg = round(radius, 4), round(included_deg, 3)
        super().__init__(branch, gap, angle_deg=0.5 * self.included_deg, **pose)

    def sizes(self):
        return {
            "radius": self.radius,
            "included_deg": self.included_deg,
            "included_rad": math.radians(self.included_deg),
        }


class Rectangular(Main):
    """A box with its four long edges rounded, rolled about its axis from the side upwards."""

    kind = "rectangular"

    def __init__(self, width, height, corner, roll_deg, branch, gap, **pose):
        super().__init__(**pose)
        self.width, self.height = round(width, 4), round(height, 4)
        self.corner, self.roll_deg = round(corner, 4), round(roll_deg, 4)
        assert 0.0 <= 2.0 * self.corner < min(self.width, self.height)
        self.core_radius = self.corner + gap
        self.across = math.hypot(self.width, self.height) / 2.0 + gap
        half = self.half_length(branch, self.across)
        rolled = self.placing.Multiplied(rotation(X, self.roll_deg))
        side, up = self.width / 2.0 + gap, self.height / 2.0 + gap
        solid = BRepPrimAPI_MakeBox(gp_Pnt(-half, -side, -up), gp_Pnt(half, side, up)).Shape()
        if self.core_radius > 0.0:
            rounding = BRepFilletAPI_MakeFillet(solid)
            for edge in long_edges(solid):
                rounding.Add(self.core_radius, edge)
            solid = rounding.Shape()
        self.pieces = [moved(solid, rolled)]
        side, up = self.width / 2.0 - self.corner, self.height / 2.0 - self.corner
        core = BRepPrimAPI_MakeBox(gp_Pnt(-half, -side, -up), gp_Pnt(half, side, up)).Shape()
        self.core = moved(core, rolled)
        self.core_edges = [gp_Lin(gp_Pnt(0.0, v, w), X).Transformed(rolled) for v in (-side, side) for w in (-up, up)]
        self.finish()

    def beyond(self, point):
        vertex = BRepBuilderAPI_MakeVertex(point).Vertex()
        distance = BRepExtrema_DistShapeShape(vertex, self.core).Value()
        if self.core_radius == 0.0 and BRepClass3d_SolidClassifier(self.core, point, 1e-13).State() == TopAbs_IN:
            # The core is the main itself, and just inside of it the kernel gives the distance from its skin.
            return -distance
        return distance - self.core_radius

    def clearances(self, line):
        """A line that misses the core is nearest to it at a long edge; one that goes through it is at least
        that far inside."""
        edge = min(core_edge.Distance(line) for core_edge in self.core_edges)
        through = BRepIntCurveSurface_Inter()
        through.Init(self.core, line, 1e-9)
        return [(-edge if through.More() else edge) - self.core_radius]

    def seams(self, gap):
        """Side coordinates, in the main's frame, of the eight lines where a flat and a corner radius meet."""
        roll = math.radians(self.roll_deg)
        side, up = self.width / 2.0 - self.corner, self.height / 2.0 - self.corner
        marks = [(side, up + self.corner + gap), (side + self.corner + gap, up)]
        return [i * v * math.cos(roll) - j * w * math.sin(roll) for v, w in marks for i in (-1, 1) for j in (-1, 1)]

    def sizes(self):
        return {
            "width": self.width,
            "height": self.height,
            "corner": self.corner,
            "roll_deg": self.roll_deg,
            "roll_rad": math.radians(self.roll_deg),
        }


def long_edges(box):
    """The four edges of a box along x."""
    explorer = TopExp_Explorer(box, TopAbs_EDGE)
    seen = []
    while explorer.More():
        edge = TopoDS.Edge(explorer.Current())
        extent = Bnd_Box()
        BRepBndLib.AddOptimal_s(edge, extent, False, False)
        low, high = extent.CornerMin(), extent.CornerMax()
        across = max(high.Y() - low.Y(), high.Z() - low.Z())
        if high.X() - low.X() > across and not any(edge.IsSame(other) for other in seen):
            seen.append(edge)
        explorer.Next()
    assert len(seen) == 4
    return seen


class Bent(Tube):
    """A torus sector running into two straight cylinders, tangent to the main's x at the landing station.

    It is built with the middle of its arc at the origin, in the plane z = 0, the bend's centre on +y, and then
    carried so that the station comes to the origin of the main's frame, its tangent to x and the direction to
    the inside of the bend to z turned by `facing` towards y.
    """

    kind = "bent"

    def __init__(self, radius, clr, bend_deg, station, facing_deg, branch, gap, **pose):
        super().__init__(**pose)
        self.radius, self.clr, self.bend_deg = round(radius, 4), round(clr, 4), round(bend_deg, 4)
        self.station, self.facing_deg = round(station, 4), round(facing_deg, 4)
        self.core_radius = self.across = self.radius + gap
        # A torus that reaches its own axis is not made.
        assert self.clr > self.core_radius
        half_bend = 0.5 * math.radians(self.bend_deg)
        centre = gp_Pnt(0.0, self.clr, 0.0)
        circle = gp_Circ(gp_Ax2(centre, Z, Y), self.clr)
        first, last = math.pi - half_bend, math.pi + half_bend
        start, end = tangent_line(circle, first).Reversed(), tangent_line(circle, last)

        half_arc = self.clr * half_bend
        if abs(self.station) <= half_arc:
            landing = tangent_line(circle, math.pi + self.station / self.clr)
        elif self.station > 0.0:
            landing = gp_Lin(on_line(end, self.station - half_arc), end.Direction())
        else:
            landing = gp_Lin(on_line(start, -self.station - half_arc), start.Direction().Reversed())
        facing = math.radians(self.facing_deg)
        inward = gp_Dir(0.0, math.sin(facing), math.cos(facing))
        carrying = displacement(
            gp_Ax3(landing.Location(), Z, landing.Direction()), gp_Ax3(ORIGIN, X.Crossed(inward), X)
        )
        carrying = self.placing.Multiplied(carrying)

        circle, start, end = (it.Transformed(carrying) for it in (circle, start, end))
        self.circle, self.arc, self.legs = circle, (first, last), (start, end)
        # Sine of the angle between leg and branch: the smaller, the longer the leg stays near the branch.
        self.leg_slopes = [math.hypot(leg.Direction().X(), leg.Direction().Y()) for leg in (start, end)]
        length = [
            1.5 * (branch + self.core_radius + abs(self.offset) + 2.0 * self.clr + abs(self.station)) / max(slope, 0.01)
            for slope in self.leg_slopes
        ]
        axes = gp_Ax2(circle.Location(), circle.Axis().Direction(), circle.XAxis().Direction())
        axes.Rotate(circle.Axis(), first)
        self.pieces = [
            BRepPrimAPI_MakeTorus(axes, self.clr, self.core_radius, last - first).Shape(),
            *(
                BRepPrimAPI_MakeCylinder(gp_Ax2(leg.Location(), leg.Direction()), self.core_radius, long).Shape()
                for leg, long in zip(self.legs, length, strict=True)
            ),
        ]
        self.limbs = [
            (circle, first, last),
            *((leg, 0.0, long) for leg, long in zip(self.legs, length, strict=True)),
        ]
        self.finish()

    def swept(self):
        """A disc swept along the centre line: one solid whose limbs the kernel puts together."""
        start, end = self.legs
        longs = [last for _, _, last in self.limbs[1:]]
        spine = BRepBuilderAPI_MakeWire(
            BRepBuilderAPI_MakeEdge(start.Reversed(), -longs[0], 0.0).Edge(),
            BRepBuilderAPI_MakeEdge(self.circle, *self.arc).Edge(),
            BRepBuilderAPI_MakeEdge(end, 0.0, longs[1]).Edge(),
        ).Wire()
        rim = gp_Circ(gp_Ax2(on_line(start, longs[0]), start.Direction().Reversed()), self.core_radius)
        rim = BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(rim).Edge()).Wire()
        return BRepOffsetAPI_MakePipe(spine, BRepBuilderAPI_MakeFace(rim).Face()).Shape()

    def sizes(self):
        return {
            "radius": self.radius,
            "clr": self.clr,
            "bend_deg": self.bend_deg,
            "bend_rad": math.radians(self.bend_deg),
            "station": self.station,
            "facing_deg": self.facing_deg,
            "facing_rad": math.radians(self.facing_deg),
        }


def tangent_line(circle, parameter):
    """The line through a point of a circle that runs on as the circle does there."""
    point, tangent = gp_Pnt(), gp_Vec()
    ElCLib.D1_s(parameter, circle, point, tangent)
    return gp_Lin(point, gp_Dir(tangent))
