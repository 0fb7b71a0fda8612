"""Write saw.json: how deep a hole saw must reach, and where straight cuts first touch the finished end, from the
Open CASCADE kernel.

The saw is a cylinder of the kernel, the blank a solid of the kernel; their common part is made, and its extent
along the saw's axis is asked for twice, by the box of the part turned upright and by the distance from a plane
far off. No formula of the project is used.
"""

import json
import math
import platform
import random
from importlib.metadata import version
from pathlib import Path

from OCP.Bnd import Bnd_Box
from OCP.BRepAlgoAPI import BRepAlgoAPI_Common, BRepAlgoAPI_Cut
from OCP.BRepBndLib import BRepBndLib
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace, BRepBuilderAPI_Transform
from OCP.BRepExtrema import BRepExtrema_DistShapeShape
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox, BRepPrimAPI_MakeCylinder
from OCP.gp import gp_Ax2, gp_Ax3, gp_Cylinder, gp_Dir, gp_Pln, gp_Pnt, gp_Trsf, gp_Vec

SEED = 20251107
# The two roads must agree to this, mm, or the case is dropped and counted.
AGREE = 1e-5

ORIGIN = gp_Pnt(0.0, 0.0, 0.0)
Z = gp_Dir(0.0, 0.0, 1.0)


def extent(shape, direction, far):
    """Least and greatest distance of a shape from the origin along a direction, by its upright box; None for
    nothing."""
    turn = gp_Trsf()
    turn.SetTransformation(gp_Ax3(ORIGIN, direction))
    upright = BRepBuilderAPI_Transform(shape, turn, True).Shape()
    box = Bnd_Box()
    BRepBndLib.AddOptimal_s(upright, box, False, False)
    if box.IsVoid():
        return None
    return box.CornerMin().Z(), box.CornerMax().Z()


def extent_by_distance(shape, direction, far):
    """The same by the kernel's distances from two plane faces far off."""
    ends = []
    for side in (-1.0, 1.0):
        at = gp_Pnt(*(side * far * c for c in (direction.X(), direction.Y(), direction.Z())))
        face = BRepBuilderAPI_MakeFace(gp_Pln(at, direction), -far, far, -far, far).Face()
        meeting = BRepExtrema_DistShapeShape(face, shape)
        if not meeting.IsDone() or meeting.NbSolution() == 0:
            return None
        ends.append(side * (far - meeting.Value()))
    return ends[0], ends[1]


class Case:
    def __init__(self, family, outside, wall, main, angle_deg, offset, gap):
        self.family = family
        self.outside, self.bore = round(outside, 4), round(outside - wall, 4)
        self.main, self.angle_deg = round(main, 4), round(angle_deg, 4)
        self.offset, self.gap = round(offset, 4), round(gap, 4)
        angle = math.radians(self.angle_deg)
        self.sin, self.cos = math.sin(angle), math.cos(angle)
        self.along = gp_Dir(self.sin, 0.0, self.cos)
        self.reach = (self.outside + self.main + self.gap + abs(self.offset)) / self.sin
        self.far = 8.0 * self.reach + 400.0

    def axis(self):
        base = gp_Pnt(-self.far * self.sin, self.offset, -self.far * self.cos)
        return gp_Ax2(base, self.along)

    def tube(self, low):
        up = gp_Ax2(gp_Pnt(0.0, 0.0, low), Z)
        height = 4.0 * self.reach + 100.0 - low
        return BRepAlgoAPI_Cut(
            BRepPrimAPI_MakeCylinder(up, self.outside, height).Shape(),
            BRepPrimAPI_MakeCylinder(up, self.bore, height).Shape(),
        ).Shape()

    def finished(self):
        """The branch as it is to be: off the main, and off everything beyond the plane through its axis that is
        square to the plane of the two axes. That plane is where a tube that passes beside is trimmed."""
        body = BRepPrimAPI_MakeCylinder(self.axis(), self.main + self.gap, 2.0 * self.far).Shape()
        left = BRepAlgoAPI_Cut(self.tube(-2.0 * self.reach), body).Shape()
        return BRepAlgoAPI_Cut(left, self.below((0.0, 0.0, 0.0), (-self.cos, 0.0, self.sin))).Shape()

    def below(self, point, normal):
        """Everything on the far side of a plane, as a box."""
        big = 3.0 * self.far
        direction = gp_Dir(*(-n for n in normal))
        frame = gp_Ax3(gp_Pnt(*point), direction)
        corner = gp_Pnt(*point)
        corner.Translate(gp_Vec(frame.XDirection()) * (-big / 2) + gp_Vec(frame.YDirection()) * (-big / 2))
        return BRepPrimAPI_MakeBox(gp_Ax2(corner, direction, frame.XDirection()), big, big, big).Shape()

    def blank(self, end, cut):
        tube = self.tube(end)
        if cut is None:
            return tube
        slope, towards = math.tan(math.radians(cut["off_square_deg"])), math.radians(cut["towards_deg"])
        normal = (-slope * math.cos(towards), -slope * math.sin(towards), 1.0)
        return BRepAlgoAPI_Cut(tube, self.below((0.0, 0.0, cut["centre"]), normal)).Shape()

    def depths(self, saw, end, cut):
        """Nearest, first and clear along the axis by both roads, or None where the saw passes beside."""
        blank = self.blank(end, cut)
        cylinder = gp_Cylinder(gp_Ax3(gp_Pnt(0.0, self.offset, 0.0), self.along), saw)
        face = BRepBuilderAPI_MakeFace(cylinder, 0.0, 2.0 * math.pi, -self.far, self.far).Face()
        skin = BRepAlgoAPI_Common(face, blank).Shape()
        cup = BRepPrimAPI_MakeCylinder(self.axis(), saw, 2.0 * self.far).Shape()
        inside = BRepAlgoAPI_Common(cup, blank).Shape()
        roads = []
        for road in (extent, extent_by_distance):
            on, within = road(skin, self.along, self.far), road(inside, self.along, self.far)
            if on is None or within is None:
                return None
            roads.append((within[0], on[0], on[1]))
        return roads


