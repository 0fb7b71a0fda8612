"""Writes fit_mains.json: the gap all round after an end was pushed home on a mitre's plane, on a bend or on two
mains at once, as the Open CASCADE kernel sees it.

As in make_fit_reference.py nothing here shares the project's formulas: the end is what the kernel's rays leave of
the wall over the solids it was in truth cut for, it is pushed down until no ray of a dense fan over the wall finds
it in the true solids, and the gap is the kernel's distance between a point of the edge and the true mains.
Lengths in mm.
"""

import json
import math
import platform
import random
import sys
from importlib.metadata import version
from pathlib import Path

from OCP.gp import gp_Pnt

from mains_kernel import generator, highest, hit_by_line
from mains_solids import Bent, Mitre, Plate, Round

SEED = 20251126
TURNS = 24
# Turns of the fan, once round, and wall radii.
AROUND, ACROSS = 144, 9
# A wall that steps down by more than this part of its radius from one turn of the fan to the next hangs over an
# edge: there the kernel's rays graze, and the fan might not find the edge itself.
STEP = 0.35


def made(main, outside, slip, which):
    """A main as the end was cut for it: `which` has the slip, all are turned by it."""
    angle, offset, size = (slip["angle"], slip["offset"], slip["size"]) if which else (0.0, 0.0, 0.0)
    pose = {"about_deg": main["about"] + slip["turn"]}
    if main["kind"] == "mitre":
        return Mitre(main["diameter"] / 2, main["included"] + 2.0 * angle, outside, 0.0, **pose)
    pose |= {"angle_deg": main["angle"] + angle}
    if main["kind"] == "plate":
        return Plate(outside, 0.0, **pose)
    pose |= {"offset": main["offset"] + offset}
    radius = (main["diameter"] + size) / 2
    if main["kind"] == "round":
        return Round(radius, outside, 0.0, **pose)
    return Bent(radius, main["clr"], main["bend"], main["station"], main["facing"], outside, 0.0, **pose)


class Ground:
    """Mains, and where a generator comes down on the first of them."""

    def __init__(self, mains):
        self.mains = mains
        self.known = {}

    def hit(self, radius, turn):
        key = (radius, turn)
        if key not in self.known:
            hits = [hit_by_line(main.pieces, radius, math.degrees(turn)) for main in self.mains]
            self.known[key] = max((hit for hit in hits if hit is not None), default=None)
        return self.known[key]

    def gap(self, point):
        return max(min(main.beyond(gp_Pnt(*point)) for main in self.mains), 0.0)


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


def least(of, places, hollows, steps):
    """The least value over places in a row, narrowed down around the lowest few."""
    values = [of(place) for place in places]
    best = min(values)
    for i in sorted(range(len(places)), key=values.__getitem__)[:hollows]:
        for j in (i - 1, i + 1):
            if 0 <= j < len(places):
                best = min(best, golden(of, min(places[i], places[j]), max(places[i], places[j]), steps))
    return best


class Case:
    def __init__(self, case):
        self.case = case
        outside = case["outside"] / 2
        bore = outside - case["wall"]
        self.radii = [bore + (outside - bore) * i / (ACROSS - 1) for i in range(ACROSS - 1)] + [outside]
        self.edge = bore if case["method"] == "Bore" else outside
        none = {"angle": 0.0, "offset": 0.0, "turn": 0.0, "size": 0.0}
        mains, which = case["mains"], case["slip"]["main"]
        self.true = Ground([made(main, outside, none, False) for main in mains])
        self.cut = Ground([made(main, outside, case["slip"], i == which) for i, main in enumerate(mains)])

    def top(self, ground, turn):
        return -least(lambda radius: -ground.hit(radius, turn), self.radii, 2, 36)

    def clear(self, turn):
        """How far the end stands above the mains, the least over the wall."""
        if self.case["method"] == "Square":
            return self.top(self.cut, turn) - self.top(self.true, turn)

        def off(radius):
            return self.cut.hit(radius, turn) - self.true.hit(radius, turn)

        return off(self.edge) if self.case["method"] == "Bore" else least(off, self.radii, 2, 30)

    def suits(self):
        """Whether the whole wall comes down on something, and over no edge."""
        for ground in (self.true, self.cut):
            for radius in (self.radii[0], self.radii[-1]):
                heights = [ground.hit(radius, 2.0 * math.pi * i / AROUND) for i in range(AROUND)]
                if any(height is None for height in heights):
                    return False
                if any(abs(a - b) > STEP * radius for a, b in zip(heights, heights[1:] + heights[:1])):
                    return False
        if len(self.case["mains"]) > 1:
            # Each of them is sat on.
            for main in self.true.mains:
                alone = 0
                for i in range(0, AROUND, 4):
                    turn = 2.0 * math.pi * i / AROUND
                    own, _ = highest(main.pieces, generator(self.edge, math.degrees(turn), 0.0))
                    alone += own is not None and abs(own - self.true.hit(self.edge, turn)) < 1e-6
                if alone < 6:
                    return False
        return True

    def run(self):
        if not self.suits():
            return False
        step = 2.0 * math.pi / AROUND
        push = least(self.clear, [step * i for i in range(-1, AROUND + 1)], 5, 36)
        gaps = []
        for turn_deg in self.case["turns_deg"]:
            turn = math.radians(turn_deg)
            square = self.case["method"] == "Square"
            height = self.top(self.cut, turn) if square else self.cut.hit(self.edge, turn)
            place = (self.edge * math.cos(turn), self.edge * math.sin(turn), height - push)
            gaps.append(round(self.true.gap(place), 10))
        self.case |= {"advance": round(push, 10), "gaps": gaps}
        return True


