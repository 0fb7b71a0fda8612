"""Write plate.json, mitre.json, rectangular.json, bent.json and several.json from the Open CASCADE kernel.

Chooses joints and turns, asks mains_kernel for every value by different roads, and records the values together
with the largest disagreement. A turn at which the roads disagree is dropped and counted.
"""

import argparse
import json
import math
import platform
import random
import sys
from importlib.metadata import version
from pathlib import Path

from OCP.BRepPrimAPI import BRepPrimAPI_MakeCylinder
from OCP.gp import gp_Ax2, gp_Circ, gp_Dir, gp_Lin, gp_Pnt, gp_Vec

from mains_choice import Choice, choose_turns
from mains_kernel import (
    fused,
    generator,
    heights,
    highest,
    hit_by_line,
    hit_by_walk,
    torus_roots,
    wall_top,
)
from round_kernel import TANGENT_MM, WALLS

SEED = 20240702
TURNS = {"plate": 10, "mitre": 10, "rectangular": 24, "bent": 24, "several": 24}
# Where two roads differ by more, the kernel is not sure. A boolean's edge on a torus is an approximation.
SURE_HIT, SURE_TOP, SURE_TOP_ON_TORUS = 1e-7, 2e-7, 2e-6
# Other algorithms are asked only well clear of grazing: the general ones may lose one of two close hits.
CLEAR_MM = 1.0
TORUS_RAYS = 200


def digits(value):
    """12 significant digits."""
    return None if value is None else float(f"{value:.12g}")


class Tally:
    """Counts, and the largest disagreements seen, by name."""

    def __init__(self):
        self.counts, self.worst = {}, {}

    def count(self, name, by=1):
        self.counts[name] = self.counts.get(name, 0) + int(by)

    def note(self, name, value):
        self.worst[name] = max(self.worst.get(name, 0.0), abs(value))


def differ(one, other, allowed):
    """Whether two roads disagree: on hit or miss, or by more than allowed; a NaN always does."""
    if one is None or other is None:
        return one is not other
    return not abs(one - other) <= allowed


def greatest(values):
    return max((value for value in values if value is not None), default=None)


def hit(joint, wall, turn, others, tally):
    """First hit on the union, and whether the roads agree."""
    radius = joint.radius(wall)
    hits = []
    for main, (swept, spline) in zip(joint.mains, others, strict=True):
        met = hit_by_line(main.pieces, radius, turn)
        walked = hit_by_walk(main, radius, turn, met)
        if differ(met, walked, SURE_HIT):
            print("hit in doubt:", main.describe(), wall, turn, met, walked, file=sys.stderr)
            return None, False
        hits.append(met)
        clear = min((abs(it) for it in main.clearances(generator(radius, turn, 0.0))), default=math.inf)
        tally.count("hits_within_0.001_mm_of_grazing", met is not None and clear < 1e-3)
        if met is None:
            continue
        tally.note("hit_line_against_distance_from_core", met - walked)
        if clear < CLEAR_MM:
            continue
        for name, pieces in (("swept_tube", swept), ("spline_copy", spline)):
            if pieces:
                again, _ = highest(pieces, generator(radius, turn, met))
                tally.count(f"{name}_checks")
                if again is None:
                    tally.count(f"{name}_lost_the_hit")
                else:
                    tally.note(f"hit_line_against_{name}", met - again)
    return greatest(hits), True


def top(joint, turn, tally):
    """Square-to-wall cut on the union, and whether the roads agree."""
    tops = []
    for main in joint.mains:
        recorded, again = wall_top(joint, main, turn)
        if differ(recorded, again, SURE_TOP_ON_TORUS if main.kind == "bent" else SURE_TOP):
            print("top in doubt:", main.describe(), turn, recorded, again, file=sys.stderr)
            return None, False
        if recorded is not None:
            kind = "bent" if main.kind == "bent" else "straight"
            tally.note(f"square_line_scan_against_boolean_face_{kind}", recorded - again)
        tops.append(recorded)
    return greatest(tops), True


