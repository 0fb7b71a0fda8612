"""Which joints and which turns go into the mains' reference files: ordinary ones, and those hard to get right."""

import math
import random
from itertools import pairwise

from OCP.BRepAdaptor import BRepAdaptor_Surface

from mains_kernel import Joint, generator, highest
from mains_solids import Bent, Mitre, Plate, Rectangular, Round
from round_kernel import WALLS

DIAMETERS = (12.7, 19.05, 22.2, 25.4, 31.75, 33.4, 38.1, 42.2, 44.45, 48.3, 50.8, 60.3, 76.1, 88.9)
# Legs of a bend that stand nearer to the branch's own direction than this are not sampled.
LEG_SLOPE = math.sin(math.radians(8.0))


class Choice:
    """Random joints of one kind."""

    def __init__(self, seed):
        self.rng = random.Random(seed)

    def sign(self):
        return self.rng.choice((-1.0, 1.0))

    def gap(self):
        return round(self.rng.choice((0.0, 0.0, self.rng.uniform(0.2, 3.0))), 4)

    def branch(self, radius, thinnest=0.05, thickest=0.5):
        """Outside, bore and a wall radius between, each rounded as the file gives it."""
        outside = round(radius, 4)
        bore = round(outside * (1.0 - self.rng.uniform(thinnest, thickest)), 4)
        return outside, bore, round(bore + (outside - bore) * self.rng.uniform(0.15, 0.85), 4)

    def plates(self):
        angles = [5.0, 90.0, 45.0, 30.0] + [self.rng.uniform(5.0, 90.0) for _ in range(96)]
        for i, angle in enumerate(angles):
            tube, gap = self.branch((1.5, 300.0)[i % 2] if i < 8 else 10 ** self.rng.uniform(0.5, 2.0)), self.gap()
            yield Joint("plate", *tube, gap, [Plate(tube[0], gap, angle_deg=angle)])

    def mitres(self):
        included = [10.0, 180.0, 90.0, 60.0, 120.0] + [self.rng.uniform(10.0, 180.0) for _ in range(99)]
        for i, angle in enumerate(included):
            tube, gap = self.branch(self.rng.choice(DIAMETERS) / 2.0), self.gap()
            other = tube[0] * (1.0 if i % 2 else self.rng.uniform(0.6, 1.6))
            yield Joint("mitre", *tube, gap, [Mitre(other, angle, tube[0], gap)])

    def roll(self, i):
        return (0.0, 90.0, 45.0, self.rng.uniform(-180.0, 180.0), 0.0, self.rng.uniform(0.0, 90.0))[i % 6]

    def rectangulars(self):
        sections = ((20, 20), (30, 20), (40, 40), (50, 30), (60, 40), (60, 60), (80, 40), (100, 50), (100, 100))
        rng = self.rng
        families = (
            ["realistic"] * 30
            + ["sharp corners"] * 18
            + ["branch wider"] * 14
            + ["hanging past"] * 20
            + ["near tangency"] * 20
            + ["90 degrees"] * 12
            + ["shallow"] * 8
            + ["any"] * 18
        )
        for i, family in enumerate(families):
            width, height = rng.choice(sections)
            if family == "any":
                width, height = (10.0 ** rng.uniform(0.7, 2.5) for _ in range(2))
            wall = rng.choice((2.0, 3.0, 4.0, 5.0, 6.3, 8.0))
            corner = wall * (2.0 if wall <= 6.0 else 2.5)
            if family == "any":
                corner = rng.uniform(0.0, 0.5) * min(width, height)
            if family == "sharp corners":
                corner = 0.0
            corner = min(corner, round(0.49 * min(width, height), 4))
            roll, gap = self.roll(i), self.gap()
            turned = math.radians(roll)
            # Half of what the branch sees of the section from above.
            half = (width / 2 - corner) * abs(math.cos(turned)) + (height / 2 - corner) * abs(math.sin(turned))
            half += corner
            radius = half * (rng.uniform(1.05, 2.5) if family == "branch wider" else rng.uniform(0.15, 0.95))
            tube = self.branch(max(radius, 1.6))
            angle = (
                90.0 if family == "90 degrees" else rng.uniform(5, 10) if family == "shallow" else rng.uniform(15, 90)
            )
            slack = abs(half - tube[0])
            offset = rng.choice((0.0, self.sign())) * rng.uniform(0.0, slack)
            if family == "hanging past":
                offset = self.sign() * (half + tube[0] - rng.uniform(0.1, 0.9) * 2.0 * min(half, tube[1]))
            if family == "near tangency":
                # In turn: the outside, the bore or a wall radius between ends at the side of the section.
                reach = half + gap - tube[i % 3]
                offset = self.sign() * (reach + self.sign() * 10.0 ** rng.uniform(-4.0, -1.0))
            if abs(offset) > half + tube[1] - 0.05:
                offset = 0.0
            main = Rectangular(width, height, corner, roll, tube[0], gap, angle_deg=angle, offset=offset)
            yield Joint(family, *tube, gap, [main])

    def bend(self, radius, outside, family):
        """Bend radius, bend angle, station, facing."""
        rng = self.rng
        clr = radius * rng.uniform(1.6, 6.0)
        bend = rng.uniform(20.0, 120.0)
        facing = rng.choice((0.0, 180.0, 90.0, 270.0, rng.uniform(0.0, 360.0)))
        if family == "tight":
            clr = radius * rng.uniform(1.03, 1.5)
        if family == "wide":
            clr, bend = radius * rng.uniform(15.0, 50.0), rng.uniform(5.0, 40.0)
        if family == "half turn":
            bend = 180.0
        if family == "slight bend":
            bend = rng.choice((5.0, rng.uniform(5.0, 12.0)))
        facing = {"inside": 0.0, "outside": 180.0}.get(family, facing)
        if family == "side":
            facing = rng.choice((90.0, 270.0))
        half_arc = 0.5 * clr * math.radians(bend)
        station = rng.choice((0.0, rng.uniform(-0.8, 0.8) * half_arc))
        if family == "on the tangent":
            station = self.sign() * (half_arc + outside * rng.uniform(0.5, 6.0))
        if family == "across the tangent point":
            station = self.sign() * (half_arc + outside * rng.uniform(-0.9, 0.9))
        return clr, bend, station, facing

    def bents(self):
        rng = self.rng
        families = (
            ["inside"] * 14
            + ["outside"] * 14
            + ["side"] * 14
            + ["any facing"] * 10
            + ["across the tangent point"] * 16
            + ["on the tangent"] * 12
            + ["tight"] * 10
            + ["wide"] * 10
            + ["half turn"] * 6
            + ["slight bend"] * 6
            + ["equal diameters"] * 10
            + ["hanging past"] * 12
            + ["near tangency"] * 14
            + ["far leg"] * 6
        )
        for i, family in enumerate(families):
            while True:
                radius = rng.choice(DIAMETERS) / 2.0
                tube = self.branch(radius * (1.0 if family == "equal diameters" else rng.uniform(0.25, 0.98)))
                gap = self.gap()
                angle = 90.0 if rng.random() < 0.2 else rng.uniform(20.0, 90.0)
                slack = radius - tube[0]
                offset = rng.choice((0.0, 0.0, self.sign())) * rng.uniform(0.0, max(slack, 0.1 * radius))
                if family == "hanging past":
                    offset = self.sign() * (radius + tube[0] - rng.uniform(0.15, 0.9) * 2.0 * tube[1])
                if family == "near tangency":
                    reach = radius + gap - tube[i % 3]
                    offset = self.sign() * (reach + self.sign() * 10.0 ** rng.uniform(-4.0, -1.0))
                clr, bend, station, facing = self.bend(radius, tube[0], family)
                if clr < radius + gap + 0.1:
                    continue
                pose = {"angle_deg": angle, "offset": offset}
                main = Bent(radius, clr, bend, station, facing, tube[0], gap, **pose)
                if min(main.leg_slopes) < LEG_SLOPE:
                    continue
                joint = Joint(family, *tube, gap, [main])
                high = far_up(joint, main)
                if high is not None and high == (family == "far leg"):
                    break
            yield joint

    def one_of_several(self, kind, outside, gap, pose):
        rng = self.rng
        radius = outside * rng.uniform(0.6, 2.2)
        if kind == "round":
            return Round(radius, outside, gap, **pose)
        if kind == "rectangular":
            width, height = 2.0 * radius, outside * rng.uniform(1.0, 4.0)
            corner = rng.choice((0.0, rng.uniform(0.05, 0.45))) * min(width, height)
            return Rectangular(width, height, corner, self.roll(rng.randrange(6)), outside, gap, **pose)
        if kind == "plate":
            return Plate(outside, gap, **(pose | {"offset": 0.0}))
        if kind == "mitre":
            left = {name: pose[name] for name in pose if name in ("about_deg", "shift")}
            return Mitre(outside, rng.uniform(40.0, 180.0), outside, gap, **left)
        while True:
            clr, bend, station, facing = self.bend(radius, outside, rng.choice(("tight", "half turn", "wide", "any")))
            if clr < radius + gap + 0.1:
                continue
            main = Bent(radius, clr, bend, station, facing, outside, gap, **pose)
            if min(main.leg_slopes) >= LEG_SLOPE:
                return main

    def several(self):
        rng = self.rng
        kinds = ("round", "round", "rectangular", "bent", "bent", "rectangular", "plate", "mitre")
        for i in range(112):
            tube, gap = self.branch(rng.choice(DIAMETERS) / 2.0), self.gap()
            mains = []
            for k in range(2 + i % 5):
                # A mitre stands among several in one set of eight only.
                kind = rng.choice(kinds if i % 8 == 0 else kinds[:7] if k else kinds[:6])
                pose = {"angle_deg": rng.choice((90.0, rng.uniform(25.0, 90.0)))}
                pose["offset"] = rng.choice((0.0, self.sign())) * rng.uniform(0.0, 1.2) * tube[0]
                if k:
                    pose["about_deg"] = rng.choice((90.0, 180.0, 45.0, rng.uniform(0.0, 360.0)))
                    pose["shift"] = rng.choice((0.0, rng.uniform(-1.2, 1.2) * tube[0]))
                mains.append(self.one_of_several(kind, tube[0], gap, pose))
            yield Joint(f"{len(mains)} mains", *tube, gap, mains)


