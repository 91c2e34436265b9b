#!/usr/bin/env python3
"""Sections at the frames of hull meshes, and hulls whose frame bevels are known exactly.

Independent truth, in two parts.

  hulls         trimesh slices the triangles of a mesh file, shapely keeps the starboard
                half (as in sections.py, whose helpers do it).  The mesh is what
                `chinewright mesh FILE -o NAME.obj --surface moulded` writes; nothing but
                its triangles is used.  Each is cut at the stations that frames stand on
                unless told otherwise (the fewest equal bays of 600 mm or less) and one
                frame's thickness ahead of and abaft each of them.
  closed_forms  flat-bottomed hulls whose sides are pieces of quadric cylinders and cones
                F(x, y, z) = 0.  Chine and sheer are cut from the surface by two sheets
                z = f(x), not by rulings; at both ends they stop on one common ruling, so the
                panel between them is that surface and no other.  The normal is F's
                gradient; places and distances are roots of F found by bisection and
                secants (Brent).  The bottom is the cylinder z = f(x) of the chine's sheet.

A frame stands with its pattern face on the station x and lies ahead of it: its thickness
runs along d = (-1, 0, 0).  With n the unit normal outward of the skin
  bevel   atan2(n . d, |n - (n . d) d|); for a frame that lies abaft the sign turns
  offset  from the point along the section's normal inward to the section at
          x - thickness; close to chine and sheer that may meet the surface beyond the
          panel ("beyond": true)
  crown   greatest signed distance of the section from the straight line between its chine
          and sheer points, positive outward

Before writing, the script checks, and stops on a failure:
  - meshes are watertight; each cut is one valid ring, the same to port and starboard, and
    agrees with intersections worked out triangle by triangle in numpy;
  - points lie on their surface to 1e-9 mm; their rulings stay on it, and the normal is the
    same all along each ruling;
  - normals agree with finite differences of the surface y(x, z), bevels with the shift
    of the section over 0.01 mm, offsets with offsets of half and a quarter the thickness
    carried on, crowns with the section sampled densely;
  - scipy's cubic splines by chord length through the points written stay on the exact lines.

Units: mm and degrees.  x aft, y to starboard, z up.

Run:  python frames.py MESH...  [-o FILE]      (default: frames.json beside this file)
      A mesh's name is its file's, less the ending.
Needs numpy, scipy, shapely, trimesh.
"""
import argparse
import json
import math
import re
import sys
from pathlib import Path

import numpy as np
import shapely
import trimesh
from scipy.interpolate import CubicSpline
from scipy.optimize import brentq, minimize_scalar

sys.dont_write_bytecode = True          # leave nothing but the JSON beside the scripts
from sections import apart, by_hand, ring, starboard

THICKNESS = 19.0
BAY = 600.0
SIMPLIFY_MM = 0.005
CLOSE_MM = 1e-4           # two ways to the same outline; the mesh has six decimals
ON_SURFACE_MM = 1e-9
LINE_POINTS = 30
SECTION_POINTS = 6
MOST_BYTES = 400_000
AHEAD = np.array([-1.0, 0.0, 0.0])


# ------------------------------------------------------------------ cuts of meshes
def cut(mesh, x):
    outline = ring(mesh, x)
    pierced = by_hand(mesh, x)
    off = max(apart(outline, pierced), apart(shapely.MultiPoint(pierced), np.array(outline.coords)))
    mirror = apart(outline, np.array(outline.coords) * [-1.0, 1.0])
    assert off < CLOSE_MM and mirror < CLOSE_MM, (x, off, mirror)
    full = starboard(outline)
    thin = np.round(np.array(full.simplify(SIMPLIFY_MM, preserve_topology=False).coords), 4) + 0.0
    assert thin[0, 0] == 0.0 and thin[-1, 0] > 1.0, "from the keel to the sheer"
    assert apart(shapely.LineString(thin), np.array(full.coords)) <= SIMPLIFY_MM + 1e-4
    return thin.tolist()


