"""What the Open CASCADE kernel says about a branch on one or more mains: hits, tops of the wall, torus roots."""

import math

from OCP.Bnd import Bnd_Box
from OCP.BRepAlgoAPI import BRepAlgoAPI_Common, BRepAlgoAPI_Fuse
from OCP.BRepBndLib import BRepBndLib
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
from OCP.BRepIntCurveSurface import BRepIntCurveSurface_Inter
from OCP.Extrema import Extrema_ExtElC, Extrema_ExtPElC, Extrema_POnCurv
from OCP.gp import gp_Ax3, gp_Dir, gp_Lin, gp_Pln, gp_Pnt, gp_Torus, gp_Vec
from OCP.IntAna import IntAna_IntLinTorus

from mains_solids import Plate
from round_kernel import DOWN, KERNEL_TOLERANCE, TANGENT_MM, WALLS, radial_plane

# Wall radii tried before the best of them is narrowed down.
WALL_STEPS = 48
# Shortest step of the walk down a generator. A main thinner than this along it would be stepped over, but a
# generator goes 0.004 mm deep and more in a main of 3 mm that it enters by TANGENT_MM.
STRIDE = 1e-3


class Joint:
    """A branch and what it sits on. `mains` are made for this branch and gap."""

    def __init__(self, family, outside, bore, between, gap, mains):
        self.family, self.outside, self.bore, self.between, self.gap = family, outside, bore, between, gap
        assert 0.0 < bore < between < outside, family
        self.mains = mains

    def radius(self, wall):
        return getattr(self, wall)

    def safe(self, turn_deg):
        """Whether no generator of the three walls comes near enough to grazing for rounding to decide."""
        return all(
            abs(clearance) >= TANGENT_MM
            for wall in WALLS
            for main in self.mains
            for clearance in main.clearances(generator(self.radius(wall), turn_deg, 0.0))
        )

    def describe(self):
        said = {"family": self.family, "outside": self.outside, "between": self.between, "bore": self.bore}
        return said | {"gap": self.gap, "mains": [main.describe() for main in self.mains]}


def generator(radius, turn_deg, z):
    """The generator of the branch at a wall radius and turn, as a line down from a height. Where the line
    starts is only where the kernel counts from: it is endless both ways."""
    turn = math.radians(turn_deg)
    return gp_Lin(gp_Pnt(radius * math.cos(turn), radius * math.sin(turn), z), DOWN)


def highest(pieces, line):
    """Greatest z at which a line meets a piece, or None, with the face met."""
    best, face = None, None
    for piece in pieces:
        meeting = BRepIntCurveSurface_Inter()
        meeting.Init(piece, line, KERNEL_TOLERANCE)
        while meeting.More():
            if best is None or meeting.Pnt().Z() > best:
                best, face = meeting.Pnt().Z(), meeting.Face()
            meeting.Next()
    return best, face


def heights(shape, line):
    """Every z at which a line meets a shape."""
    meeting, found = BRepIntCurveSurface_Inter(), []
    meeting.Init(shape, line, KERNEL_TOLERANCE)
    while meeting.More():
        found.append(meeting.Pnt().Z())
        meeting.Next()
    return found


def hit_by_line(pieces, radius, turn_deg):
    """First hit by line and solid, met a second time from 1 mm before the hit: the kernel solves for the
    distance from the line's start, and a start far off costs it digits near grazing."""
    rough, _ = highest(pieces, generator(radius, turn_deg, 0.0))
    if rough is None:
        return None
    fine, _ = highest(pieces, generator(radius, turn_deg, rough + 1.0))
    return rough if fine is None else fine


def hit_by_walk(main, radius, turn_deg, hint):
    """First hit by distance alone: down the generator in steps no longer than the distance from the main, then
    halving where the distance changes sign. Convex mains are not walked: there one sign change around the
    hint is the only one from above."""
    line = generator(radius, turn_deg, 0.0).Location()

    def beyond(z):
        return main.beyond(gp_Pnt(line.X(), line.Y(), z))

    if main.kind == "bent":
        high = main.top
        step = beyond(high)
        bottom = -main.top - 1e3
        while high > bottom:
            low = high - max(step, STRIDE)
            step = beyond(low)
            if step <= 0.0:
                break
            high = low
        else:
            return None
    elif main.clearances(generator(radius, turn_deg, 0.0)) and hint is None:
        return None if max(main.clearances(generator(radius, turn_deg, 0.0))) > 0.0 else math.nan
    else:
        high, low = hint + 1e-3, hint - 1e-6
        if beyond(high) <= 0.0 or beyond(low) > 0.0:
            return math.nan
    for _ in range(60):
        middle = 0.5 * (low + high)
        if middle in (low, high):
            break
        if beyond(middle) > 0.0:
            high = middle
        else:
            low = middle
    return high


def golden_maximum(height, sure, far):
    """Greatest value, and its place, of a function with one maximum between two parameters. It may be -inf from
    somewhere on to the far end."""
    ratio = (math.sqrt(5.0) - 1.0) / 2.0
    one, other = far - ratio * (far - sure), sure + ratio * (far - sure)
    at_one, at_other = height(one), height(other)
    best = max((at_one, one), (at_other, other))
    for _ in range(60):
        if at_one > at_other or at_one == -math.inf:
            far, other, at_other = other, one, at_one
            one = far - ratio * (far - sure)
            at_one = height(one)
        else:
            sure, one, at_one = one, other, at_other
            other = sure + ratio * (far - sure)
            at_other = height(other)
        best = max(best, (at_one, one), (at_other, other))
    return best


