#!/usr/bin/env python3
"""What planes of water find of closed hull meshes: volume, waterplane, wetted area.

Independent truth: trimesh cuts the triangles of a mesh file by the plane, shapely makes the
polygon of the cut and closes the part below by triangulating it; trimesh then integrates
the closed body.  The mesh is what `chinewright mesh FILE -o NAME.obj --surface outside`
writes (mm; x aft, y to starboard, z up; both sides and a lid across the sheers); nothing
but its triangles is used.

A plane of water is n . p = offset_mm with the unit normal upward, in the hull's axes,
  n = (-sin t, cos t sin h, cos t cos h)      t trim, h heel
Under water is n . p < offset_mm.  So a positive trim has the AFTER END deeper, and a
positive heel has the PORT side (y < 0) deeper, starboard raised; the script checks both.
"normal" gives n to fifteen places, for readers who count heel the other way.

Axes in the plane: aft = unit(x - (x . n) n), abeam = n x aft (to starboard).

  volume_mm3, centroid    of the body under water
  waterplane_mm2          area of the cut polygon
  flotation               its centroid, in space
  inertia_mm4             its second moments about that centroid: about the axis that runs
                          fore and aft (the integral of abeam^2), about the one athwartships
                          (of aft^2), and the integral of aft * abeam; where that vanishes by
                          symmetry it stands as 0, so compare it by the other two's size
  wetted_mm2              area under water of the skin: neither the cut nor the lid counted
  lid_mm2                 area under water of the lid; 0 unless the sheer is under.  All
                          triangles under water make wetted_mm2 + lid_mm2

Planes are chosen by the share of the closed mesh that they put under; the offset is then
rounded to 0.01 mm, and "share" is what that gives.  A hull's volume_mm3 and area_mm2 (lid
included) are of its whole mesh: they tell whether a reader has the same hull.

Before writing, the script checks, and stops on a failure:
  - the mesh is watertight, faces outward and is the same to port and starboard; no corner
    lies on a plane of water; the body under water is watertight once capped;
  - volume and centroid agree with Simpson's rule over slices athwartships, which numpy cuts
    and shapely clips by the water: trimesh has no part in them;
  - the waterplane is the finite difference of the volume over the offset, and its moments
    are those of the volume's first moments over small turns about the flotation, which
    leave the volume alone;
  - wetted areas agree with shares of triangles worked out from their corners' depths;
  - rolling to the other side mirrors the findings.

Run:  python afloat.py MESH...  [-o FILE]      (default: afloat.json beside this file)
      A mesh's name is its file's, less the ending.
Needs numpy, scipy, shapely, trimesh.
"""
import argparse
import json
import math
import sys
from pathlib import Path

import numpy as np
import shapely
import trimesh
from scipy.integrate import simpson
from scipy.optimize import brentq
from scipy.spatial import cKDTree

# Trim and heel (degrees), share of the closed mesh under water.
PLANES = (
    (0.0, 0.0, 0.07), (0.0, 0.0, 0.22), (0.0, 0.0, 0.50),
    (2.5, 0.0, 0.25), (-4.0, 0.0, 0.40),
    (0.0, 8.0, 0.12), (0.0, -17.0, 0.30), (0.0, 25.0, 0.18),
    (3.0, 12.0, 0.30), (-2.0, -22.0, 0.20), (-3.5, 25.0, 0.66),
)
DIGITS = 7
SLICES = 800
CLEAR_MM = 1e-4           # from any corner to the plane
STEP_MM = 0.05            # of the offset, for finite differences
TURN = 2e-4               # radians, likewise
REACH_MM = 5000.0         # wider and deeper than any hull
SMALL = 1e-9              # shares below this are rounding
MOST_BYTES = 60_000
# Greatest differences allowed; all shares but those in mm.
ALLOWED = {
    "slices: volume": 2e-4, "slices: centroid, mm": 0.2, "whole hull": 2e-4,
    "waterplane": 1e-4, "second moments": 1e-4, "product": 1e-4, "turned volume": 1e-6,
    "wetted": 1e-9, "mirrored": 1e-9, "mirrored, mm": 1e-5,
}


def note(worst, name, difference):
    assert difference <= ALLOWED[name], f"{name}: differs by {difference:.3e}"
    worst[name] = max(worst.get(name, 0.0), float(difference))


def digits(value):
    return float(f"{value:.{DIGITS - 1}e}") + 0.0


def upward(trim, heel):
    """Degrees."""
    t, h = math.radians(trim), math.radians(heel)
    return np.array([-math.sin(t), math.cos(t) * math.sin(h), math.cos(t) * math.cos(h)])