def cases(rng):
    sign = lambda: rng.choice((-1.0, 1.0))
    gap = lambda: rng.choice((0.0, 0.0, rng.uniform(0.2, 2.0)))
    diameters = (19.05, 25.4, 31.75, 33.4, 38.1, 42.4, 44.45, 48.3, 50.8, 60.3)
    walls = (0.889, 1.245, 1.651, 2.108, 2.41, 3.05, 3.91, 4.775)
    for _ in range(60):
        small, large = sorted((rng.choice(diameters), rng.choice(diameters)))
        offset = rng.choice((0.0, 1.0, -1.0)) * rng.uniform(0.0, 0.5 * (large - small))
        yield Case("realistic", small / 2, rng.choice(walls), large / 2, rng.uniform(20, 90), offset, gap())
    for _ in range(20):
        radius = rng.choice(diameters) / 2
        yield Case("equal diameters", radius, rng.choice(walls), radius, rng.uniform(20, 90), 0.0, gap())
    for _ in range(20):
        radius = rng.uniform(12, 40)
        main = radius * rng.uniform(0.4, 0.95)
        yield Case("branch wider", radius, radius * 0.15, main, rng.uniform(25, 90), sign() * rng.uniform(0, 5), 0.0)
    for _ in range(20):
        radius, main = rng.uniform(10, 40), rng.uniform(12, 45)
        past = rng.uniform(0.2, 0.9) * 2.0 * min(radius, main)
        yield Case("hanging past", radius, radius * 0.12, main, rng.uniform(25, 90), sign() * (main + radius - past), 0.0)
    for _ in range(20):
        radius = rng.uniform(8, 40)
        main = radius * rng.uniform(1.0, 2.5)
        yield Case("90 degrees", radius, radius * 0.12, main, 90.0, sign() * rng.uniform(0, 0.5) * main, gap())


def main():
    rng = random.Random(SEED)
    lines, dropped, worst, worst_plane = [], 0, 0.0, 0.0
    for case in cases(rng):
        finished = case.finished()
        lowest = extent(finished, Z, case.far)[0]
        surface = case.main + case.gap
        saw = round(rng.choice((surface, surface, surface + rng.uniform(-1.0, 1.0), surface * rng.uniform(0.6, 0.95))), 4)
        end = round(lowest - rng.choice((0.0, 0.0, rng.uniform(5.0, 40.0))) - 1e-3, 4)
        cut = {
            "off_square_deg": float(rng.randrange(0, 61)),
            "towards_deg": rng.choice((0.0, 0.0, 180.0, round(rng.uniform(0.0, 360.0), 3))),
        }
        slope, towards = math.tan(math.radians(cut["off_square_deg"])), math.radians(cut["towards_deg"])
        normal = gp_Dir(-slope * math.cos(towards), -slope * math.sin(towards), 1.0)
        stretch = math.hypot(1.0, slope)
        planes = [road(finished, normal, case.far)[0] * stretch for road in (extent, extent_by_distance)]
        # The highest place at which a cut of this tilt touches nothing finished, and a cut below it.
        cut["room"] = planes[0]
        cut["centre"] = round(planes[0] - rng.choice((0.5, 3.0, rng.uniform(0.0, 30.0))), 4)
        # The saw a little off the main, so that grazing does not leave it to rounding what is met.
        square, after = case.depths(saw, end, None), case.depths(saw, end, cut)
        if square is None or after is None:
            dropped += 1
            continue
        apart = max(abs(a - b) for roads in (square, after) for a, b in zip(*roads))
        apart_plane = abs(planes[0] - planes[1])
        if max(apart, apart_plane) > AGREE:
            dropped += 1
            print("dropped", case.family, apart, apart_plane, flush=True)
            continue
        worst, worst_plane = max(worst, apart), max(worst_plane, apart_plane)
        names = ("nearest", "first", "clear")
        digits = lambda values: {name: float(f"{value:.12g}") for name, value in zip(names, values)}
        cut["room"] = float(f"{cut['room']:.12g}")
        said = {"family": case.family, "outside": case.outside, "bore": case.bore, "main": case.main}
        said |= {"angle_deg": case.angle_deg, "offset": case.offset, "gap": case.gap, "saw": saw, "end": end}
        said |= {"cut": cut, "square": digits(square[0]), "after": digits(after[0])}
        lines.append(json.dumps(said))
        print(len(lines), case.family, apart, flush=True)
    about = {
        "kernel": f"cadquery-ocp {version('cadquery-ocp')}",
        "python": platform.python_version(),
        "seed": SEED,
        "dropped": dropped,
        "largest_disagreement_depth": float(f"{worst:.3g}"),
        "largest_disagreement_room": float(f"{worst_plane:.3g}"),
    }
    text = '{"about": ' + json.dumps(about) + ',\n"cases": [\n' + ",\n".join(lines) + "\n]}\n"
    Path(__file__).with_name("saw.json").write_text(text)


if __name__ == "__main__":
    main()
