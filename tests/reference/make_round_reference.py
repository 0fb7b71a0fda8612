"""Write round.json: cut lines of round branches on round mains, taken from the Open CASCADE kernel.

Chooses the joints and the turns, asks round_kernel for every value twice by different roads, and records the
values together with the largest disagreement.
"""

import argparse
import json
import platform
import random
from importlib.metadata import version
from itertools import pairwise
from pathlib import Path

from round_kernel import (
    TANGENT_MM,
    WALLS,
    Joint,
    coped_volume,
    first_hit,
    hit_by_ray,
    hit_by_section,
    section_curves,
    square_by_boolean,
    square_by_section,
)

SEED = 20240613
TURNS = 30
# The general spline intersector may lose one of two close hits, so it is asked only on rays that
# pass well clear of grazing.
SPLINE_CLEAR_MM = 1.0


def grazing_turns(joint):
    """Turns at which a generator of some wall grazes the main, found by halving where hit turns to miss."""
    found = []
    for wall in WALLS:
        radius = joint.radius(wall)
        samples = [i * 0.5 for i in range(721)]
        for low, high in pairwise(samples):
            start = joint.clearance(radius, low) > 0.0
            if start == (joint.clearance(radius, high) > 0.0):
                continue
            for _ in range(60):
                mid = 0.5 * (low + high)
                if (joint.clearance(radius, mid) > 0.0) == start:
                    low = mid
                else:
                    high = mid
            found.append((0.5 * (low + high), radius))
    return found


def choose_turns(joint, rng):
    """Quarter turns, some turns close to grazing when the branch hangs past, and the rest spread evenly
    with jitter. Returns the sorted turns and how many were moved off grazing."""
    turns = [0.0, 90.0, 180.0, 270.0]
    edges = grazing_turns(joint)
    rng.shuffle(edges)
    for edge, radius in edges[:8]:
        wanted = 10.0 ** rng.uniform(-5.7, -1.0)
        step = rng.choice((-1.0, 1.0)) * 1e-8
        turn = edge
        while abs(joint.clearance(radius, turn)) < wanted and abs(step) < 1.0:
            turn = edge + step
            step *= 1.5
        turns.append(round(turn % 360.0, 9))
    rest = TURNS - len(turns)
    turns += [round((i + rng.random()) * 360.0 / rest, 6) % 360.0 for i in range(rest)]

    moved, kept = 0, []
    for turn in sorted(set(turns)):
        step, candidate = 1e-4, turn
        while not joint.safe(candidate):
            candidate = round(turn + step, 9) % 360.0
            step *= 2.0
            assert step < 20.0, "no safe turn near by"
        moved += candidate != turn
        kept.append(candidate)
    while len(set(kept)) < TURNS:
        extra = round(rng.uniform(0.0, 360.0), 6)
        if joint.safe(extra):
            kept.append(extra)
    return sorted(set(kept)), moved