def far_up(joint, main):
    """Whether the branch meets the bend far from the landing station; None where it hardly meets it at all."""
    hits = [highest(main.pieces, generator(joint.between, turn, 0.0))[0] for turn in range(7, 360, 45)]
    hits = [hit for hit in hits if hit is not None]
    if not hits:
        return None
    near = 3.0 * (joint.outside + main.core_radius + abs(main.offset)) / math.sin(main.angle)
    return max(hits) > near or min(hits) < -near


def places_of_change(state, step):
    """Turns in degrees where a state of the branch changes, found by halving."""
    found = []
    samples = [i * step for i in range(round(360.0 / step) + 1)]
    states = [state(turn) for turn in samples]
    for (low, at_low), (high, at_high) in pairwise(zip(samples, states, strict=True)):
        if at_low == at_high:
            continue
        for _ in range(50):
            middle = 0.5 * (low + high)
            if state(middle) == at_low:
                low = middle
            else:
                high = middle
        found.append(0.5 * (low + high))
    return found


def grazing_turns(joint):
    """Turns at which a generator of some wall grazes a main, with the wall radius and the main."""
    found = []
    for wall in WALLS:
        radius = joint.radius(wall)
        for main in joint.mains:

            def entered(turn, main=main, radius=radius):
                return sum(clear < 0.0 for clear in main.clearances(generator(radius, turn, 0.0)))

            for turn in places_of_change(entered, 1.0):
                # Two extrema can also appear together somewhere inside the main: that is no grazing.
                if nearness(main, radius, turn) < 1e-6:
                    found.append((turn, radius, main))
    return found