def check_mitre(joint, turn, met, tally):
    """Two equal tubes meet on the dividing plane: the generator must meet the other tube's surface there."""
    main = joint.mains[0]
    if joint.gap != 0.0 or main.included_deg > 170.0:
        return
    angle = math.radians(main.included_deg)
    along, half = gp_Dir(math.sin(angle), 0.0, math.cos(angle)), 1e3 * joint.outside
    start = gp_Pnt(-half * along.X(), 0.0, -half * along.Z())
    other = BRepPrimAPI_MakeCylinder(gp_Ax2(start, along), joint.outside, 2.0 * half).Shape()
    crossings = heights(other, generator(joint.outside, turn, met))
    # One of the two crossings lies on the dividing plane, the other on the plane square to it.
    if crossings and max(crossings) - min(crossings) > CLEAR_MM:
        tally.count("mitre_checks")
        tally.note("mitre_plane_against_equal_tubes", min(abs(z - met) for z in crossings))


def measure(joint, turns, index, tally):
    """One joint's entry; turns in doubt are left out."""
    with_square = index % 3 != 0
    with_spline = index % 3 == 1
    others = [
        (
            [main.swept()] if main.kind == "bent" and with_spline else [],
            main.spline_pieces() if with_spline else [],
        )
        for main in joint.mains
    ]
    whole = fused(joint.mains) if len(joint.mains) > 1 and with_spline else None
    kept, hits, square = [], {wall: [] for wall in WALLS}, []
    for turn in turns:
        row = {wall: hit(joint, wall, turn, others, tally) for wall in WALLS}
        peak, sure = top(joint, turn, tally) if with_square else (None, True)
        if not sure or not all(sure for _, sure in row.values()):
            tally.count("turns_dropped_in_doubt")
            continue
        kept.append(turn)
        for wall in WALLS:
            value = row[wall][0]
            hits[wall].append(digits(value))
            tally.count("rays")
            tally.count("misses", value is None)
            if whole is not None:
                again = hit_by_line([whole], joint.radius(wall), turn)
                tally.count("fused_solid_checks")
                if differ(value, again, SURE_HIT):
                    tally.count("fused_solid_disputes")
                elif value is not None:
                    tally.note("hit_line_against_fused_solid", value - again)
        if joint.mains[0].kind == "mitre" and len(joint.mains) == 1:
            check_mitre(joint, turn, row["outside"][0], tally)
        if with_square:
            square.append(digits(peak))
            edge = greatest((row["outside"][0], row["bore"][0]))
            tally.count("square")
            tally.count("square_misses", peak is None)
            tally.count("square_inside_the_wall", peak is not None and (edge is None or peak > edge + 1e-6))
    tally.count("joints")
    tally.count("joints_with_square", with_square)
    if len(joint.mains) > 1:
        tally.count("fused_sets", whole is not None)
        tally.count("fusions_failed", with_spline and whole is None)
    entry = joint.describe() | {"turns_deg": kept, "hits": hits}
    return entry | {"square": square} if with_square else entry


def torus_rays(rng, tally):
    """Lines and whole tori in the main's frame (along, side, up), with the origin on the torus's centre line
    and its tangent along: every root. Some are generators of a branch, some go anywhere, some nearly graze."""
    rays = []
    while len(rays) < TORUS_RAYS:
        i = len(rays)
        radius = round(10.0 ** rng.uniform(0.3, 2.0), 4)
        clr = round(radius * (rng.uniform(1.01, 1.5), rng.uniform(1.5, 6.0), 10.0 ** rng.uniform(0.8, 1.7))[i % 3], 4)
        facing_deg = rng.choice((0.0, 90.0, 180.0, 270.0, round(rng.uniform(0.0, 360.0), 4)))
        facing = math.radians(facing_deg)
        inward = gp_Dir(0.0, math.sin(facing), math.cos(facing))
        centre = gp_Pnt(0.0, clr * inward.Y(), clr * inward.Z())
        circle = gp_Circ(gp_Ax2(centre, gp_Dir(1.0, 0.0, 0.0).Crossed(inward)), clr)

        def anywhere(spread):
            return [round(rng.uniform(-spread, spread), 6) for _ in range(3)]

        origin, way = anywhere(0.9 * radius), None
        if i % 4 == 0:  # a generator of a branch that stands in the plane of along and up
            angle = rng.choice((90.0, rng.uniform(10.0, 90.0)))
            way = gp_Dir(-math.cos(math.radians(angle)), 0.0, -math.sin(math.radians(angle)))
        elif i % 4 == 1:  # through the tube on both sides of the hole
            across = [centre.X() + rng.uniform(-1, 1) * clr, centre.Y(), centre.Z()]
            way = gp_Dir(*(b - a for a, b in zip(origin, across, strict=True)))
        elif i % 4 == 2:
            origin = anywhere(clr + radius)
            way = gp_Dir(*(rng.gauss(0.0, 1.0) for _ in range(3)))
        else:  # slid aside until it stands just inside or outside of grazing
            way = gp_Dir(*(rng.gauss(0.0, 1.0) for _ in range(3)))
            origin = graze(origin, way, circle, radius, rng)
        if origin is None:
            continue
        line = gp_Lin(gp_Pnt(*origin), way)
        roots, off = torus_roots(line, circle, radius)
        if roots is None:
            tally.count("torus_rays_dropped_in_doubt")
            continue
        if off is None:
            tally.count("torus_rays_where_line_torus_counts_otherwise")
        else:
            tally.note("torus_root_by_distance_against_line_torus", off)
        tally.count(f"torus_rays_with_{len(roots)}_roots")
        rays.append(
            {
                "radius": radius,
                "clr": clr,
                "facing_deg": facing_deg,
                "facing_rad": facing,
                "origin": origin,
                "direction": [way.X(), way.Y(), way.Z()],
                "roots": [digits(root) for root in roots],
            }
        )
    return rays