def joints(rng):
    """All joints, family by family."""

    def sign():
        return rng.choice((-1.0, 1.0))

    def gap():
        return rng.choice((0.0, 0.0, rng.uniform(0.2, 3.0)))

    def tube(family, outside, wall, main, angle_deg, offset, gap_mm):
        bore = outside - wall
        between = bore + wall * rng.uniform(0.15, 0.85)
        return Joint(family, outside, bore, between, main, angle_deg, offset, gap_mm)

    diameters = (12.7, 19.05, 22.2, 25.4, 31.75, 33.4, 38.1, 42.2, 44.45, 48.3, 50.8, 60.3, 76.1, 88.9)
    thicknesses = (0.889, 1.245, 1.651, 2.108, 2.41, 3.05, 3.91, 4.775)
    made = []
    while len(made) < 60:
        small, large = sorted((rng.choice(diameters), rng.choice(diameters)))
        slack = 0.5 * (large - small)
        offset = rng.choice((0.0, 1.0, -1.0)) * rng.uniform(0.0, slack)
        made.append(
            tube("realistic", small / 2, rng.choice(thicknesses), large / 2, rng.uniform(30, 90), offset, gap())
        )
    for i in range(30):
        radius = rng.choice(diameters) / 2
        offset = 0.0 if i < 12 else sign() * radius * rng.uniform(0.001, 0.6)
        angle = 90.0 if i % 6 == 0 else rng.uniform(10, 90)
        made.append(
            tube(
                "equal diameters",
                radius,
                radius * rng.uniform(0.05, 0.5),
                radius,
                angle,
                offset,
                0.0 if i % 2 else gap(),
            )
        )
    for _ in range(26):
        radius = rng.uniform(10, 60)
        made.append(
            tube(
                "branch wider",
                radius,
                radius * rng.uniform(0.05, 0.5),
                radius * rng.uniform(0.3, 0.98),
                rng.uniform(12, 90),
                sign() * radius * rng.uniform(0.0, 0.5),
                gap(),
            )
        )
    for _ in range(30):
        radius, main = rng.uniform(8, 50), rng.uniform(10, 60)
        past = rng.uniform(0.1, 0.9) * 2.0 * min(radius, main)
        made.append(
            tube(
                "hanging past",
                radius,
                radius * rng.uniform(0.05, 0.5),
                main,
                rng.uniform(10, 90),
                sign() * (main + radius - past),
                gap(),
            )
        )
    for i in range(26):
        radius, main, gap_mm = rng.uniform(8, 40), rng.uniform(42, 90), gap()
        wall = radius * rng.uniform(0.05, 0.4)
        # In turn: outside wall just inside or just past grazing, bore the same, branch all but clear of the main.
        reach = main + gap_mm + (-radius, -(radius - wall), radius)[i % 3]
        nearness = 10.0 ** rng.uniform(-4.0, -1.0) * (-1.0 if i % 3 == 2 else sign())
        made.append(
            tube("near tangency", radius, wall, main, rng.uniform(15, 90), sign() * (reach + nearness), gap_mm)
        )
    for _ in range(26):
        radius = rng.uniform(5, 60)
        main = radius * rng.uniform(0.8, 4.0)
        made.append(
            tube(
                "90 degrees",
                radius,
                radius * rng.uniform(0.05, 0.6),
                main,
                90.0,
                sign() * rng.choice((0.0, 1.0)) * main * rng.uniform(0.0, 0.7),
                gap(),
            )
        )
    for i in range(20):
        radius = rng.uniform(5, 60)
        main = radius * rng.uniform(0.9, 3.0)
        made.append(
            tube(
                "shallow",
                radius,
                radius * rng.uniform(0.05, 0.5),
                main,
                5.0 if i < 12 else rng.uniform(5, 10),
                sign() * rng.choice((0.0, 1.0)) * main * rng.uniform(0.0, 0.5),
                gap(),
            )
        )
    for i in range(20):
        main = 3.0 * rng.choice((1.0, 1.0, 2.0, 5.0))
        made.append(
            tube(
                "tiny",
                3.0,
                rng.choice((0.25, 0.5, 1.0, 1.5)),
                main,
                5.0 if i == 0 else rng.uniform(5, 90),
                sign() * rng.choice((0.0, 1.0)) * main * rng.uniform(0.0, 0.8),
                gap(),
            )
        )
    for i in range(20):
        radius = 300.0 if i % 2 else rng.uniform(150, 300)
        main = 300.0 if i % 3 else rng.uniform(300, 600)
        made.append(
            tube(
                "huge",
                radius,
                rng.uniform(4, 40),
                main,
                5.0 if i == 0 else rng.uniform(5, 90),
                sign() * rng.choice((0.0, 1.0)) * main * rng.uniform(0.0, 0.5),
                gap(),
            )
        )
    for _ in range(24):
        radius = 10.0 ** rng.uniform(0.6, 2.3)
        main = radius * 10.0 ** rng.uniform(-0.3, 1.0)
        made.append(
            tube(
                "any",
                radius,
                radius * rng.uniform(0.03, 0.7),
                main,
                rng.uniform(5, 90),
                sign() * main * rng.uniform(0.0, 0.9),
                gap(),
            )
        )
    return made


VOLUMES = (
    # outside, bore, main, angle, offset, gap, length. The main covers the branch, so that for every
    # generator the cut line is at or above z = 0 ...
    (15.875, 14.224, 25.4, 90.0, 0.0, 0.0, 80.0),
    (15.875, 14.224, 25.4, 45.0, 0.0, 0.0, 120.0),
    (15.875, 14.224, 25.4, 60.0, 6.0, 0.0, 100.0),
    (15.875, 14.224, 25.4, 60.0, -6.0, 1.5, 100.0),
    (24.15, 20.24, 30.15, 35.0, 3.0, 0.0, 150.0),
    (24.15, 12.0, 44.45, 72.5, -15.0, 0.0, 120.0),
    (3.0, 2.0, 4.0, 50.0, 0.5, 0.0, 20.0),
    (150.0, 140.0, 200.0, 30.0, -30.0, 3.0, 900.0),
    (12.7, 11.049, 12.9, 80.0, 0.0, 0.0, 60.0),
    (10.0, 8.0, 30.0, 15.0, 12.0, 0.0, 250.0),
    # ... or the branch hangs past at 90 degrees, where a generator that misses keeps its whole length.
    (20.0, 17.0, 25.0, 90.0, 14.0, 0.0, 60.0),
    (20.0, 12.0, 25.0, 90.0, -22.0, 2.0, 60.0),
)


def digits(value):
    """12 significant digits; 0.0 where the kernel left only rounding."""
    return None if value is None else float(f"{value:.12g}")


def describe(joint):
    return {
        "family": joint.family,
        "outside": joint.outside,
        "between": joint.between,
        "bore": joint.bore,
        "main": joint.main,
        "angle_deg": joint.angle_deg,
        "angle_rad": joint.angle,
        "offset": joint.offset,
        "gap": joint.gap,
    }