def frames_of(path):
    mesh = trimesh.load(path, process=False, force="mesh")
    assert mesh.is_watertight and mesh.volume > 0.0, f"{path}: not a closed mesh that faces outward"
    fore, aft = (float(v) for v in mesh.bounds[:, 0])
    bays = math.ceil((aft - fore) / BAY)
    stations = []
    # The dory's first would stand in the wood of her stem: her document leaves it out.
    first = 2 if path.stem == "mere-dory" else 1
    for i in range(first, bays):
        x = fore + (aft - fore) * i / bays
        stations.append({"station_x_mm": round(x, 6), "at": cut(mesh, x), "ahead": cut(mesh, x - THICKNESS),
                         "abaft": cut(mesh, x + THICKNESS)})
    counts = [len(s[k]) for s in stations for k in ("at", "ahead", "abaft")]
    print(f"{path.stem:12s} {len(stations)} stations, {min(counts)} to {max(counts)} points a section")
    return {"name": path.stem, "length_mm": round(aft - fore, 6), "stations": stations}


# ------------------------------------------------------------------ exact surfaces
class Quadric:
    """(u / a)^2 + (v / b)^2 = 1, where u and v are how far from its centre the ruling through
    a point pierces the level plane z = 0: ellipse with half axes a, b about `centre`.
    With an apex it is a cone, with a generator a cylinder."""

    def __init__(self, centre, half_axes, apex=None, generator=None):
        self.centre, self.half_axes = np.array(centre, float), np.array(half_axes, float)
        self.apex = None if apex is None else np.array(apex, float)
        self.generator = None if generator is None else np.array(generator, float)

    def pierced(self, p):
        """Where the ruling through p pierces z = 0, from the centre, and its derivatives by x (or y)
        and by z."""
        if self.apex is None:
            return p[:2] - self.generator[:2] / self.generator[2] * p[2] - self.centre, 1.0, \
                -self.generator[:2] / self.generator[2]
        scale = (p[2] - self.apex[2]) / -self.apex[2]
        away = (p[:2] - self.apex[:2]) / scale
        return self.apex[:2] + away - self.centre, 1.0 / scale, away / (scale * self.apex[2])

    def value(self, p):
        at, _, _ = self.pierced(p)
        return float(np.sum((at / self.half_axes) ** 2)) - 1.0

    def gradient(self, p):
        at, level, rise = self.pierced(p)
        by_at = 2.0 * at / self.half_axes ** 2
        return np.array([by_at[0] * level, by_at[1] * level, by_at @ rise])

    def normal(self, p):
        g = self.gradient(p)
        assert g[1] > 0.0, "outward is away from the centreplane"
        return g / np.linalg.norm(g)

    def distance(self, p):
        """To first order; for points on or next to the surface."""
        return self.value(p) / np.linalg.norm(self.gradient(p))

    def ruling(self, p):
        r = self.generator if self.apex is None else p - self.apex
        return r / r[2]

    def point(self, x, z):
        """The point to starboard at x and z."""
        origin, level, _ = self.pierced(np.array([x, 0.0, z]))
        assert abs(origin[0]) < self.half_axes[0]
        middle = -origin[1] / level
        y = brentq(lambda y: self.value(np.array([x, y, z])), middle,
                   middle + 1.01 * self.half_axes[1] / level, xtol=1e-13, rtol=1e-15)
        p = np.array([x, y, z])
        assert abs(self.distance(p)) < ON_SURFACE_MM, self.distance(p)
        return p


class Sheet:
    """z = height + slope (x - middle) + bend (x - middle)^2."""

    def __init__(self, middle, height, slope=0.0, bend=0.0):
        self.middle, self.height, self.tilt, self.bend = middle, height, slope, bend

    def __call__(self, x):
        return self.height + self.tilt * (x - self.middle) + self.bend * (x - self.middle) ** 2

    def slope(self, x):
        return self.tilt + 2.0 * self.bend * (x - self.middle)


