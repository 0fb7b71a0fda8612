"""What the Open CASCADE kernel says about a round branch on a round main: hits, square-to-wall tops, volumes.

The project computes these with a closed formula; nothing here does. The main is a kernel solid, and the
kernel is asked where rays, planes and tubes meet it, so that the two can disagree.

Frame, as in the project: origin at the joint centre, z along the branch axis into its body, x to the heel
side; the main's axis runs along (sin angle, 0, cos angle) through (0, offset, 0); a root gap moves the
main's surface out. Lengths in mm, turns in degrees from +x towards +y.
"""

import math
from itertools import pairwise

from OCP.Bnd import Bnd_Box
from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.BRepAlgoAPI import BRepAlgoAPI_Common, BRepAlgoAPI_Cut
from OCP.BRepBndLib import BRepBndLib
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace, BRepBuilderAPI_NurbsConvert
from OCP.BRepGProp import BRepGProp
from OCP.BRepIntCurveSurface import BRepIntCurveSurface_Inter
from OCP.BRepPrimAPI import BRepPrimAPI_MakeCylinder
from OCP.Geom import Geom_CylindricalSurface, Geom_Plane
from OCP.GeomAbs import GeomAbs_Cylinder
from OCP.GeomAPI import GeomAPI_IntCS, GeomAPI_IntSS
from OCP.gp import gp_Ax2, gp_Ax3, gp_Dir, gp_Lin, gp_Pln, gp_Pnt
from OCP.GProp import GProp_GProps
from OCP.TopAbs import TopAbs_SOLID
from OCP.TopExp import TopExp_Explorer

# A ray this near to grazing the main (distance between the two lines against the radius) has a hit that
# the last bit of its own position decides; no such ray is sampled.
TANGENT_MM = 1e-6
KERNEL_TOLERANCE = 1e-9
WALLS = ("outside", "between", "bore")

DOWN = gp_Dir(0.0, 0.0, -1.0)


class Joint:
    """One branch on one main, with the kernel objects that stand for the main."""

    def __init__(self, family, outside, bore, between, main, angle_deg, offset, gap):
        self.family = family
        # Rounded first and used afterwards: what the file says is exactly what the kernel saw.
        self.outside, self.bore, self.between = round(outside, 4), round(bore, 4), round(between, 4)
        self.main, self.offset, self.gap = round(main, 4), round(offset, 4), round(gap, 4)
        self.angle_deg = round(angle_deg, 4)
        self.angle = math.radians(self.angle_deg)
        assert 0.0 < self.bore < self.between < self.outside, family
        assert 5.0 <= self.angle_deg <= 90.0, family

        self.surface_radius = self.main + self.gap
        self.along = gp_Dir(math.sin(self.angle), 0.0, math.cos(self.angle))
        # No point of the joint is farther from the centre than this, measured along either axis.
        self.reach = (self.outside + self.surface_radius + abs(self.offset)) / math.sin(self.angle)
        self.half_length = 2.0 * self.reach + self.outside
        base = gp_Pnt(
            -self.half_length * self.along.X(),
            self.offset - self.half_length * self.along.Y(),
            -self.half_length * self.along.Z(),
        )
        self.solid = BRepPrimAPI_MakeCylinder(
            gp_Ax2(base, self.along), self.surface_radius, 2.0 * self.half_length
        ).Shape()
        self.spline_solid = BRepBuilderAPI_NurbsConvert(self.solid).Shape()
        middle = gp_Pnt(0.0, self.offset, 0.0)
        self.axis = gp_Lin(middle, self.along)
        self.surface = Geom_CylindricalSurface(gp_Ax3(middle, self.along), self.surface_radius)

    def radius(self, wall):
        return getattr(self, wall)

    def ray(self, radius, turn_deg, start_z):
        """Ray down one generator of the branch, from the far end towards the joint."""
        turn = math.radians(turn_deg)
        return gp_Lin(gp_Pnt(radius * math.cos(turn), radius * math.sin(turn), start_z), DOWN)

    def clearance(self, radius, turn_deg):
        """Distance of generator from main axis less the main's radius: below 0 it hits, 0 grazes (mm)."""
        return self.axis.Distance(self.ray(radius, turn_deg, 0.0)) - self.surface_radius

    def safe(self, turn_deg):
        return all(abs(self.clearance(self.radius(wall), turn_deg)) >= TANGENT_MM for wall in WALLS)


