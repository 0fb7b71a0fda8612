"""Exact roots of the torus rays in bent.json, by mpmath (PyPI) with 50 digits.

    pip install mpmath==1.3.0
    python3 make_torus_roots.py

Writes torus_roots.json: for every ray of bent.json its roots, in mm along the ray, rising. The
surface is (|p|^2 + C^2 - R^2)^2 = 4 C^2 (x^2 + y^2), the textbook equation of a torus about z.
"""

import json
from pathlib import Path

from mpmath import cos, mp, mpf, nstr, polyroots, sin

mp.dps = 50
HERE = Path(__file__).parent


def roots(ray):
    radius, clr, facing = (mpf(ray[key]) for key in ("radius", "clr", "facing_rad"))

    def in_bend(vector):
        along, side, up = map(mpf, vector)
        return [along, up * cos(facing) + side * sin(facing), side * cos(facing) - up * sin(facing)]

    p, d = in_bend(ray["origin"]), in_bend(ray["direction"])
    p[1] -= clr
    dd, pd, pp = (sum(a * b for a, b in zip(u, v)) for u, v in ((d, d), (p, d), (p, p)))
    a = (dd, 2 * pd, pp + clr**2 - radius**2)
    b = tuple(
        4 * clr**2 * c
        for c in (d[0] ** 2 + d[1] ** 2, 2 * (p[0] * d[0] + p[1] * d[1]), p[0] ** 2 + p[1] ** 2)
    )
    quartic = (
        a[0] ** 2,
        2 * a[0] * a[1],
        a[1] ** 2 + 2 * a[0] * a[2] - b[0],
        2 * a[1] * a[2] - b[1],
        a[2] ** 2 - b[2],
    )
    found = polyroots(quartic, maxsteps=500, extraprec=200)
    return sorted(root.real for root in found if abs(root.imag) < mpf(10) ** -15)


rays = json.loads((HERE / "bent.json").read_text())["torus_rays"]
lines = [", ".join(nstr(root, 18, strip_zeros=False) for root in roots(ray)) for ray in rays]
text = "[\n" + ",\n".join(f"  [{line}]" for line in lines) + "\n]\n"
(HERE / "torus_roots.json").write_text(text)