class Hull:
    def __init__(self, name, definition, side, chine, sheer, chine_x, stations):
        self.name, self.definition, self.side, self.stations = name, definition, side, stations
        self.sheets = {"chine": chine, "sheer": sheer}
        self.ends = {"chine": chine_x, "sheer": [self.up_the_ruling(x) for x in chine_x]}

    def up_the_ruling(self, x):
        """Where the ruling through the chine at x meets the sheer."""
        p = self.on("chine", x)
        r = self.side.ruling(p)
        t = brentq(lambda t: p[2] + t * r[2] - self.sheets["sheer"](p[0] + t * r[0]), 50.0, 1000.0, xtol=1e-12)
        return float(p[0] + t * r[0])

    def on(self, line, x):
        return self.side.point(x, self.sheets[line](x))

    def line(self, name):
        fore, aft = self.ends[name]
        u = np.linspace(-1.0, 1.0, LINE_POINTS)
        share = 0.5 + 0.25 * (u + np.sin(0.5 * math.pi * u))    # closer together towards the ends
        points = np.round([self.on(name, x) for x in fore + share * (aft - fore)], 9) + 0.0
        assert np.all(np.diff(points[:, 0]) > 0.0) and points.min() >= 0.0
        return points


def hulls():
    r = 6000.0
    yield Hull(
        "upright-cylinder",
        "Side on the upright circular cylinder of radius 6000 about (2100, -5350). Chine on "
        "z = 70 ((x - 2200) / 2200)^2, sheer on z = 400 + 60 ((x - 2600) / 2600)^2.",
        Quadric((2100.0, 650.0 - r), (r, r), generator=(0.0, 0.0, 1.0)),
        Sheet(2200.0, 0.0, bend=70.0 / 2200.0 ** 2), Sheet(2600.0, 400.0, bend=60.0 / 2600.0 ** 2),
        (0.0, 4000.0), (900.0, 1450.0, 2000.0, 2550.0, 3100.0))
    r, flare = 6500.0, math.tan(math.radians(18.0))
    yield Hull(
        "right-cone",
        "Side on the right circular cone about the upright axis through (2100, -5980), apex below, half "
        "angle 18 degrees, radius 6500 at z = 0. Chine on z = 0, sheer on z = 390 - 0.025 (x - 2100).",
        Quadric((2100.0, 520.0 - r), (r, r), apex=(2100.0, 520.0 - r, -r / flare)),
        Sheet(2100.0, 0.0), Sheet(2100.0, 390.0, slope=-0.025), (60.0, 4000.0),
        (900.0, 1450.0, 2000.0, 2550.0, 3100.0))
    yield Hull(
        "oblique-cone",
        "Side on the cone with apex (3600, 40, -2200) over the ellipse with half axes 2500 along x and "
        "1000 along y about (2250, -470) in z = 0. Chine on z = 40 ((x - 2200) / 1700)^2, sheer on "
        "z = 400 - 0.03 (x - 2000).",
        Quadric((2250.0, -470.0), (2500.0, 1000.0), apex=(3600.0, 40.0, -2200.0)),
        Sheet(2200.0, 0.0, bend=40.0 / 1700.0 ** 2), Sheet(2000.0, 400.0, slope=-0.03), (620.0, 3900.0),
        (900.0, 1400.0, 1950.0, 2500.0, 3050.0))
    yield Hull(
        "oblique-cylinder",
        "Side on the cylinder with generator (-0.7, 0.25, 1) over the ellipse with half axes 2900 along x "
        "and 1100 along y about (2300, -560) in z = 0. Chine on z = 50 ((x - 2300) / 2000)^2, sheer on "
        "z = 390 + 0.02 (2000 - x) + 40 ((x - 2000) / 2000)^2.",
        Quadric((2300.0, -560.0), (2900.0, 1100.0), generator=(-0.7, 0.25, 1.0)),
        Sheet(2300.0, 0.0, bend=50.0 / 2000.0 ** 2), Sheet(2000.0, 390.0, slope=-0.02, bend=40.0 / 2000.0 ** 2),
        (320.0, 4150.0), (1000.0, 1500.0, 2050.0, 2600.0, 3150.0))


# ------------------------------------------------------------------------ the work
def close(name, a, b, tolerance):
    assert abs(a - b) <= tolerance, f"{name}: {a!r} against {b!r}, differ by {abs(a - b):.3e}"
    return float(abs(a - b))


def bevel(n, d=AHEAD):
    along = float(n @ d)
    return math.atan2(along, float(np.linalg.norm(n - along * d)))


