#!/usr/bin/env python3
"""Cut closed hull meshes athwartships by trimesh.

Independent truth: trimesh slices the triangles of a mesh file, shapely keeps the
starboard half of the outline.  The mesh is what `chinewright mesh FILE -o NAME.obj
--surface moulded` writes (mm; x aft, y to starboard, z up); nothing but its triangles is
used.  Each mesh is cut at 0.25, 0.5 and 0.75 of its length.

A cut's points (y, z) run from the bottom at the centreplane to the sheer; the level lid
that closes the mesh over the sheers is left off.  Points that shapely's simplify can
spare at 0.02 mm are gone, corners stay; "thinned_mm" is how far the thinned line is from
the full one.

Before writing, the script checks that the mesh is watertight, that the outline is one
valid ring, the same to port and starboard, that it agrees with intersections worked out
triangle by triangle in numpy, and that the lid is level.

Run:  python sections.py MESH...  [-o FILE]      (default: sections.json beside this file)
      A mesh's name is its file's, less the ending.
Needs numpy, shapely, trimesh.
"""
import argparse
import json
import re
import sys
from pathlib import Path

import numpy as np
import shapely
import trimesh

SHARES = (0.25, 0.5, 0.75)
SIMPLIFY_MM = 0.02
MOST_POINTS = 60
MOST_BYTES = 60_000
CLOSE_MM = 1e-4           # two ways to the same outline; the file has six decimals
LEVEL_MM = 1e-5           # the lid, from end to end


def by_hand(mesh, x):
    """Points where edges of triangles pierce the plane, with no help from trimesh."""
    out = []
    corners = np.asarray(mesh.vertices)[np.asarray(mesh.faces)]
    for i, j in ((0, 1), (1, 2), (2, 0)):
        a, b = corners[:, i], corners[:, j]
        hit = (a[:, 0] < x) != (b[:, 0] < x)
        t = (x - a[hit, 0]) / (b[hit, 0] - a[hit, 0])
        out.append(a[hit, 1:] + t[:, None] * (b[hit, 1:] - a[hit, 1:]))
    return np.vstack(out)


def ring(mesh, x):
    """The outline (y, z) at x, one closed ring."""
    cut = mesh.section(plane_origin=[x, 0.0, 0.0], plane_normal=[1.0, 0.0, 0.0])
    assert cut is not None, f"nothing at {x}"
    loops = [np.asarray(loop) for loop in cut.discrete]
    assert len(loops) == 1 and np.allclose(loops[0][0], loops[0][-1], atol=1e-6), f"{len(loops)} loops at {x}"
    assert np.abs(loops[0][:, 0] - x).max() < 1e-6
    out = shapely.Polygon(loops[0][:, 1:])
    assert out.is_valid and out.area > 0.0
    return out.exterior


def apart(line, points):
    return float(shapely.distance(line, shapely.points(points)).max())


def starboard(outline):
    """The outline's half with y >= 0 from the bottom at the centreplane to the sheer."""
    _, low, right, high = outline.bounds
    side = shapely.box(0.0, low - 1.0, right + 1.0, high + 1.0)
    half = shapely.line_merge(outline.intersection(side))
    assert half.geom_type == "LineString", half.geom_type
    points = np.array(half.coords)
    assert np.abs(points[[0, -1], 0]).max() < 1e-9, "both ends at the centreplane"
    if points[0, 1] > points[-1, 1]:
        points = points[::-1]
    # The lid: the last run of points at one level.
    last = len(points) - 1
    while abs(points[last - 1, 1] - points[-1, 1]) < LEVEL_MM:
        last -= 1
    assert last < len(points) - 1, "the lid is not level"
    assert points[last, 0] > 1.0
    return shapely.LineString(points[:last + 1])


def cut(mesh, share):
    x0, x1 = mesh.bounds[:, 0]
    x = round(float(x0 + share * (x1 - x0)), 6)
    outline = ring(mesh, x)
    pierced = by_hand(mesh, x)
    off = max(apart(outline, pierced), apart(shapely.MultiPoint(pierced), np.array(outline.coords)))
    mirror = apart(outline, np.array(outline.coords) * [-1.0, 1.0])
    assert off < CLOSE_MM and mirror < CLOSE_MM, (x, off, mirror)
    full = starboard(outline)
    thin = full.simplify(SIMPLIFY_MM, preserve_topology=False)
    points = np.round(np.array(thin.coords), 5) + 0.0
    assert 2 <= len(points) <= MOST_POINTS, len(points)
    thinned = apart(shapely.LineString(points), np.array(full.coords))
    assert thinned <= SIMPLIFY_MM + 1e-5
    print(f"  x {x:9.3f}  points {len(full.coords):3d} -> {len(points):2d}  thinned by {thinned:.4f} mm"
          f"  girth {full.length:9.3f} mm  from {points[0].tolist()} to {points[-1].tolist()}")
    return {"share": share, "x": x, "girth_mm": round(full.length, 4), "thinned_mm": round(thinned, 5),
            "points": points.tolist()}


def write_json(path, data):
    """Indented, but with each innermost list on one line."""
    text = json.dumps(data, indent=1)
    text = re.sub(r"\[\s+([^\[\]{}]*?)\s+\]", lambda m: "[" + re.sub(r"\s*\n\s*", " ", m.group(1)) + "]", text)
    assert len(text) < MOST_BYTES, len(text)
    Path(path).write_text(text + "\n")


def main():
    here = Path(__file__).resolve().parent
    parser = argparse.ArgumentParser(description="Cut hull meshes athwartships with trimesh.")
    parser.add_argument("meshes", nargs="+", type=Path, metavar="MESH")
    parser.add_argument("-o", "--output", default=here / "sections.json", type=Path)
    args = parser.parse_args()
    hulls = []
    for path in args.meshes:
        mesh = trimesh.load(path, process=False, force="mesh")
        assert mesh.is_watertight and mesh.volume > 0.0, f"{path}: not a closed mesh that faces outward"
        print(path.stem)
        hulls.append({"name": path.stem, "length_mm": round(float(np.ptp(mesh.bounds[:, 0])), 6),
                      "cuts": [cut(mesh, share) for share in SHARES]})
    write_json(args.output, {
        "about": "Starboard halves (y, z) of hull meshes cut by trimesh at x; mm. Written by sections.py.",
        "simplify_mm": SIMPLIFY_MM,
        "hulls": hulls,
    })
    return 0


if __name__ == "__main__":
    sys.exit(main())
