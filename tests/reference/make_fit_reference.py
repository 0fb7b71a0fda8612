"""Writes fit.json: the gap all round after a cut end was pushed home, as the Open CASCADE kernel sees it.

Nothing here shares the project's formulas. The main is a kernel solid, and so is the main the end was in truth
cut for (another diameter, angle, offset or turn). The end is what the kernel's rays leave of the wall; it is
pushed down until no ray of a dense fan over the wall finds it in the main; the gap is the kernel's distance
between a point of the outside edge and the main. Lengths in mm.
"""

import json
import math
import platform
import random
import sys
from importlib.metadata import version
from pathlib import Path

from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeVertex
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.BRepExtrema import BRepExtrema_DistShapeShape
from OCP.BRepIntCurveSurface import BRepIntCurveSurface_Inter
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox, BRepPrimAPI_MakeCylinder
from OCP.BRepFilletAPI import BRepFilletAPI_MakeFillet
from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
from OCP.gp import gp_Ax1, gp_Ax2, gp_Ax3, gp_Dir, gp_Lin, gp_Pnt, gp_Trsf, gp_Vec
from OCP.TopAbs import TopAbs_EDGE
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS

SEED = 20251125
TURNS = 24
ORIGIN, X, Y, Z = gp_Pnt(0, 0, 0), gp_Dir(1, 0, 0), gp_Dir(0, 1, 0), gp_Dir(0, 0, 1)
DOWN = gp_Dir(0, 0, -1)
LONG = 4000.0


def rounded_bar(width, height, corner):
    """A bar along z about the origin, width along y and height along x, its long edges rounded."""
    box = BRepPrimAPI_MakeBox(gp_Pnt(-height / 2, -width / 2, -LONG / 2), height, width, LONG).Shape()
    if corner <= 0.0:
        return box
    fillet = BRepFilletAPI_MakeFillet(box)
    explorer = TopExp_Explorer(box, TopAbs_EDGE)
    seen = []
    while explorer.More():
        edge = TopoDS.Edge(explorer.Current())
        if not any(edge.IsSame(other) for other in seen):
            seen.append(edge)
            line = BRepAdaptor_Curve(edge).Line()
            if abs(line.Direction().Z()) > 0.9:
                fillet.Add(corner, edge)
        explorer.Next()
    return fillet.Shape()


class Solid:
    """A main in its place: built along z, leant over by the angle, set aside, turned about the branch."""

    def __init__(self, kind, size, angle, offset, turn):
        if kind == "round":
            base = gp_Ax2(gp_Pnt(0, 0, -LONG / 2), Z)
            shape = BRepPrimAPI_MakeCylinder(base, size["diameter"] / 2, LONG).Shape()
        elif kind == "plate":
            # Its face is x = 0 before it is leant over, the plate behind.
            shape = BRepPrimAPI_MakeBox(gp_Pnt(0, -LONG / 2, -LONG / 2), 500.0, LONG, LONG).Shape()
        else:
            shape = rounded_bar(size["width"], size["height"], size["corner"])
        # z goes to (sin, 0, cos): about y by the angle. Then "up" is -x before, so a plate lies behind.
        for axis, by in ((Y, angle),):
            move = gp_Trsf()
            move.SetRotation(gp_Ax1(ORIGIN, axis), math.radians(by))
            shape = BRepBuilderAPI_Transform(shape, move, True).Shape()
        move = gp_Trsf()
        move.SetTranslation(gp_Vec(0, offset, 0))
        shape = BRepBuilderAPI_Transform(shape, move, True).Shape()
        if turn:
            move = gp_Trsf()
            move.SetRotation(gp_Ax1(ORIGIN, Z), math.radians(turn))
            shape = BRepBuilderAPI_Transform(shape, move, True).Shape()
        self.shape = shape
        self.meeting = BRepIntCurveSurface_Inter()
        self.known = {}

    def hit(self, radius, turn):
        key = (radius, turn)
        if key not in self.known:
            self.known[key] = self.look(radius, turn)
        return self.known[key]

    def look(self, radius, turn):
        x, y = radius * math.cos(turn), radius * math.sin(turn)
        found = None
        for start in (1000.0, None):
            if start is None:
                if found is None:
                    return None
                # From near by once more: a far start costs the kernel digits.
                start, found = found + 1.0, None
            self.meeting.Init(self.shape, gp_Lin(gp_Pnt(x, y, start), DOWN), 1e-9)
            while self.meeting.More():
                z = self.meeting.Pnt().Z()
                if z <= start and (found is None or z > found):
                    found = z
                self.meeting.Next()
        return found

    def distance(self, point):
        vertex = BRepBuilderAPI_MakeVertex(gp_Pnt(*point)).Vertex()
        return BRepExtrema_DistShapeShape(vertex, self.shape).Value()