# ------------------------------------------------------- cut by trimesh, capped by shapely
class Body:
    """What of a closed mesh lies under n . p = offset."""

    def __init__(self, mesh, n, offset):
        self.n, self.offset = n, offset
        self.aft = np.array([1.0, 0.0, 0.0]) - n[0] * n
        self.aft /= np.linalg.norm(self.aft)
        self.abeam = np.cross(n, self.aft)
        assert np.abs(mesh.vertices @ n - offset).min() > CLEAR_MM, "a corner lies on the water"
        self.wet = mesh.slice_plane(plane_origin=offset * n, plane_normal=-n, cap=False)
        self.cut = self.polygon(mesh)
        cap = shapely.constrained_delaunay_triangles(self.cut).geoms
        assert abs(sum(t.area for t in cap) - self.cut.area) < SMALL * self.cut.area
        # Anticlockwise seen from above: aft, abeam and n are right-handed.
        corners = np.array([t.exterior.coords[:3] if t.exterior.is_ccw else t.exterior.coords[2::-1] for t in cap])
        lifted = offset * n + corners[..., :1] * self.aft + corners[..., 1:] * self.abeam
        self.closed = trimesh.Trimesh(**trimesh.triangles.to_kwargs(np.vstack([self.wet.triangles, lifted])))
        self.closed.merge_vertices(digits_vertex=6)
        self.closed.update_faces(self.closed.nondegenerate_faces())
        assert self.closed.is_watertight and self.closed.is_winding_consistent, "not closed by its cap"
        self.volume = float(self.closed.volume)
        self.centroid = np.array(self.closed.center_mass)

    def polygon(self, mesh):
        """The cut in the axes aft and abeam, from the foot of the hull's origin."""
        loops = mesh.section(plane_origin=self.offset * self.n, plane_normal=self.n).discrete
        assert all(np.abs(np.asarray(loop) @ self.n - self.offset).max() < 1e-6 for loop in loops)
        rings = [shapely.Polygon(np.column_stack([loop @ self.aft, loop @ self.abeam])) for loop in loops]
        assert all(r.is_valid for r in rings), "a cut that crosses itself"
        out = shapely.union_all(rings)
        assert abs(out.area - sum(r.area for r in rings)) < SMALL * out.area, "cuts within cuts"
        return out

    def first_moments(self):
        """Integrals of aft and abeam over the volume."""
        return self.volume * np.array([self.centroid @ self.aft, self.centroid @ self.abeam])


def second_moments(polygon):
    """Integrals of y^2, x^2 and x y about the polygon's centroid (Green's theorem)."""
    centre = np.array(polygon.centroid.coords[0])
    total = np.zeros(3)
    for part in shapely.get_parts(polygon):
        part = shapely.geometry.polygon.orient(part)
        assert not part.interiors
        p = np.array(part.exterior.coords) - centre
        (x, y), (u, v) = p[:-1].T, p[1:].T
        cross = x * v - u * y
        total += [np.sum(cross * (y * y + y * v + v * v)) / 12.0, np.sum(cross * (x * x + x * u + u * u)) / 12.0,
                  np.sum(cross * (x * v + 2.0 * x * y + 2.0 * u * v + u * y)) / 24.0]
    return total


# -------------------------------------------------------------------- by other means
class Slices:
    """Sections athwartships, cut by numpy, made into polygons by shapely."""

    def __init__(self, mesh):
        x0, x1 = mesh.bounds[:, 0]
        self.x = np.linspace(x0 + 1e-3, x1 - 1e-3, SLICES + 1)
        vertices = np.asarray(mesh.vertices)
        edges = np.sort(np.asarray(mesh.faces)[:, [[0, 1], [1, 2], [2, 0]]], axis=2)   # both sides find the same point
        self.sections = [self.section(vertices, edges, x) for x in self.x]

    @staticmethod
    def section(vertices, edges, x):
        a, b = vertices[edges[..., 0]], vertices[edges[..., 1]]
        hit = (a[..., 0] < x) != (b[..., 0] < x)
        crossed = hit.sum(axis=1) == 2
        a, b = a[crossed][hit[crossed]], b[crossed][hit[crossed]]
        t = (x - a[:, 0]) / (b[:, 0] - a[:, 0])
        ends = (a[:, 1:] + t[:, None] * (b[:, 1:] - a[:, 1:])).reshape(-1, 2, 2)
        ends = ends[np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1) > 0.0]
        pieces = shapely.get_parts(shapely.polygonize(shapely.linestrings(ends)))
        return shapely.make_valid(shapely.union_all(pieces))

    def under(self, n, offset):
        """Volume and centroid; `n` None for the whole."""
        rows = []
        for x, section in zip(self.x, self.sections):
            if n is not None:
                # Below z = (offset - n_x x - n_y y) / n_z.
                top = [(y, (offset - n[0] * x - n[1] * y) / n[2]) for y in (-REACH_MM, REACH_MM)]
                section = section.intersection(shapely.Polygon([*top, (REACH_MM, -REACH_MM), (-REACH_MM, -REACH_MM)]))
            y, z = section.centroid.coords[0] if section.area > 0.0 else (0.0, 0.0)
            rows.append(section.area * np.array([1.0, x, y, z]))
        volume, *moments = simpson(np.array(rows), x=self.x, axis=0)
        return float(volume), np.array(moments) / volume


