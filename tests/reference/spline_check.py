#!/usr/bin/env python3
"""Cubic splines through a few sets of ducks, by scipy.

Independent truth: scipy.interpolate.CubicSpline through 3D points, each coordinate a
C2 cubic in the running chord length (parameter 0 at the first duck, adding the
straight distance from duck to duck), with three kinds of ends:
  not-a-knot   third derivative continuous at the second and last-but-one ducks
               (with three ducks scipy fits the one parabola through them)
  natural      second derivative zero at both ends
  clamped      first derivative given at both ends: a unit vector, in the set's
               "start_tangent" and "end_tangent"
Lengths are integrals of the speed by scipy.integrate.quad, knot interval by interval.

Before writing, the script checks that the not-a-knot curves agree with
scipy.interpolate.make_interp_spline (another algorithm), that ends are as asked, that
joints are C2, and that lengths agree with Gauss-Legendre quadrature.

Signed curvatures: plan (x'y''-y'x'')/(x'^2+y'^2)^1.5, profile (x'z''-z'x'')/(x'^2+z'^2)^1.5,
in 1/mm.  Numbers are mm.

Run:  python spline_check.py [-o FILE]      (default: spline_check.json beside this file)
Needs numpy and scipy.
"""
import argparse
import json
import re
from pathlib import Path

import numpy as np
from scipy.integrate import quad
from scipy.interpolate import CubicSpline, make_interp_spline

PLACES = 20

# Invented shapes.  The tangents are made unit vectors below.
SETS = [
    {"name": "sheer, five ducks", "ducks": [
        [0, 0, 742], [820, 388, 668], [1710, 585, 612], [2740, 602, 588], [3890, 470, 606]],
     "start": [1.0, 0.62, -0.10], "end": [1.0, -0.15, 0.04]},
    {"name": "chine, seven ducks, uneven", "ducks": [
        [60, 0, 430], [310, 118, 345], [905, 312, 214], [1500, 438, 142], [2450, 512, 108], [3300, 478, 131],
        [3850, 421, 168]],
     "start": [1.0, 0.50, -0.40], "end": [1.0, -0.10, 0.08]},
    {"name": "keel, four ducks, on the centreplane", "ducks": [
        [0, 0, 310], [700, 0, 118], [2000, 0, 40], [3800, 0, 92]],
     "start": [1.0, 0.0, -0.35], "end": [1.0, 0.0, 0.05]},
    {"name": "three ducks", "ducks": [[0, 0, 600], [1900, 540, 470], [3700, 410, 520]],
     "start": [1.0, 0.45, -0.12], "end": [1.0, -0.22, 0.06]},
    {"name": "hard bend, nine ducks, close together amidships", "ducks": [
        [0, 0, 900], [240, 260, 700], [700, 470, 520], [1500, 620, 410], [1560, 626, 405], [1640, 631, 399],
        [2600, 610, 380], [3500, 480, 420], [3980, 350, 470]],
     "start": [1.0, 1.3, -1.0], "end": [1.0, -0.30, 0.12]},
]


def digits(value, n=13):
    if isinstance(value, (list, tuple, np.ndarray)):
        return [digits(v, n) for v in value]
    return float(f"{float(value):.{n}g}") + 0.0


def unit(v):
    v = np.array(v, float)
    return v / np.linalg.norm(v)


def length(spline, a, b):
    knots = [a] + [k for k in spline.x if a < k < b] + [b]
    total = error = gauss = 0.0
    x, w = np.polynomial.legendre.leggauss(60)
    for p, q in zip(knots, knots[1:]):
        value, e = quad(lambda s: float(np.linalg.norm(spline(s, 1))), p, q, epsabs=1e-11, epsrel=1e-13, limit=400)
        total, error = total + value, error + e
        s = 0.5 * (p + q) + 0.5 * (q - p) * x
        gauss += 0.5 * (q - p) * float(np.sum(w * np.linalg.norm(spline(s, 1), axis=1)))
    assert error < 1e-9 and abs(total - gauss) < 1e-9, (error, total - gauss)
    return total


def signed(a1, b1, a2, b2):
    return (a1 * b2 - b1 * a2) / (a1 * a1 + b1 * b1) ** 1.5


def curve(ducks, s, ends, start, end):
    if ends == "clamped":
        spline = CubicSpline(s, ducks, bc_type=((1, start), (1, end)))
        assert np.allclose(spline(s[0], 1), start, atol=1e-12) and np.allclose(spline(s[-1], 1), end, atol=1e-12)
    else:
        spline = CubicSpline(s, ducks, bc_type=ends)
    if ends == "natural":
        assert np.abs(spline(s[[0, -1]], 2)).max() < 1e-14
    if ends == "not-a-knot":
        degree = min(3, len(s) - 1)
        other = make_interp_spline(s, ducks, k=degree)
        t = np.linspace(s[0], s[-1], 501)
        assert np.abs(spline(t) - other(t)).max() < 1e-9
        assert np.abs(spline(t, 2) - other.derivative(2)(t)).max() < 1e-11
    for i in range(1, len(s) - 1):
        h = s[i] - s[i - 1]
        c = spline.c[:, i - 1]                      # the piece before the duck, at its end
        assert np.abs(((c[0] * h + c[1]) * h + c[2]) * h + c[3] - ducks[i]).max() < 1e-9
        assert np.abs((3 * c[0] * h + 2 * c[1]) * h + c[2] - spline(s[i], 1)).max() < 1e-12
        assert np.abs(6 * c[0] * h + 2 * c[1] - spline(s[i], 2)).max() < 1e-13
    rows = []
    for t in s[0] + (s[-1] - s[0]) * np.arange(PLACES) / (PLACES - 1):
        t = digits(min(t, s[-1]))
        p, d, dd = spline(t), spline(t, 1), spline(t, 2)
        rows.append({"at": t, "value": digits(p), "first": digits(d, 12), "second": digits(np.round(dd, 17), 12),
                     "plan": digits(np.round(signed(d[0], d[1], dd[0], dd[1]), 17), 12),
                     "profile": digits(np.round(signed(d[0], d[2], dd[0], dd[2]), 17), 12)})
    return {"ends": ends, "length_mm": digits(length(spline, s[0], s[-1])), "rows": rows}


def write_json(path, data):
    """Indented, but with each innermost list on one line."""
    text = json.dumps(data, indent=1)
    text = re.sub(r"\[\s+([^\[\]{}]*?)\s+\]", lambda m: "[" + re.sub(r"\s*\n\s*", " ", m.group(1)) + "]", text)
    Path(path).write_text(text + "\n")


def main():
    here = Path(__file__).resolve().parent
    parser = argparse.ArgumentParser(description="Write values of cubic splines through sets of ducks.")
    parser.add_argument("-o", "--output", default=here / "spline_check.json", type=Path)
    args = parser.parse_args()
    sets = []
    for item in SETS:
        ducks = np.array(item["ducks"], float)
        s = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(ducks, axis=0), axis=1))])
        start, end = unit(item["start"]), unit(item["end"])
        curves = [curve(ducks, s, ends, start, end) for ends in ("not-a-knot", "natural", "clamped")]
        sets.append({"name": item["name"], "ducks": digits(ducks), "parameters": digits(s, 15),
                     "start_tangent": digits(start, 15), "end_tangent": digits(end, 15), "curves": curves})
        print(f"{item['name']:50s}", "  ".join(f"{c['ends']} {c['length_mm']:.6f}" for c in curves))
    write_json(args.output, {
        "about": "Cubic splines by chord length through sets of ducks; mm. Written by spline_check.py.",
        "sets": sets,
    })


if __name__ == "__main__":
    main()