def golden(of, low, high, steps):
    """The least value of a function with one hollow between two places."""
    ratio = (math.sqrt(5.0) - 1.0) / 2.0
    a, b = high - ratio * (high - low), low + ratio * (high - low)
    at_a, at_b = of(a), of(b)
    for _ in range(steps):
        if at_a <= at_b:
            high, b, at_b = b, a, at_a
            a = high - ratio * (high - low)
            at_a = of(a)
        else:
            low, a, at_a = a, b, at_b
            b = low + ratio * (high - low)
            at_b = of(b)
    return min(at_a, at_b)


class Case:
    def __init__(self, case):
        self.case = case
        self.outside, self.bore = case["outside"] / 2, case["outside"] / 2 - case["wall"]
        kind, size, slip = case["kind"], case["size"], case["slip"]
        self.true = Solid(kind, size, case["angle"], case["offset"], 0.0)
        cut_size = dict(size)
        if kind == "round":
            cut_size["diameter"] = size["diameter"] + slip["size"]
        self.cut = Solid(kind, cut_size, case["angle"] + slip["angle"], case["offset"] + slip["offset"], slip["turn"])

    def top(self, solid, turn):
        """The greatest height over the wall."""
        radii = [self.bore + (self.outside - self.bore) * i / 8 for i in range(9)]
        heights = [solid.hit(radius, turn) for radius in radii]
        if any(height is None for height in heights):
            return None
        best = max(range(9), key=heights.__getitem__)
        if 0 < best < 8:
            return -golden(lambda radius: -solid.hit(radius, turn), radii[best - 1], radii[best + 1], 40)
        # An edge that is highest of nine may still have a top next to it.
        edge = (radii[1], radii[0]) if best == 0 else (radii[7], radii[8])
        inner = -golden(lambda radius: -solid.hit(radius, turn), min(edge), max(edge), 40)
        return max(heights[best], inner)

    def end(self, turn):
        """Height of the outside edge as cut."""
        if self.case["method"] == "Square":
            return self.top(self.cut, turn)
        return self.cut.hit(self.bore if self.case["method"] == "Bore" else self.outside, turn)

    def clear(self, turn):
        """How far the end stands above the main, the least over the wall."""
        method = self.case["method"]
        if method == "Square":
            return self.top(self.cut, turn) - self.top(self.true, turn)
        if method == "Bore":
            return self.cut.hit(self.bore, turn) - self.true.hit(self.bore, turn)

        def off(radius):
            return self.cut.hit(radius, turn) - self.true.hit(radius, turn)

        radii = [self.bore + (self.outside - self.bore) * i / 6 for i in range(7)]
        values = [off(radius) for radius in radii]
        best = min(range(7), key=values.__getitem__)
        inner = golden(off, radii[max(best - 1, 0)], radii[min(best + 1, 6)], 30)
        return min(values[best], inner)

    def run(self):
        count = 72
        turns = [2 * math.pi * i / count for i in range(count)]
        for turn in turns:
            for radius in (self.outside, self.bore):
                if self.true.hit(radius, turn) is None or self.cut.hit(radius, turn) is None:
                    return False
        clear = [self.clear(turn) for turn in turns]
        step = 2 * math.pi / count
        order = sorted(range(count), key=clear.__getitem__)
        push = clear[order[0]]
        for i in order[:3]:
            push = min(push, golden(self.clear, turns[i] - step, turns[i], 36))
            push = min(push, golden(self.clear, turns[i], turns[i] + step, 36))
        edge = self.bore if self.case["method"] == "Bore" else self.outside
        gaps = []
        for turn_deg in self.case["turns_deg"]:
            turn = math.radians(turn_deg)
            place = (edge * math.cos(turn), edge * math.sin(turn), self.end(turn) - push)
            gaps.append(round(self.true.distance(place), 10))
        self.case |= {"advance": round(push, 10), "gaps": gaps}
        return True


