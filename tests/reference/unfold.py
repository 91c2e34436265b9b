#!/usr/bin/env python3
"""A patch of a cone, opened part of the way to the flat.

What is meant by opening a strip of plane facets by a share s: every facet keeps its
shape, and every fold between two facets keeps (1 - s) of its angle.

Independent truth: that sentence, carried out bodily.  For each inner ruling, bow to
stern, everything abaft it is turned about the line of that ruling, where it now lies, by
-s times the fold measured on the input; the turning is Rodrigues' matrix on 3D points.
No facet is ever built from a frame or from lengths.

The patch: a right circular cone, half-angle 20 degrees, slant 400 to 900 mm, 0.8 rad
about its axis, 120 equal strips, set down askew.  Equal strips of a cone are plane (both
chords are square to the middle of the strip).

Before writing, the script checks each shape against
  - every length within a facet (rulings, chords, both diagonals) and every fold;
  - a closed form.  Equal facets with equal folds about one apex still lie in a cone: by
    Napier's rules in the right triangle (axis, ruling, middle of the facet), with facet
    angle t and fold b, the step w about the axis and the half-angle r are
    cos(w/2) = cos(t/2) cos(b/2),  sin r = sin(t/2) / sin(w/2)
    (Todhunter, Spherical Trigonometry, on right-angled triangles);
  - and at s = 1 that all lies in one plane.

Frozen: the input's ruling ends, ten chosen ends, their distances from one another for each
share, and the signed volume of the tetrahedron of the first four of them, which tells a
shape from its mirror image.  Both are the same wherever the shape lies.

Run:  python unfold.py [-o FILE]      (default: unfold.json beside this file)
Needs numpy.
"""
import argparse
import json
import math
import re
from pathlib import Path

import numpy as np

HALF_ANGLE = math.radians(20.0)
SLANTS = (400.0, 900.0)
SWEEP = 0.8               # rad, about the cone's axis
STRIPS = 120
SHARES = (0.25, 0.5, 0.75)
# (ruling, end): end 0 is the lower (slant 400), 1 the upper (slant 900).
ENDS = [(0, 0), (120, 0), (120, 1), (47, 1), (0, 1), (13, 0), (31, 1), (60, 0), (88, 1), (103, 0)]
CLOSE_MM = 1e-7


def rodrigues(axis, angle):
    """Matrix that turns by `angle` about the unit vector `axis`, right-handed."""
    x, y, z = axis
    k = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    return np.eye(3) + math.sin(angle) * k + (1.0 - math.cos(angle)) * (k @ k)


def patch():
    """Ends [ruling, end, xyz], bow to stern, with (upper - lower) x (next lower - lower) outward."""
    azimuth = np.linspace(0.5 * SWEEP, -0.5 * SWEEP, STRIPS + 1)      # clockwise from above: x grows
    radial = np.column_stack([-np.sin(azimuth), np.cos(azimuth), np.zeros_like(azimuth)])
    ruling = math.sin(HALF_ANGLE) * radial + [0.0, 0.0, math.cos(HALF_ANGLE)]
    ends = np.stack([slant * ruling for slant in SLANTS], axis=1)
    place = rodrigues(np.array([2.0, -1.0, 2.0]) / 3.0, 0.4)
    apex, axis = np.array([1500.0, 250.0, -180.0]), place @ [0.0, 0.0, 1.0]
    ends = np.round(ends @ place.T + apex, 10) + 0.0
    for (lower, upper), (after, _) in zip(ends, ends[1:]):
        out = np.cross(upper - lower, after - lower)
        away = (lower - apex) - ((lower - apex) @ axis) * axis
        assert out @ away > 0.0 and after[0] > lower[0]
    return ends


def normals(ends):
    """Of each strip, outward: its two diagonals crossed."""
    n = np.cross(ends[:-1, 1] - ends[1:, 0], ends[1:, 1] - ends[:-1, 0])
    n = n / np.linalg.norm(n, axis=1)[:, None]
    assert np.all(np.einsum("ij,ij->i", n, np.cross(ends[:-1, 1] - ends[:-1, 0], ends[1:, 0] - ends[:-1, 0])) > 0.0)
    return n


def folds(ends):
    """Signed angle about each inner ruling, lower to upper, from the strip before it to the one after."""
    n = normals(ends)
    e = ends[1:-1, 1] - ends[1:-1, 0]
    e = e / np.linalg.norm(e, axis=1)[:, None]
    sine = np.einsum("ij,ij->i", np.cross(n[:-1], n[1:]), e)
    return np.arctan2(sine, np.einsum("ij,ij->i", n[:-1], n[1:]))