def area_under(triangles, areas, n, offset):
    """Sum of the areas under the plane, from the corners' heights alone."""
    d = np.sort(triangles @ n - offset, axis=1)
    below = (d < 0.0).sum(axis=1)
    share = (below == 3).astype(float)
    low, high = below == 1, below == 2
    share[low] = d[low, 0] ** 2 / ((d[low, 0] - d[low, 1]) * (d[low, 0] - d[low, 2]))
    share[high] = 1.0 - d[high, 2] ** 2 / ((d[high, 2] - d[high, 1]) * (d[high, 2] - d[high, 0]))
    return float(areas @ share)


def check_differences(mesh, body, area, flotation, inertia, worst):
    """The volume's own changes give the waterplane: moved up and down, then turned about flotation."""
    n, axes = body.n, np.array([body.aft, body.abeam])
    up, down = (Body(mesh, n, body.offset + s * STEP_MM).volume for s in (1.0, -1.0))
    note(worst, "waterplane", abs((up - down) / (2.0 * STEP_MM * area) - 1.0))
    about_length, about_breadth, product = inertia
    expected = np.array([[about_breadth, product], [product, about_length]])
    rise = math.tan(TURN)
    for k, axis in enumerate(axes):
        sides = []
        for s in (1.0, -1.0):
            # Water that rises along this axis.
            turned = (n - s * rise * axis) / math.hypot(1.0, rise)
            other = Body(mesh, turned, float(turned @ flotation))
            sides.append(other.volume * np.array([1.0, *(axes @ (other.centroid - flotation))]))
        change = (sides[0] - sides[1]) / (2.0 * rise)
        note(worst, "turned volume", abs(change[0]) * TURN / body.volume)
        note(worst, "second moments", abs(change[1 + k] / expected[k, k] - 1.0))
        note(worst, "product", abs(change[2 - k] - product) / math.sqrt(about_length * about_breadth))


# ------------------------------------------------------------------------ the work
def offset_for(mesh, n, share):
    """Where that share of the mesh is under, to 0.01 mm."""
    heights = mesh.vertices @ n
    # A sliver a millimetre deep along a level keel is none that a cap can be trusted to close.
    low, high = float(heights.min()) + 10.0, float(heights.max()) - 10.0

    def missing(h):
        while np.abs(heights - h).min() <= 2.0 * CLEAR_MM:
            h += 3.0 * CLEAR_MM
        return Body(mesh, n, h).volume / mesh.volume - share
    return round(brentq(missing, low, high, xtol=1e-3), 2)