def even(diameter):
    """A diameter whose radius has four digits: mains_solids rounds it to so many."""
    return round(2.0 * round(diameter / 2.0, 4), 4)


def choose(rng, number):
    kind = ("mitre", "bent", "several", "bent", "several")[number % 5]
    outside = round(rng.choice((19.05, 25.4, 31.75, 33.7, 38.1, 42.4, 48.3)), 4)
    wall = round(rng.uniform(0.03, 0.16) * outside, 4)

    def straight(about):
        diameter = even(outside / rng.uniform(0.45, 0.9))
        angle = round(rng.choice((rng.uniform(40.0, 87.0), 60.0, 45.0)), 4)
        offset = round(rng.uniform(-0.15, 0.15) * (diameter - outside), 4)
        return {"kind": "round", "diameter": diameter, "angle": angle, "offset": offset, "about": about}

    if kind == "mitre":
        included = round(rng.choice((rng.uniform(50.0, 170.0), 90.0, 120.0)), 3)
        mains = [{"kind": "mitre", "diameter": outside, "included": included, "about": 0.0}]
    elif kind == "bent":
        main = straight(0.0) | {"kind": "bent", "bend": round(rng.uniform(30.0, 120.0), 4)}
        main["clr"] = round(rng.uniform(1.5, 5.0) * main["diameter"], 4)
        main["station"] = round(rng.uniform(-0.6, 0.6) * main["clr"], 4)
        main["facing"] = round(rng.uniform(-180.0, 180.0), 4)
        mains = [main]
    else:
        about = round(rng.choice((rng.uniform(70.0, 290.0), 180.0, 90.0)), 4)
        other = straight(about)
        if rng.random() < 0.3:
            other = {"kind": "plate", "angle": other["angle"], "about": about}
        mains = [straight(0.0), other]

    slip = {"main": rng.randrange(len(mains)), "angle": 0.0, "offset": 0.0, "turn": 0.0, "size": 0.0}
    slipped = mains[slip["main"]]
    plane = slipped["kind"] in ("mitre", "plate")
    what = rng.sample(("angle", "turn") if plane else ("angle", "turn", "offset", "size"), 2)
    if "angle" in what:
        slip["angle"] = round(rng.choice((-1.0, -0.5, 0.5, 1.0)), 4)
    if "turn" in what:
        slip["turn"] = round(rng.uniform(-4.0, 4.0), 4)
    if "offset" in what:
        slip["offset"] = round(rng.uniform(-0.8, 0.8), 4)
    if "size" in what:
        slip["size"] = even(rng.uniform(-1.5, 2.5))
    return {
        "outside": outside,
        "wall": wall,
        "mains": mains,
        "method": rng.choice(("Saw", "Saw", "Square", "Bore")),
        "slip": slip,
        "turns_deg": [round((i + rng.random()) * 360.0 / TURNS, 4) for i in range(TURNS)],
    }


def main():
    rng = random.Random(SEED)
    wanted = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    cases, number = [], 0
    while len(cases) < wanted:
        case = Case(choose(rng, number))
        number += 1
        if case.run():
            cases.append(case.case)
            kinds = "+".join(main["kind"] for main in case.case["mains"])
            print(len(cases), number, kinds, case.case["method"], max(case.case["gaps"]), flush=True)
    about = {
        "what": "gaps all round after an end was pushed home on a mitre, a bend or two mains",
        "made_by": "make_fit_mains_reference.py",
        "kernel": f"Open CASCADE Technology, through cadquery-ocp {version('cadquery-ocp')}",
        "python": platform.python_version(),
        "seed": SEED,
        "units": "mm, degrees",
        "left_out": number - len(cases),
        "left_out_because": "part passes beside, hangs over an edge, or sits on one of two mains alone",
    }
    lines = ",\n".join(json.dumps(case) for case in cases)
    text = f'{{\n"about": {json.dumps(about, indent=1)},\n"cases": [\n{lines}\n]\n}}\n'
    Path(__file__).with_name("fit_mains.json").write_text(text)


main()
