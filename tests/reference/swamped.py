#!/usr/bin/env python3
"""How a swamped box floats: an open shell of wood with blocks of foam under its rim.

Independent truth: exact rational arithmetic.  Shell and foam are sums of boxes (the outer
box less the inner one, which is open above, and two blocks), so between the levels where a
box begins or ends the displaced volume is a straight line of the water's height and its
moments are polynomials: the height is solved for in Fractions and rounded only when written.

Water stands as high inside as out, so only wood and foam displace; the load is dead weight
that displaces nothing.  x aft, y to starboard, z up from the underside of the bottom; mm,
kg.  Upright and level: all is the same to port and starboard and about mid-length.

  mass_kg          shell, foam and load
  floats           whether the solids, all under, displace more than that
  height_mm        of the water
  waterplane_mm2   of the solids' cut
  kb_mm, kg_mm     centroid of the displaced solids; centre of mass
  gm_mm            kb + (second moment of the cut about its fore and aft axis) / volume - kg

"awash": what of shell and foam is under level water at a height, and the litres of foam that the
shell wants to carry a load so deep: (shell's mass + load - what it displaces) / (1 - 0.032), wood
above the water lifting nothing.  "aside": the heel at which it rests with half of a load at one
side, by trimesh (two nested brentq), and checked by the lever's change of sign.

Where it sinks, height_mm, gm_mm, kb_mm and waterplane_mm2 are null.  "loads" put the water
under the blocks and just into them; "heavier" high in them, above them, and over the rim.

Before writing, the script checks, and stops on a failure:
  - trimesh: the same solids as seven boards and blocks that only touch, each cut by the plane
    of water and closed by the hull of its corners; the height that brentq finds for their
    volume, and their centroid;
  - heeled by a twentieth of a degree to either side at the same displacement, they right
    themselves with the lever gm sin(heel);
  - shapely's union of the boards and blocks that the water cuts gives the cut's area and
    inertia.

Run:  python swamped.py [-o FILE]      (default: swamped.json beside this file)
Needs numpy, scipy, shapely, trimesh.
"""
import argparse
import json
import math
import re
from fractions import Fraction as F
from pathlib import Path

import numpy as np
import shapely
import trimesh
from scipy.optimize import brentq

LENGTH, BREADTH, DEPTH, PLANK = 3000, 1200, 450, 20
WOOD, FOAM, WATER = F(500, 10 ** 9), F(32, 10 ** 9), F(1000, 10 ** 9)     # kg/mm^3
FOAM_X, FOAM_Y, FOAM_Z = (300, 2700), (480, 580), (280, 430)
LOADS = (0, 20, 40, 60)
HEAVIER = (120, 140, 150)
LOAD_Z = 200
AWASH, AWASH_LOAD = (430, 350, 440), 90
ASIDE_LOADS, ASIDE_Y = (20, 40), 500
HEEL_DEG = 0.05
DIGITS = 12

INNER_X, INNER_Y = (PLANK, LENGTH - PLANK), BREADTH // 2 - PLANK


class Slab:
    """A box, or one to starboard and its image to port; with a sign."""

    def __init__(self, x, y, z, density, sign=1):
        self.x, self.y, self.z, self.density, self.sign = x, y, z, density, sign
        self.sides = 1 if y[0] < 0 else 2
        self.area = F(sign * self.sides * (x[1] - x[0]) * (y[1] - y[0]))
        self.inertia = F(sign * self.sides * (x[1] - x[0]) * (y[1] ** 3 - y[0] ** 3), 3)

    def holds(self, height):
        return self.z[0] < height < self.z[1]

    def under(self, height):
        """Volume and its moment about z = 0."""
        top = min(max(height, self.z[0]), self.z[1])
        return self.area * (top - self.z[0]), self.area * (top ** 2 - self.z[0] ** 2) / 2