def nearness(main, radius, turn):
    return min((abs(clear) for clear in main.clearances(generator(radius, turn, 0.0))), default=math.inf)


def seam_turns(joint):
    """Turns at which a hit lands where two surfaces of a main meet."""
    found = []
    for wall in ("outside", "bore"):
        radius = joint.radius(wall)
        for main in joint.mains:
            if main.kind == "rectangular":
                for side in main.seams(joint.gap):
                    sine = (side + main.offset) / radius
                    if abs(sine) < 1.0:
                        turn = math.degrees(math.asin(sine))
                        found += [turn + main.about_deg, 180.0 - turn + main.about_deg]
            if main.kind == "bent":

                def surface(turn, main=main, radius=radius):
                    _, face = highest(main.pieces, generator(radius, turn, 0.0))
                    return None if face is None else BRepAdaptor_Surface(face).GetType()

                found += places_of_change(surface, 5.0)
    return found


def choose_turns(joint, count, rng):
    """Quarter turns, turns close to grazing, turns on and beside a seam, and the rest spread evenly with jitter.
    Returns the sorted turns and how many were moved off grazing."""
    turns = [0.0, 90.0, 180.0, 270.0]
    edges = grazing_turns(joint)
    rng.shuffle(edges)
    for edge, radius, main in edges[: count // 4]:
        wanted = 10.0 ** rng.uniform(-5.7, -1.0)
        step = rng.choice((-1.0, 1.0)) * 1e-8
        turn = edge
        while nearness(main, radius, turn) < wanted and abs(step) < 1.0:
            turn = edge + step
            step *= 1.5
        turns.append(round(turn % 360.0, 9) % 360.0)
    seams = seam_turns(joint)
    rng.shuffle(seams)
    for i, seam in enumerate(seams[: count // 4]):
        beside = rng.choice((-1.0, 1.0)) * 10.0 ** rng.uniform(-6.0, 0.0) if i % 3 else 0.0
        turns.append(round((seam + beside) % 360.0, 9) % 360.0)
    rest = max(count - len(turns), 0)
    turns += [round((i + rng.random()) * 360.0 / rest, 6) % 360.0 for i in range(rest)]

    moved, kept = 0, []
    for turn in sorted(set(turns)):
        step, candidate = 1e-4, turn
        while not joint.safe(candidate):
            candidate = round(turn + step, 9) % 360.0
            step *= 2.0
            assert step < 40.0, "no safe turn near by"
        moved += candidate != turn
        kept.append(candidate)
    return sorted(set(kept)), moved