def graze(origin, way, circle, radius, rng):
    """An origin from which a line passes the torus at 1e-5 to 0.1 mm inside or outside of grazing."""
    aside = gp_Vec(way).Crossed(gp_Vec(*(rng.gauss(0.0, 1.0) for _ in range(3)))).Normalized()
    sign = rng.choice((-1.0, 1.0))

    def slid(by):
        return gp_Lin(gp_Pnt(*origin).Translated(aside.Multiplied(by)), way)

    def count(by):
        roots, _ = torus_roots(slid(by), circle, radius)
        return -1 if roots is None else len(roots)

    low, high = 0.0, sign * 2.0 * radius
    first = count(low)
    if first in (-1, count(high)):
        return None
    for _ in range(34):
        middle = 0.5 * (low + high)
        if count(middle) == first:
            low = middle
        else:
            high = middle
    beside = low + rng.choice((-1.0, 1.0)) * sign * 10.0 ** rng.uniform(-5.0, -1.0)
    point = slid(beside).Location()
    return [round(point.X(), 9), round(point.Y(), 9), round(point.Z(), 9)]


def write(path, data):
    """JSON with one joint a line, so that a change shows as the joints it touches."""
    blocks = [f'"about":{json.dumps(data["about"], indent=1)}']
    for name in ("joints", "torus_rays"):
        if name in data:
            rows = [json.dumps(row, separators=(",", ":"), allow_nan=False) for row in data[name]]
            blocks.append(f'"{name}":[\n' + ",\n".join(rows) + "\n]")
    path.write_text("{\n" + ",\n".join(blocks) + "\n}\n", encoding="ascii")


def make(name, folder):
    tally = Tally()
    seed = f"{SEED} {name}"
    rng = random.Random(f"{seed} turns")
    choice = Choice(seed)
    made = {
        "plate": choice.plates,
        "mitre": choice.mitres,
        "rectangular": choice.rectangulars,
        "bent": choice.bents,
        "several": choice.several,
    }[name]
    entries = []
    for index, joint in enumerate(made()):
        turns, moved = choose_turns(joint, TURNS[name], rng)
        tally.count("turns_moved_off_grazing", moved)
        entries.append(measure(joint, turns, index, tally))
    data = {"joints": entries}
    if name == "bent":
        data["torus_rays"] = torus_rays(random.Random(f"{seed} rays"), tally)
    about = {
        "what": f"first hits of branch generators, square-to-wall cut lines: {name}",
        "made_by": "make_mains_reference.py",
        "how": "line against solid, against distance from the main's core; tops by lines against booleans",
        "kernel": f"Open CASCADE Technology, through cadquery-ocp {version('cadquery-ocp')}",
        "python": platform.python_version(),
        "seed": seed,
        "units": "mm, degrees; names in _rad in radians",
        "tangent_mm": TANGENT_MM,
        "counts": dict(sorted(tally.counts.items())),
        "largest_disagreement": {name: float(f"{value:.3g}") for name, value in sorted(tally.worst.items())},
    }
    write(folder / f"{name}.json", {"about": about} | data)
    print(name, json.dumps(about["counts"]), json.dumps(about["largest_disagreement"]))


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--output", type=Path, default=Path(__file__).parent, help="folder of the files")
    parser.add_argument("kinds", nargs="*", default=list(TURNS), help="which files, all if none is named")
    arguments = parser.parse_args()
    for name in arguments.kinds:
        make(name, arguments.output)


if __name__ == "__main__":
    main()