def first_hit(shape, line, joint):
    """Greatest z at which a line meets the side of a solid, or None; the caps must never be first."""
    meeting = BRepIntCurveSurface_Inter()
    meeting.Init(shape, line, KERNEL_TOLERANCE)
    best, face = None, None
    while meeting.More():
        if best is None or meeting.Pnt().Z() > best.Z():
            best, face = meeting.Pnt(), meeting.Face()
        meeting.Next()
    if best is not None and shape is joint.solid:
        assert BRepAdaptor_Surface(face).GetType() == GeomAbs_Cylinder, "the ray came in through a cap"
    return best


def hit_by_ray(joint, radius, turn_deg):
    """First hit by ray and solid. The ray is shot again from 1 mm before the hit: the kernel solves a
    quadratic in the distance from the ray's start, and a start 10 m away costs it digits near grazing."""
    rough = first_hit(joint.solid, joint.ray(radius, turn_deg, 1.1 * joint.reach), joint)
    if rough is None:
        return None
    fine = first_hit(joint.solid, joint.ray(radius, turn_deg, rough.Z() + 1.0), joint)
    assert fine is not None, "the second ray lost the hit"
    return fine


def radial_plane(turn_deg):
    turn = math.radians(turn_deg)
    return gp_Ax3(gp_Pnt(0.0, 0.0, 0.0), gp_Dir(-math.sin(turn), math.cos(turn), 0.0))


def section_curves(joint, turn_deg):
    """The main's surface cut by the plane through the branch axis at a turn: an ellipse, circle or two lines."""
    meeting = GeomAPI_IntSS(joint.surface, Geom_Plane(radial_plane(turn_deg)), KERNEL_TOLERANCE)
    assert meeting.IsDone()
    return [meeting.Line(i) for i in range(1, meeting.NbLines() + 1)]


def crossings(curve, radius, turn_deg):
    """Where a section curve stands at a distance from the branch axis: (curve parameter, z) pairs."""
    turn = math.radians(turn_deg)
    out = gp_Dir(math.cos(turn), math.sin(turn), 0.0)
    foot = gp_Pnt(radius * math.cos(turn), radius * math.sin(turn), 0.0)
    meeting = GeomAPI_IntCS(curve, Geom_Plane(gp_Ax3(foot, out)))
    assert meeting.IsDone()
    found = []
    for i in range(1, meeting.NbPoints() + 1):
        _, _, parameter = meeting.Parameters(i)
        found.append((parameter, meeting.Point(i).Z()))
    return found


def hit_by_section(joint, radius, turn_deg, curves):
    """First hit by another road: section the main with a plane, then that curve with the wall line."""
    heights = [z for curve in curves for _, z in crossings(curve, radius, turn_deg)]
    return max(heights, default=None)


def golden_maximum(height, low, high):
    """Greatest value of a function with one maximum between two parameters."""
    ratio = (math.sqrt(5.0) - 1.0) / 2.0
    left, right = high - ratio * (high - low), low + ratio * (high - low)
    at_left, at_right = height(left), height(right)
    best = max(at_left, at_right)
    for _ in range(80):
        if at_left > at_right:
            high, right, at_right = right, left, at_left
            left = high - ratio * (high - low)
            at_left = height(left)
        else:
            low, left, at_left = left, right, at_right
            right = low + ratio * (high - low)
            at_right = height(right)
        best = max(best, at_left, at_right)
    return best


