#!/usr/bin/env python3
"""Projective maps of the plane through four pairs of corners.

Independent truth: the normalised direct linear transformation, Hartley and Zisserman,
Multiple View Geometry in Computer Vision, 2nd ed., algorithm 4.2: both sets of corners
are moved to their centroid and scaled to a mean distance of sqrt(2), the 8 x 9 system of
Eq. 4.3 is solved by numpy's SVD (the last right singular vector), and the scaling is
taken back.

Twelve pairs of convex quadrilaterals, seeded: ten keystones as a pinhole projector makes
them, from the sheet (mm) to the picture (pixels, y up) and three of them the way back,
with corners off by up to a millimetre or a pixel as if set by hand; one affine map; one
strong slant.  All corners run counter-clockwise.  Coordinates are rounded before use.

Before writing, the script checks every pair:
  - both quadrilaterals are convex, counter-clockwise, and every probe is inside `from`;
  - no corner, no probe and not the origin of `from` lies on or beyond the horizon;
  - corners go to corners, and every image is inside `to`;
  - the images agree with those of another method in exact rational arithmetic: the map
    of the projective frames, adjugates of 3 x 3 matrices (Semple and Kneebone, Algebraic
    Projective Geometry, on the fundamental theorem);
  - the affine pair has no perspective, the strong one much, the others some.

Run:  python homography.py [-o FILE]      (default: homography.json beside this file)
Needs numpy.
"""
import argparse
import json
import math
import re
from fractions import Fraction
from pathlib import Path

import numpy as np

SEED = 20_412
PROBES = 6
CLOSE = 1e-9              # of the picture's size: DLT against exact arithmetic
PICTURE = (1920.0, 1080.0)
# Sheets and rectangles that somebody measures out on a floor, mm.
SHEETS = [(2440, 1220), (1800, 1000), (1200, 900), (2400, 1200), (1000, 600), (2000, 1100), (1525, 1525),
          (2440, 1220), (1600, 900), (1200, 800)]
BACK = {7, 8, 9}          # keystones that run from the picture to the sheet


# ---- the map ------------------------------------------------------------------------

def similarity(points):
    """The normalising similarity of algorithm 4.2, step (i)."""
    centre = points.mean(axis=0)
    s = math.sqrt(2.0) / np.linalg.norm(points - centre, axis=1).mean()
    return np.array([[s, 0.0, -s * centre[0]], [0.0, s, -s * centre[1]], [0.0, 0.0, 1.0]])


def homogeneous(points):
    return np.column_stack([points, np.ones(len(points))])


def dlt(source, target):
    """H with target ~ H source, algorithm 4.2; scaled so that it is positive at the corners."""
    t, u = similarity(source), similarity(target)
    a = []
    for x, y in zip(homogeneous(source) @ t.T, homogeneous(target) @ u.T):
        zero = np.zeros(3)
        a.append(np.concatenate([zero, -y[2] * x, y[1] * x]))
        a.append(np.concatenate([y[2] * x, zero, -y[0] * x]))
    _, singular, v = np.linalg.svd(np.array(a))
    assert singular[-1] > 1e-4 * singular[0], singular        # eight equations, one answer
    h = np.linalg.inv(u) @ v[-1].reshape(3, 3) @ t
    h /= np.linalg.norm(h)
    return h if (h @ [*source[0], 1.0])[2] > 0.0 else -h


def apply(h, points):
    p = homogeneous(points) @ h.T
    return p[:, :2] / p[:, 2:]


# ---- the same, exactly --------------------------------------------------------------

def cross(a, b):
    return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]


def dot(a, b):
    return sum(x * y for x, y in zip(a, b))


def exact(value):
    """The decimal number that will stand in the file."""
    return Fraction(repr(float(value)))


def exact_images(source, target, probes):
    """By way of the frame (e1, e2, e3, e1 + e2 + e3): H = M(target) M(source)^-1."""
    def frame(quad):
        p = [[exact(x), exact(y), Fraction(1)] for x, y in quad]
        weights = [dot(cross(p[1], p[2]), p[3]), dot(cross(p[2], p[0]), p[3]), dot(cross(p[0], p[1]), p[3])]
        return [[w * c for c in q] for w, q in zip(weights, p)]       # columns
    a, b = frame(source), frame(target)
    rows = [cross(a[1], a[2]), cross(a[2], a[0]), cross(a[0], a[1])]  # of M(source)^-1, but for a factor
    out = []
    for x, y in probes:
        c = [dot(r, [exact(x), exact(y), Fraction(1)]) for r in rows]
        v = [sum(c[k] * b[k][i] for k in range(3)) for i in range(3)]
        out.append([float(v[0] / v[2]), float(v[1] / v[2])])
    return np.array(out)


# ---- the pairs ----------------------------------------------------------------------

def turn(axis, angle):
    c, s = math.cos(angle), math.sin(angle)
    i, j = [(1, 2), (2, 0), (0, 1)][axis]
    m = np.eye(3)
    m[i, i], m[i, j], m[j, i], m[j, j] = c, -s, s, c
    return m


def rectangle(w, h):
    return np.array([[0.0, 0.0], [w, 0.0], [w, h], [0.0, h]])