def wall_top_by_lines(joint, main, turn_deg):
    """Greatest z of a main over the wall from bore to outside at a turn, or None: lines at many wall radii,
    and the neighbourhood of every local best narrowed down by more lines."""

    def height(radius):
        hit, _ = highest(main.pieces, generator(radius, turn_deg, 0.0))
        return -math.inf if hit is None else hit

    width = joint.outside - joint.bore
    grid = [joint.bore + width * i / WALL_STEPS for i in range(WALL_STEPS)] + [joint.outside]
    values = [height(radius) for radius in grid]
    best = max(zip(values, grid, strict=True))
    for i, value in enumerate(values):
        around = values[max(i - 1, 0) : i + 2]
        if value == max(around) and value > -math.inf:
            best = max(
                best, *(golden_maximum(height, grid[i], grid[j]) for j in (i - 1, i + 1) if 0 <= j <= WALL_STEPS)
            )
    if best[0] == -math.inf:
        return None
    top = hit_by_line(main.pieces, best[1], turn_deg)
    return best[0] if top is None else top


def wall_top_by_boolean(joint, main, turn_deg):
    """The same by solids: the wall at one turn as a flat face, its common part with the main, and the top of
    that part's exact box."""
    turn = math.radians(turn_deg)
    frame = radial_plane(turn_deg)
    plane = gp_Pln(gp_Ax3(frame.Location(), frame.Direction(), gp_Dir(math.cos(turn), math.sin(turn), 0.0)))
    # The plane's second direction is either +z or -z; the face is symmetric, so it does not matter.
    # A main shifted down reaches farther below than above.
    reach = abs(main.top) + 2.0 * abs(main.shift)
    wall = BRepBuilderAPI_MakeFace(plane, joint.bore, joint.outside, -reach, reach).Face()
    best = None
    for piece in main.pieces:
        common = BRepAlgoAPI_Common(wall, piece)
        if not common.IsDone():
            return math.nan
        box = Bnd_Box()
        BRepBndLib.AddOptimal_s(common.Shape(), box, False, False)
        if not box.IsVoid():
            best = box.CornerMax().Z() if best is None else max(best, box.CornerMax().Z())
    return best


def wall_top(joint, main, turn_deg):
    """The recorded value and its second opinion. Where a flat main ends in a sharp edge the kernel widens the
    edge by its tolerance for a line, but the corner of a boolean is exact; so flat solids are recorded by
    boolean and curved ones, where the boolean's edge is an approximation, by lines."""
    lines, solid = wall_top_by_lines(joint, main, turn_deg), wall_top_by_boolean(joint, main, turn_deg)
    flat = isinstance(main, Plate) or main.core_radius == 0.0
    return (solid, lines) if flat else (lines, solid)


def fused(mains):
    """One solid of all mains, or None where the kernel fails."""
    pieces = [piece for main in mains for piece in main.pieces]
    whole = pieces[0]
    for piece in pieces[1:]:
        joining = BRepAlgoAPI_Fuse(whole, piece)
        if not joining.IsDone():
            return None
        whole = joining.Shape()
    return whole


def torus_roots(line, circle, radius):
    """All parameters at which a line meets the whole torus around a circle, or None where they are in doubt;
    with the largest difference from the kernel's own line-torus intersection, None where the counts differ.

    The distance of the line's point from the circle rises and falls between its extrema, which the kernel
    gives; where it passes the tube's radius between two of them is found by halving."""
    near = Extrema_ExtElC(line, circle, 1e-12)
    if not near.IsDone() or near.IsParallel():
        return None, None
    turns = []
    for i in range(1, near.NbExt() + 1):
        ours, theirs = Extrema_POnCurv(), Extrema_POnCurv()
        near.Points(i, ours, theirs)
        turns.append(ours.Parameter())

    def beyond(parameter):
        point = line.Location().Translated(direction.Multiplied(parameter))
        found = Extrema_ExtPElC(point, circle, 1e-14, 0.0, 2.0 * math.pi)
        return math.sqrt(min(found.SquareDistance(i) for i in range(1, found.NbExt() + 1))) - radius

    direction = gp_Vec(line.Direction())
    far = 10.0 * (circle.Radius() + radius + line.Location().Distance(circle.Location()))
    turns = [-far, *sorted(turns), far]
    values = [beyond(turn) for turn in turns]
    if min(abs(value) for value in values) < TANGENT_MM:
        return None, None
    roots = []
    for low, high, at_low, at_high in zip(turns, turns[1:], values, values[1:], strict=False):
        if (at_low > 0.0) == (at_high > 0.0):
            continue
        for _ in range(80):
            middle = 0.5 * (low + high)
            if middle in (low, high):
                break
            if (beyond(middle) > 0.0) == (at_low > 0.0):
                low = middle
            else:
                high = middle
        roots.append(0.5 * (low + high))
    return roots, line_torus(line, circle, radius, roots)


def line_torus(line, circle, radius, roots):
    met = IntAna_IntLinTorus(line, gp_Torus(gp_Ax3(circle.Position()), circle.Radius(), radius))
    if not met.IsDone() or met.NbPoints() != len(roots):
        return None
    theirs = sorted(met.ParamOnLine(i) for i in range(1, met.NbPoints() + 1))
    return max((abs(a - b) for a, b in zip(theirs, roots, strict=True)), default=0.0)