def recess(side, p, n, by):
    """From p along the section's normal inward to the section `by` mm ahead, and the place met."""
    inward = -np.array([0.0, n[1], n[2]]) / math.hypot(n[1], n[2])
    start = p + by * AHEAD
    offset = brentq(lambda t: side.value(start + t * inward), -3.0 * THICKNESS, 3.0 * THICKNESS, xtol=1e-13)
    met = start + offset * inward
    assert abs(side.distance(met)) < ON_SURFACE_MM
    return float(offset), met


def check_point(side, p, n, angle, offset, worst):
    """Against finite differences and along the ruling; greatest differences go to `worst`."""
    h = 0.1
    (x, _, z) = p
    by_x = (side.point(x + h, z)[1] - side.point(x - h, z)[1]) / (2.0 * h)
    by_z = (side.point(x, z + h)[1] - side.point(x, z - h)[1]) / (2.0 * h)
    numeric = np.array([-by_x, 1.0, -by_z]) / math.sqrt(1.0 + by_x ** 2 + by_z ** 2)
    step = 0.01
    ahead, abaft = recess(side, p, n, step)[0] / step, recess(side, p, n, -step)[0] / -step
    r = side.ruling(p)
    along = [p + t * r for t in (-150.0, -40.0, 90.0, 200.0)]
    half, quarter = recess(side, p, n, 0.5 * THICKNESS)[0], recess(side, p, n, 0.25 * THICKNESS)[0]
    carried = 6.0 * half - 8.0 * quarter          # right up to the thickness squared
    for name, a, b, tolerance in (
            ("normal", float(np.linalg.norm(numeric - n)), 0.0, 1e-8),
            ("bevel ahead", math.atan(ahead), angle, 3e-6),
            ("bevel both ways", math.atan(0.5 * (ahead + abaft)), angle, 1e-8),
            ("ruling", max(abs(side.distance(q)) for q in along), 0.0, ON_SURFACE_MM),
            ("normal along the ruling", max(float(np.linalg.norm(side.normal(q) - n)) for q in along), 0.0, 1e-12),
            ("offset", carried, offset, 1e-3)):
        worst[name] = max(worst.get(name, 0.0), close(f"{name} at {p}", a, b, tolerance))


def crown(hull, x):
    low, high = hull.on("chine", x), hull.on("sheer", x)
    e = (high - low) / np.linalg.norm(high - low)
    out = np.array([0.0, e[2], -e[1]])

    def stands(z):
        return float((hull.side.point(x, z) - low) @ out)
    z = np.linspace(low[2], high[2], 801)
    sampled = np.array([stands(v) for v in z])
    k = int(np.abs(sampled).argmax())
    if abs(sampled[k]) < 1e-9:
        return 0.0
    sign = math.copysign(1.0, sampled[k])
    assert np.all(sign * sampled > -1e-9), "on one side of its chord"
    best = minimize_scalar(lambda v: -sign * stands(v), bounds=(z[k - 1], z[k + 1]), method="bounded",
                           options={"xatol": 1e-6})
    close("crown", stands(best.x), sampled[k], 1e-5)
    return stands(best.x)


def station(hull, x, worst):
    low, high = hull.on("chine", x), hull.on("sheer", x)
    far_low, far_high = (hull.on(name, x - THICKNESS)[2] for name in ("chine", "sheer"))
    points = []
    for z in np.linspace(low[2], high[2], SECTION_POINTS):
        p = hull.side.point(x, z)
        n = hull.side.normal(p)
        angle = bevel(n)
        offset, met = recess(hull.side, p, n, THICKNESS)
        check_point(hull.side, p, n, angle, offset, worst)
        points.append({"y": round(p[1], 9), "z": round(p[2], 9), "bevel_deg": round(math.degrees(angle), 9) + 0.0,
                       "offset_mm": round(offset, 9) + 0.0, "beyond": not far_low <= met[2] <= far_high})
    # The bottom: z - f(x) = 0, outward is down.
    slope = hull.sheets["chine"].slope(x)
    bottom = bevel(np.array([slope, 0.0, -1.0]) / math.hypot(slope, 1.0))
    rise = (hull.sheets["chine"](x - 0.01) - hull.sheets["chine"](x + 0.01)) / 0.02
    worst["bottom"] = max(worst.get("bottom", 0.0), close("bottom", math.atan(rise), bottom, 1e-9))
    bottom_offset = hull.sheets["chine"](x - THICKNESS) - low[2]
    return {"station_x_mm": x, "side": points, "bottom_bevel_deg": round(math.degrees(bottom), 9) + 0.0,
            "bottom_offset_mm": round(bottom_offset, 9) + 0.0, "side_crown_mm": round(crown(hull, x), 9) + 0.0}