def find(mesh, lid, slices, plane, worst):
    trim, heel, share = plane
    n = upward(trim, heel)
    offset = offset_for(mesh, n, share)
    body = Body(mesh, n, offset)
    area, inertia = float(body.cut.area), second_moments(body.cut)
    cx, cy = body.cut.centroid.coords[0]
    flotation = offset * n + cx * body.aft + cy * body.abeam
    under = []
    for part in (~lid, lid):
        piece = trimesh.Trimesh(mesh.vertices, mesh.faces[part], process=False)
        under.append(float(piece.slice_plane(plane_origin=offset * n, plane_normal=-n).area))
        apart = abs(area_under(piece.triangles, piece.area_faces, n, offset) - under[-1])
        note(worst, "wetted", apart / body.wet.area)
    note(worst, "wetted", abs(sum(under) / body.wet.area - 1.0))

    volume, centroid = slices.under(n, offset)
    note(worst, "slices: volume", abs(volume / body.volume - 1.0))
    note(worst, "slices: centroid, mm", float(np.linalg.norm(centroid - body.centroid)))
    check_differences(mesh, body, area, flotation, inertia, worst)

    # In words: trim positive, after end deeper; heel positive, port deeper.
    after, port = (float(offset - n @ p) for p in ((1000.0, 0.0, 0.0), (0.0, -1000.0, 0.0)))
    assert np.sign(round(after - offset, 9)) == np.sign(trim) and np.sign(round(port - offset, 9)) == np.sign(heel)
    assert heel == 0.0 or body.centroid[1] * heel < 0.0, "buoyancy moves to the deeper side"
    other = Body(mesh, n * [1.0, -1.0, 1.0], offset)
    note(worst, "mirrored", max(abs(other.volume / body.volume - 1.0), abs(other.cut.area / area - 1.0)))
    note(worst, "mirrored, mm", float(np.abs(other.centroid * [1.0, -1.0, 1.0] - body.centroid).max()))

    share = body.volume / mesh.volume
    assert 0.05 < share < 0.70, share
    size = math.sqrt(inertia[0] * inertia[1])
    if abs(inertia[2]) < SMALL * size:
        inertia[2] = 0.0

    def place(p):
        return [digits(v) if abs(v) > 1e-6 else 0.0 for v in p]
    print(f"  trim {trim:5.1f}  heel {heel:5.1f}  offset {offset:8.2f}  share {share:.4f}  volume {body.volume:.6e}"
          f"  waterplane {area:.6e}  wetted {under[0]:.6e}  lid {under[1]:.3e}")
    return {"trim_deg": trim, "heel_deg": heel, "normal": [round(float(v), 15) + 0.0 for v in n], "offset_mm": offset,
            "share": digits(share), "volume_mm3": digits(body.volume), "centroid": place(body.centroid),
            "waterplane_mm2": digits(area), "flotation": place(flotation), "inertia_mm4": [digits(v) for v in inertia],
            "wetted_mm2": digits(under[0]), "lid_mm2": digits(under[1])}


def hull(path, worst):
    mesh = trimesh.load(path, process=False, force="mesh")
    assert mesh.is_watertight and mesh.is_winding_consistent, f"{path}: not a closed mesh"
    assert mesh.volume > 0.0, f"{path}: does not face outward"
    vertices = np.asarray(mesh.vertices)
    assert cKDTree(vertices).query(vertices * [1.0, -1.0, 1.0])[0].max() < 1e-5, "the same to port and starboard"
    # The lid: whatever faces up and lies above mid depth; nearly level, across from sheer to sheer.
    lid = (mesh.face_normals[:, 2] > 0.0) & (mesh.triangles[:, :, 2].min(axis=1) > mesh.bounds[:, 2].mean())
    assert mesh.face_normals[lid, 2].min() > 0.9
    rim = trimesh.Trimesh(vertices, mesh.faces[lid], process=False).outline().discrete
    assert len(rim) == 1, "a lid in one piece"
    facing_up = (mesh.face_normals[:, 2] > 0.0) & ~lid
    print(f"{path.stem}: {len(mesh.faces)} triangles, {int(lid.sum())} of the lid, {int(facing_up.sum())} of the skin"
          f" facing up ({mesh.area_faces[facing_up].sum():.1f} mm2)")
    slices = Slices(mesh)
    note(worst, "whole hull", abs(slices.under(None, 0.0)[0] / mesh.volume - 1.0))
    return {"name": path.stem, "volume_mm3": digits(mesh.volume), "area_mm2": digits(mesh.area),
            "planes": [find(mesh, lid, slices, plane, worst) for plane in PLANES]}


def write_json(path, about, hulls):
    """A plane of water a line."""
    blocks = []
    for h in hulls:
        planes = ",\n".join("   " + json.dumps(p) for p in h["planes"])
        head = json.dumps({k: v for k, v in h.items() if k != "planes"})[:-1]
        blocks.append(f'  {head}, "planes": [\n{planes}\n  ]}}')
    text = f'{{\n "about": {json.dumps(about)},\n "hulls": [\n' + ",\n".join(blocks) + "\n ]\n}\n"
    assert len(text) < MOST_BYTES and json.loads(text)["hulls"] == hulls
    Path(path).write_text(text)


def main():
    here = Path(__file__).resolve().parent
    parser = argparse.ArgumentParser(description="Cut closed hull meshes by planes of water.")
    parser.add_argument("meshes", nargs="+", type=Path, metavar="MESH")
    parser.add_argument("-o", "--output", default=here / "afloat.json", type=Path)
    args = parser.parse_args()
    worst = {}
    hulls = [hull(path, worst) for path in args.meshes]
    print("greatest differences: " + ", ".join(f"{k} {v:.1e}" for k, v in worst.items()))
    write_json(args.output, "What planes of water n . p = offset_mm find of the outside meshes of hulls; mm. Positive "
               "trim: after end deeper; positive heel: port deeper. Written by afloat.py.", hulls)
    return 0


if __name__ == "__main__":
    sys.exit(main())