SLABS = (
    Slab((0, LENGTH), (-BREADTH // 2, BREADTH // 2), (0, DEPTH), WOOD),
    Slab(INNER_X, (-INNER_Y, INNER_Y), (PLANK, DEPTH), WOOD, -1),
    Slab(FOAM_X, FOAM_Y, FOAM_Z, FOAM),
)


def exact(load):
    """The record, in Fractions."""
    whole = [s.under(F(s.z[1])) for s in SLABS]
    mass = load + sum(s.density * v for s, (v, _) in zip(SLABS, whole))
    kg = (load * LOAD_Z + sum(s.density * m for s, (_, m) in zip(SLABS, whole))) / mass
    need = mass / WATER
    out = {"load_kg": load, "mass_kg": mass, "floats": need < sum(v for v, _ in whole), "height_mm": None,
           "gm_mm": None, "kb_mm": None, "kg_mm": kg, "waterplane_mm2": None}
    if not out["floats"]:
        return out
    levels = sorted({F(z) for s in SLABS for z in s.z})
    for low, high in zip(levels, levels[1:]):
        below, above = (sum(s.under(z)[0] for s in SLABS) for z in (low, high))
        if below <= need < above:
            break
    height = low + (need - below) / (above - below) * (high - low)
    assert height not in levels, "the cut changes just at the water"
    cut = [s for s in SLABS if s.holds(height)]
    area, inertia = sum(s.area for s in cut), sum(s.inertia for s in cut)
    volume, moment = (sum(part) for part in zip(*(s.under(height) for s in SLABS)))
    assert volume == need
    kb = moment / volume
    return out | {"height_mm": height, "gm_mm": kb + inertia / volume - kg, "kb_mm": kb, "waterplane_mm2": area}


# ------------------------------------------------------------------------ by other means
def boards():
    """Disjoint boxes: bottom, two long sides, two ends between them, two blocks."""
    half = BREADTH / 2.0
    spans = [((0, LENGTH), (-half, half), (0, PLANK))]
    for s in (-1, 1):
        spans.append(((0, LENGTH), sorted((s * half, s * (half - PLANK))), (PLANK, DEPTH)))
        spans.append((FOAM_X, sorted(s * y for y in FOAM_Y), FOAM_Z))
    for x in ((0, PLANK), (LENGTH - PLANK, LENGTH)):
        spans.append((x, (-half + PLANK, half - PLANK), (PLANK, DEPTH)))
    return [trimesh.creation.box(bounds=np.array(s, dtype=float).T) for s in spans]


def displaced(solids, height, heel=0.0):
    """Volume and centroid under the plane through (0, 0, height); heel in radians, to port."""
    n = np.array([0.0, math.sin(heel), math.cos(heel)])
    volume, moment = 0.0, np.zeros(3)
    for box in solids:
        d = box.vertices @ n - height * n[2]
        if d.min() >= 0.0:
            continue
        part = box if d.max() <= 0.0 else box.slice_plane(plane_origin=[0.0, 0.0, height], plane_normal=-n).convex_hull
        volume += part.volume
        moment += part.volume * part.center_mass
    return volume, moment / volume if volume else moment


def check(record):
    solids = boards()
    volume = float(record["mass_kg"] / WATER)
    whole = sum(box.volume for box in solids)
    assert (whole > volume) == record["floats"]
    if not record["floats"]:
        return

    def height_at(heel):
        return brentq(lambda h: displaced(solids, h, heel)[0] - volume, 1.0, DEPTH + 10.0, xtol=1e-9)
    height = height_at(0.0)
    centroid = displaced(solids, height)[1]
    assert abs(height - record["height_mm"]) < 1e-5, (height, float(record["height_mm"]))
    assert np.abs(centroid - [LENGTH / 2.0, 0.0, float(record["kb_mm"])]).max() < 1e-5, centroid
    heel = math.radians(HEEL_DEG)
    for h in (heel, -heel):
        # Lever along the water between the weight's line and the buoyancy's.
        abeam = np.array([0.0, math.cos(h), -math.sin(h)])
        arm = -float((displaced(solids, height_at(h), h)[1] - [0.0, 0.0, float(record["kg_mm"])]) @ abeam)
        assert abs(arm / math.sin(h) / record["gm_mm"] - 1.0) < 1e-4, (arm / math.sin(h), float(record["gm_mm"]))
    spans = [box.bounds for box in solids if box.bounds[0, 2] < height < box.bounds[1, 2]]
    cut = shapely.union_all([shapely.box(*b[0, :2], *b[1, :2]) for b in spans])
    assert abs(cut.area / record["waterplane_mm2"] - 1.0) < 1e-12
    rings = [np.array(r.coords) for p in shapely.get_parts(cut)
             for r in (shapely.geometry.polygon.orient(p).exterior, *shapely.geometry.polygon.orient(p).interiors)]
    inertia = 0.0
    for p in rings:                                # Green's theorem
        (x, y), (u, v) = p[:-1].T, p[1:].T
        inertia += float(np.sum((x * v - u * y) * (y * y + y * v + v * v))) / 12.0
    bm = float(record["gm_mm"] + record["kg_mm"] - record["kb_mm"])
    assert abs(inertia / volume / bm - 1.0) < 1e-12


def awash(level):
    shell, foam = SLABS[:2], SLABS[2]
    under = sum(s.under(F(level))[0] for s in shell)
    mass = sum(s.density * s.under(F(s.z[1]))[0] for s in shell)
    litres = (mass + AWASH_LOAD - under * WATER) / (WATER - FOAM) / 10 ** 6
    record = {"level_mm": F(level), "shell_mm3": under, "foam_mm3": foam.under(F(level))[0], "litres": max(litres, F(0))}
    solids = boards()
    assert abs(displaced(solids, float(level))[0] / float(record["shell_mm3"] + record["foam_mm3"]) - 1.0) < 1e-9
    return written(record)


def aside(load):
    """The heel with half the load at ASIDE_Y, the rest in the middle."""
    solids, record = boards(), exact(load)
    mass, volume = float(record["mass_kg"]), float(record["mass_kg"] / WATER)
    centre = np.array([LENGTH / 2.0, 0.5 * load * ASIDE_Y / mass, float(record["kg_mm"])])

    def lever(heel):
        height = brentq(lambda h: displaced(solids, h, -heel)[0] - volume, -400.0, DEPTH + 400.0, xtol=1e-10)
        along = np.array([0.0, math.cos(heel), math.sin(heel)])
        return float((displaced(solids, height, -heel)[1] - centre) @ along)
    heel = brentq(lever, 0.0, math.radians(40.0), xtol=1e-13)
    assert lever(heel - 1e-4) < 0.0 < lever(heel + 1e-4), "no stable rest"
    return {"load_kg": load, "heel_deg": float(f"{math.degrees(heel):.9g}")}


# ------------------------------------------------------------------------ the work
def written(record):
    return {k: v if v is None or isinstance(v, bool) else float(f"{float(v):.{DIGITS}g}") for k, v in record.items()}


def write_json(path, data):
    """Indented, but with each innermost list or record on one line."""
    text = json.dumps(data, indent=1)
    text = re.sub(r"([\[{])\s+([^\[\]{}]*?)\s+([\]}])",
                  lambda m: m[1] + re.sub(r"\s*\n\s*", " ", m[2]) + m[3], text)
    Path(path).write_text(text + "\n")


def main():
    here = Path(__file__).resolve().parent
    parser = argparse.ArgumentParser(description="Write how a swamped box with foam floats.")
    parser.add_argument("-o", "--output", default=here / "swamped.json", type=Path)
    args = parser.parse_args()
    records = {}
    for name, loads in (("loads", LOADS), ("heavier", HEAVIER)):
        records[name] = []
        for load in loads:
            record = exact(load)
            check(record)
            records[name].append(written(record))
            print("  ".join(f"{k} {v:.4f}" if isinstance(v, float) else f"{k} {v}" for k, v in records[name][-1].items()))
    records["awash"] = [awash(level) for level in AWASH]
    records["aside"] = [aside(load) for load in ASIDE_LOADS]
    for record in records["awash"] + records["aside"]:
        print("  ".join(f"{k} {v:.6f}" for k, v in record.items()))
    write_json(args.output, {
        "about": "A swamped open box of wood with two blocks of foam, in fresh water, upright: only the solids "
                 "displace. mm, kg; z from the underside of the bottom. Written by swamped.py.",
        "outside_mm": [LENGTH, BREADTH, DEPTH], "plank_mm": PLANK,
        "foam": {"x_mm": FOAM_X, "y_mm": FOAM_Y, "z_mm": FOAM_Z, "sides": 2},
        "density_kg_m3": {k: float(v * 10 ** 9) for k, v in (("wood", WOOD), ("foam", FOAM), ("water", WATER))},
        "load_at_mm": [LENGTH // 2, 0, LOAD_Z], "awash_load_kg": AWASH_LOAD, "aside_y_mm": ASIDE_Y,
        **records})
    print("all self-checks passed")


if __name__ == "__main__":
    main()