class Worst:
    """Largest disagreements seen, by name."""

    def __init__(self):
        self.values = {}

    def note(self, name, value):
        self.values[name] = max(self.values.get(name, 0.0), abs(value))


def measure(joint, turns, with_square, worst, counts):
    """One joint's entry; notes how far each second opinion is from the recorded value."""
    entry = describe(joint) | {"turns_deg": turns, "hits": {wall: [] for wall in WALLS}}
    if with_square:
        entry["square"] = []
    for turn in turns:
        curves = section_curves(joint, turn)
        for wall in WALLS:
            radius = joint.radius(wall)
            clearance = joint.clearance(radius, turn)
            hit = hit_by_ray(joint, radius, turn)
            again = hit_by_section(joint, radius, turn, curves)
            assert (hit is None) == (again is None) == (clearance > 0.0), "hit or miss is disputed"
            counts["rays"] += 1
            if hit is None:
                counts["misses"] += 1
                entry["hits"][wall].append(None)
                continue
            entry["hits"][wall].append(digits(hit.Z()))
            counts["hits_within_0.001_mm_of_grazing"] += clearance > -1e-3
            worst.note("hit_distance_to_main_axis_less_radius", joint.axis.Distance(hit) - joint.surface_radius)
            worst.note("hit_ray_against_plane_section", hit.Z() - again)
            if clearance < -1e-3:
                worst.note("hit_ray_against_plane_section_0.001_mm_clear_of_grazing", hit.Z() - again)
            if clearance < -SPLINE_CLEAR_MM:
                spline = first_hit(joint.spline_solid, joint.ray(radius, turn, 1.1 * joint.reach), joint)
                worst.note("hit_ray_against_spline_copy_of_main", hit.Z() - spline.Z())
                counts["spline_checks"] += 1
        if with_square:
            top, inside = square_by_section(joint, turn, curves)
            boxed = square_by_boolean(joint, turn)
            entry["square"].append(digits(top))
            counts["square"] += 1
            counts["square_misses"] += top is None
            counts["square_inside_the_wall"] += bool(inside)
            if (top is None) != (boxed is None):
                counts["square_boolean_disputes"] += 1
            elif top is not None:
                worst.note("square_section_against_boolean_face", top - boxed)
    return entry


def write(path, data):
    """JSON with one joint a line, so that a change shows as the joints it touches."""
    lines = ["{", f'"about":{json.dumps(data["about"], indent=1)},']
    for name in ("joints", "volumes"):
        rows = [json.dumps(row, separators=(",", ":"), allow_nan=False) for row in data[name]]
        lines += [f'"{name}":[', ",\n".join(rows), "]" + ("," if name == "joints" else "")]
    path.write_text("\n".join(lines) + "\n}\n", encoding="ascii")


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--output", type=Path, default=Path(__file__).with_name("round.json"))
    output = parser.parse_args().output

    rng = random.Random(SEED)
    worst = Worst()
    counts = dict.fromkeys(
        (
            "joints",
            "rays",
            "misses",
            "hits_within_0.001_mm_of_grazing",
            "spline_checks",
            "turns_moved_off_grazing",
            "joints_with_square",
            "square",
            "square_misses",
            "square_inside_the_wall",
            "square_boolean_disputes",
        ),
        0,
    )
    entries = []
    for index, joint in enumerate(joints(rng)):
        turns, moved = choose_turns(joint, rng)
        with_square = index % 3 != 0
        counts["joints"] += 1
        counts["turns_moved_off_grazing"] += moved
        counts["joints_with_square"] += with_square
        entries.append(measure(joint, turns, with_square, worst, counts))
    volumes = []
    for *sizes, length in VOLUMES:
        outside, bore, *rest = sizes
        joint = Joint("volume", outside, bore, 0.5 * (outside + bore), *rest)
        left, residual = coped_volume(joint, length)
        entry = describe(joint) | {
            "length": length,
            "volume": digits(left),
            "sum_residual": float(f"{residual:.2g}"),
        }
        del entry["family"], entry["between"]
        volumes.append(entry)
        worst.note("volume_left_plus_taken_less_tube_relative", residual / left)

    about = {
        "what": "first hits of branch generators on a round main, square-to-wall cut lines, coped volumes",
        "made_by": "make_round_reference.py",
        "kernel": f"Open CASCADE Technology, through cadquery-ocp {version('cadquery-ocp')}",
        "python": platform.python_version(),
        "seed": SEED,
        "units": "mm, mm3, degrees; angle_rad in radians",
        "tangent_mm": TANGENT_MM,
        "counts": counts,
        "largest_disagreement": {name: float(f"{value:.3g}") for name, value in sorted(worst.values.items())},
    }
    write(output, {"about": about, "joints": entries, "volumes": volumes})
    print(json.dumps(about, indent=1))


if __name__ == "__main__":
    main()