def square_by_section(joint, turn_deg, curves):
    """Largest z of the main over the wall from bore to outside at a turn, or None.

    The section curve is cut where it crosses the bore and the outside; every arc that lies in the wall is
    searched densely and the best neighbourhood narrowed down. Also tells whether the largest z lies inside
    the wall, more than 1e-6 mm above both edges.
    """
    turn = math.radians(turn_deg)
    best, edges = None, []
    for curve in curves:

        def distance_out(parameter):
            point = curve.Value(parameter)
            return point.X() * math.cos(turn) + point.Y() * math.sin(turn)

        def height(parameter):
            return curve.Value(parameter).Z()

        marks = [c for radius in (joint.bore, joint.outside) for c in crossings(curve, radius, turn_deg)]
        edges += [z for _, z in marks]
        cuts = sorted(parameter for parameter, _ in marks)
        if curve.IsPeriodic() or curve.IsClosed():
            first, last = curve.FirstParameter(), curve.LastParameter()
            cuts = [first, *(c for c in cuts if first < c < last), last]
        for low, high in pairwise(cuts):
            if not joint.bore <= distance_out(0.5 * (low + high)) <= joint.outside:
                continue
            steps = 64
            grid = [low + (high - low) * i / steps for i in range(steps + 1)]
            values = [height(t) for t in grid]
            top = max(range(steps + 1), key=values.__getitem__)
            inner = golden_maximum(height, grid[max(top - 1, 0)], grid[min(top + 1, steps)])
            # The ends are in the grid, so a maximum at the bore or the outside is taken exactly.
            best = max(inner, values[top]) if best is None else max(best, inner, values[top])
    if best is None:
        return None, False
    return best, not edges or best - max(edges) > 1e-6


def square_by_boolean(joint, turn_deg):
    """The same by solids: the wall at one turn as a flat face, its common part with the main, and the
    top of that part's exact box."""
    across = gp_Dir(math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg)), 0.0)
    frame = radial_plane(turn_deg)
    plane = gp_Pln(gp_Ax3(frame.Location(), frame.Direction(), across))
    # The plane's second direction is either +z or -z; the face is symmetric, so it does not matter.
    top = 1.1 * joint.reach
    wall = BRepBuilderAPI_MakeFace(plane, joint.bore, joint.outside, -top, top).Face()
    common = BRepAlgoAPI_Common(wall, joint.solid)
    assert common.IsDone()
    box = Bnd_Box()
    BRepBndLib.AddOptimal_s(common.Shape(), box, False, False)
    return None if box.IsVoid() else box.CornerMax().Z()


def volume(shape):
    measured = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, measured, 1e-10, False, False)
    return measured.Mass()


def solids(shape):
    explorer, count = TopExp_Explorer(shape, TopAbs_SOLID), 0
    while explorer.More():
        count += 1
        explorer.Next()
    return count


def coped_volume(joint, length):
    """Volume of the branch between z = 0 and z = length less the main (mm3), and by how much that part and
    the part inside the main differ together from the whole tube (mm3).

    A main that covers the branch leaves nothing standing between z = 0 and the cut. A branch that hangs past
    meets the main along a curve that ends in the plane z = 0 with the main's side upright there, which costs
    the boolean five digits. At 90 degrees the main is its own mirror image in that plane, so there the tube
    reaches as far below as above and half of the result is returned; other angles are refused.
    """
    covered = abs(joint.offset) + joint.outside < joint.surface_radius
    assert covered or joint.angle_deg == 90.0, "pieces below the main would be counted in"
    low, share = (0.0, 1.0) if covered else (-length, 0.5)
    up = gp_Ax2(gp_Pnt(0.0, 0.0, low), gp_Dir(0.0, 0.0, 1.0))
    tube = BRepAlgoAPI_Cut(
        BRepPrimAPI_MakeCylinder(up, joint.outside, length - low).Shape(),
        BRepPrimAPI_MakeCylinder(up, joint.bore, length - low).Shape(),
    ).Shape()
    left = BRepAlgoAPI_Cut(tube, joint.solid).Shape()
    taken = BRepAlgoAPI_Common(tube, joint.solid).Shape()
    assert solids(left) == 1, "the cut must leave one piece, or the volume means something else"
    return share * volume(left), share * (volume(left) + volume(taken) - volume(tube))