def check_spline(hull, name, points):
    """How far the cubic spline by chord length through the points leaves surface and sheet."""
    s = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(points, axis=0), axis=1))])
    q = CubicSpline(s, points)(np.linspace(0.0, s[-1], 1001))
    off = max(max(abs(hull.side.distance(p)), abs(p[2] - hull.sheets[name](p[0]))) for p in q)
    assert off < 1e-3, (name, off)
    return off


def exact(hull):
    worst = {}
    lines = {name: hull.line(name) for name in ("chine", "sheer")}
    for name, points in lines.items():
        worst["spline"] = max(worst.get("spline", 0.0), check_spline(hull, name, points))
    ends = np.concatenate(list(lines.values()))[:, 0]
    fore, aft = float(ends.min()), float(ends.max())
    assert 3700.0 < aft - fore < 4300.0
    stations = []
    for x in hull.stations:
        assert 0.2 <= (x - fore) / (aft - fore) <= 0.8, x
        # The rulings that the section crosses run from chine to sheer within the panel.
        chine, sheer = hull.ends["chine"], hull.up_the_ruling(x)
        assert hull.ends["sheer"][0] < sheer - THICKNESS and sheer < hull.ends["sheer"][1]
        down = brentq(lambda c: hull.up_the_ruling(c) - x, *chine, xtol=1e-9)
        assert chine[0] + THICKNESS < down < chine[1] - THICKNESS
        stations.append(station(hull, x, worst))
    print(f"{hull.name:17s} x {fore:.1f} to {aft:.1f}, y {lines['chine'][0, 1]:.0f} to {lines['sheer'][:, 1].max():.0f};"
          " checks " + " ".join(f"{k}={v:.0e}" for k, v in worst.items()))
    for s in stations:
        b, o = ([p[k] for p in s["side"]] for k in ("bevel_deg", "offset_mm"))
        print(f"  x {s['station_x_mm']:6.0f}  bevel {b[0]:8.4f} to {b[-1]:8.4f}  offset {o[0]:8.4f} to {o[-1]:8.4f}"
              f"  bottom {s['bottom_bevel_deg']:7.4f}  crown {s['side_crown_mm']:8.5f}")
    return {"name": hull.name, "definition": hull.definition, "thickness_mm": THICKNESS,
            "lines": [{"name": name, "points": points.tolist()} for name, points in lines.items()],
            "stations": stations}


def write_json(path, data):
    """Indented, but with each innermost list or record on one line."""
    text = json.dumps(data, indent=1)
    text = re.sub(r"([\[{])\s+([^\[\]{}]*?)\s+([\]}])",
                  lambda m: m[1] + re.sub(r"\s*\n\s*", " ", m[2]) + m[3], text)
    assert len(text) < MOST_BYTES, len(text)
    Path(path).write_text(text + "\n")


def main():
    here = Path(__file__).resolve().parent
    parser = argparse.ArgumentParser(description="Cut hull meshes at their frames; write hulls with exact bevels.")
    parser.add_argument("meshes", nargs="+", type=Path, metavar="MESH")
    parser.add_argument("-o", "--output", default=here / "frames.json", type=Path)
    args = parser.parse_args()
    write_json(args.output, {
        "about": "Starboard halves (y, z) of hull meshes cut at their frames, and flat-bottomed hulls with exact "
                 "bevels of frames that lie ahead of their stations; mm, degrees. Written by frames.py.",
        "thickness_mm": THICKNESS,
        "simplify_mm": SIMPLIFY_MM,
        "hulls": [frames_of(path) for path in args.meshes],
        "closed_forms": [exact(hull) for hull in hulls()],
    })
    return 0


if __name__ == "__main__":
    sys.exit(main())