def opened(ends, share):
    out = ends.copy()
    for k, fold in enumerate(folds(ends), start=1):
        lower, upper = out[k]
        about = rodrigues((upper - lower) / np.linalg.norm(upper - lower), -share * fold)
        out[k + 1:] = lower + (out[k + 1:] - lower) @ about.T
    return out


def distances(points):
    return np.linalg.norm(points[:, None] - points[None, :], axis=2)


def volume(a, b, c, d):
    return float((b - a) @ np.cross(c - a, d - a) / 6.0)


def facet_lengths(ends):
    a, b, c, d = ends[:-1, 0], ends[:-1, 1], ends[1:, 0], ends[1:, 1]
    return np.linalg.norm(np.stack([b - a, d - c, c - a, d - b, c - b, d - a]), axis=2)


def closed_form(share):
    """Distances of the chosen ends, from spherical trigonometry alone."""
    def step(facet, fold):
        w = 2.0 * math.acos(math.cos(facet / 2) * math.cos(fold / 2))
        return w, math.sin(facet / 2) / math.sin(w / 2)               # and the sine of the half-angle
    w0 = SWEEP / STRIPS
    facet = 2.0 * math.asin(math.sin(HALF_ANGLE) * math.sin(w0 / 2))
    fold = 2.0 * math.acos(min(1.0, math.cos(w0 / 2) / math.cos(facet / 2)))
    assert abs(step(facet, fold)[0] - w0) < 1e-12 and abs(step(facet, fold)[1] - math.sin(HALF_ANGLE)) < 1e-9
    w, sine = step(facet, (1.0 - share) * fold)
    out = np.zeros((len(ENDS), len(ENDS)))
    for i, (k, p) in enumerate(ENDS):
        for j, (m, q) in enumerate(ENDS):
            # Half-angle formula: exact also for small angles between the rulings.
            half = sine * math.sin(0.5 * w * (m - k))
            r, s = SLANTS[p], SLANTS[q]
            out[i, j] = math.sqrt((r - s) ** 2 + 4.0 * r * s * half * half)
    return out


def chosen(ends):
    return np.array([ends[k, end] for k, end in ENDS])


def check(ends, share):
    out = opened(ends, share)
    lengths = np.abs(facet_lengths(out) - facet_lengths(ends)).max()
    kept = np.abs(folds(out) - (1.0 - share) * folds(ends)).max()
    off = np.abs(distances(chosen(out)) - closed_form(share)).max()
    assert lengths < CLOSE_MM and kept < 1e-9 and off < CLOSE_MM, (share, lengths, kept, off)
    points = out.reshape(-1, 3)
    flat = np.linalg.svd(points - points.mean(axis=0), compute_uv=False)[-1] / math.sqrt(len(points))
    if share == 0.0:
        assert np.abs(out - ends).max() < CLOSE_MM
    assert (flat < CLOSE_MM) == (share == 1.0), (share, flat)
    v = volume(*chosen(out)[:4])
    print(f"share {share:4.2f}   lengths {lengths:.1e} mm   folds {kept:.1e}   closed form {off:.1e} mm"
          f"   out of plane {flat:8.4f} mm   volume {v:14.3f} mm3")
    return out, v


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
    parser = argparse.ArgumentParser(description="Write a cone's patch opened part of the way to the flat.")
    parser.add_argument("-o", "--output", default=here / "unfold.json", type=Path)
    args = parser.parse_args()
    ends = patch()
    shapes = {share: check(ends, share) for share in (0.0, *SHARES, 1.0)}
    volumes = [v for _, v in shapes.values()]
    assert all(a * b > 0.0 and abs(b) < abs(a) for a, b in zip(volumes[:-1], volumes[1:-1])), volumes
    write_json(args.output, {
        "about": "A cone's patch opened by shares of its folds; mm. Written by unfold.py.",
        "half_angle_deg": 20.0,
        "slants_mm": SLANTS,
        "sweep_rad": SWEEP,
        "strips": STRIPS,
        "rulings": [[[float(c) for c in p] for p in r] for r in ends],
        "ends": ENDS,
        "opened": [{"share": s, "volume_mm3": digits(shapes[s][1], 10),
                    "distances": digits(distances(chosen(shapes[s][0])))} for s in SHARES],
    })


if __name__ == "__main__":
    main()