def keystone(rng, sheet):
    """Corners of a sheet in the picture of a pinhole that looks at it askew, scaled to fit."""
    w, h = sheet
    pitch, yaw, roll = (math.radians(rng.uniform(-m, m)) for m in (32.0, 24.0, 5.0))
    pose = turn(2, roll) @ turn(1, yaw) @ turn(0, pitch)
    distance = rng.uniform(1.1, 1.9) * w
    flat = np.column_stack([rectangle(w, h) - [w / 2, h / 2], np.zeros(4)]) @ pose.T
    seen = flat[:, :2] / (distance - flat[:, 2:])
    low, high = seen.min(axis=0), seen.max(axis=0)
    scale = rng.uniform(0.80, 0.95) * min(PICTURE / (high - low))
    return (seen - (low + high) / 2) * scale + np.array(PICTURE) / 2 + rng.uniform(-25.0, 25.0, 2)


def probes(rng, quad):
    """One in each corner's share of the quadrilateral, and two anywhere."""
    near = [(0.1, 0.1), (0.9, 0.1), (0.9, 0.9), (0.1, 0.9), (0.5, 0.5), (0.5, 0.5)]
    reach = [0.08] * 4 + [0.45] * 2
    out = []
    for (u, v), r in zip(near, reach):
        u, v = u + rng.uniform(-r, r), v + rng.uniform(-r, r)
        out.append((1 - u) * (1 - v) * quad[0] + u * (1 - v) * quad[1] + u * v * quad[2] + (1 - u) * v * quad[3])
    return np.round(out, 2) + 0.0


def pairs():
    rng = np.random.default_rng(SEED)
    for k, sheet in enumerate(SHEETS):
        picture = np.round(keystone(rng, sheet) + rng.uniform(-1.0, 1.0, (4, 2)), 2)
        floor = rectangle(*sheet)
        if k in BACK:
            floor = np.round(floor + rng.uniform(-1.0, 1.0, (4, 2)), 2)
            yield f"keystone {k + 1}, picture to sheet", picture, floor, probes(rng, picture)
        else:
            yield f"keystone {k + 1}, sheet to picture", floor, picture, probes(rng, floor)
    # A parallelogram onto a parallelogram, exact in the digits written.
    source = np.array([[100.0, 50.0], [1900.0, 250.0], [2150.0, 1250.0], [350.0, 1050.0]])
    target = np.array([[212.5, 96.25], [1640.5, 40.75], [1702.25, 901.5], [274.25, 957.0]])
    yield "affine", source, target, probes(rng, source)
    # A projector nearly along the floor.
    source = rectangle(2440.0, 1220.0)
    target = np.array([[40.0, 25.0], [1880.0, 60.0], [1105.0, 985.0], [890.0, 1010.0]])
    yield "strong", source, target, probes(rng, source)


def sides(quad, points):
    """For each point its distance times side length from each side, positive inside."""
    a, b = quad, np.roll(quad, -1, axis=0)
    d = b - a
    return np.array([d[:, 0] * (p[1] - a[:, 1]) - d[:, 1] * (p[0] - a[:, 0]) for p in points])


def check(name, source, target, h, points, images):
    for quad in (source, target):
        size = np.linalg.norm(quad[2] - quad[0]) * np.linalg.norm(quad[3] - quad[1])
        after = np.roll(quad, -2, axis=0)
        turns = np.array([sides(quad, [q])[0][k] for k, q in enumerate(after)])
        assert np.all(turns > 1e-3 * size), (name, turns / size)
    assert np.all(sides(source, points) > 0.0) and np.all(sides(target, images) > 0.0), name
    size = np.abs(target).max()
    corners = np.abs(apply(h, source) - target).max()
    other = np.abs(images - exact_images(source, target, points)).max()
    assert corners < CLOSE * size and other < CLOSE * size, (name, corners, other)
    depth = homogeneous(np.vstack([source, points, [[0.0, 0.0]]])) @ h[2]
    assert np.all(depth > 0.0), (name, depth)
    ratio = depth[:4].max() / depth[:4].min()
    low, high = {"affine": (1.0, 1.0 + 1e-9), "strong": (5.0, 20.0)}.get(name, (1.02, 3.0))
    assert low <= ratio <= high, (name, ratio)
    print(f"{name:30s} depth of corners 1 : {ratio:.3f}   corners {corners:.1e}   exact {other:.1e}")


def digits(value, n=13):
    if isinstance(value, (list, tuple, np.ndarray)):
        return [digits(v, n) for v in value]
    return float(f"{float(value):.{n}g}") + 0.0


def write_json(path, data):
    """Indented, but with each innermost list on one line."""
    text = json.dumps(data, indent=1)
    text = re.sub(r"\[\s+([^\[\]{}]*?)\s+\]", lambda m: "[" + re.sub(r"\s*\n\s*", " ", m.group(1)) + "]", text)
    Path(path).write_text(text + "\n")


def main():
    here = Path(__file__).resolve().parent
    parser = argparse.ArgumentParser(description="Write projective maps through four pairs of corners.")
    parser.add_argument("-o", "--output", default=here / "homography.json", type=Path)
    args = parser.parse_args()
    out = []
    for name, source, target, points in pairs():
        h = dlt(source, target)
        images = apply(h, points)
        assert len(points) == PROBES
        check(name, source, target, h, points, images)
        out.append({"name": name, "from": digits(source), "to": digits(target),
                    "probes": digits(points), "images": digits(images)})
    assert len(out) == 12
    write_json(args.output, {
        "about": "Projective maps through four pairs of corners, counter-clockwise. Written by homography.py.",
        "pairs": out,
    })


if __name__ == "__main__":
    main()