def choose(rng, number):
    kind = ("round", "round", "round", "plate", "rectangular")[number % 5]
    outside = round(rng.choice((19.05, 25.4, 31.75, 33.7, 38.1, 42.4, 48.3)), 4)
    wall = round(rng.uniform(0.03, 0.16) * outside, 4)
    slip = {"angle": 0.0, "offset": 0.0, "turn": 0.0, "size": 0.0}
    which = number % 6
    if kind == "round" and which in (0, 1, 5):
        slip["size"] = round(rng.uniform(-1.5, 2.5), 4)
    if which in (1, 2) or kind == "plate":
        slip["angle"] = round(rng.choice((-1.0, -0.5, 0.5, 1.0)), 4)
    if kind != "plate" and which in (3, 5):
        slip["offset"] = round(rng.uniform(-0.8, 0.8), 4)
    if which in (4, 5):
        slip["turn"] = round(rng.uniform(-4.0, 4.0), 4)
    if kind == "round":
        size = {"diameter": round(outside / rng.uniform(0.4, 0.88), 4)}
        room = (size["diameter"] - outside) / 2 - 2.0
    elif kind == "plate":
        size, room = {}, 0.0
    else:
        width = round(outside * rng.uniform(1.2, 2.2), 4)
        size = {"width": width, "height": round(outside * rng.uniform(0.8, 2.0), 4)}
        size["corner"] = round(rng.uniform(0.05, 0.25) * min(width, size["height"]), 4)
        room = (width - outside) / 2 - 1.0
    offset = round(rng.uniform(-1.0, 1.0) * max(room, 0.0), 4) if rng.random() < 0.6 else 0.0
    if kind == "plate":
        offset = 0.0
    return {
        "kind": kind,
        "outside": outside,
        "wall": wall,
        "size": size,
        "angle": round(rng.choice((rng.uniform(35.0, 88.0), rng.uniform(35.0, 88.0), 60.0, 45.0)), 4),
        "offset": offset,
        "method": ("Saw", "Square", "Saw", "Bore")[number % 4],
        "slip": slip,
        "turns_deg": [round((i + rng.random()) * 360.0 / TURNS, 4) for i in range(TURNS)],
    }


def main():
    rng = random.Random(SEED)
    wanted = int(sys.argv[1]) if len(sys.argv) > 1 else 120
    cases, number = [], 0
    while len(cases) < wanted:
        case = Case(choose(rng, number))
        number += 1
        if case.run():
            cases.append(case.case)
            print(len(cases), case.case["kind"], case.case["method"], max(case.case["gaps"]), flush=True)
    about = {
        "what": "gaps all round after a cut end was pushed home",
        "made_by": "make_fit_reference.py",
        "kernel": f"Open CASCADE Technology, through cadquery-ocp {version('cadquery-ocp')}",
        "python": platform.python_version(),
        "seed": SEED,
        "units": "mm, degrees",
        "left_out_because_part_passes_beside": number - len(cases),
    }
    lines = ",\n".join(json.dumps(case) for case in cases)
    text = f'{{\n"about": {json.dumps(about, indent=1)},\n"cases": [\n{lines}\n]\n}}\n'
    Path(__file__).with_name("fit.json").write_text(text)


main()
