#!/usr/bin/env python3
"""Check the panels of a report by other people's geometry libraries.

Independent truth: the rulings in space are turned into a plain triangle strip;
its area comes from trimesh, its flattening from libigl (least-squares conformal
map, then as-rigid-as-possible), the validity and area of outlines from shapely.
A triangle strip has no inner vertex, so it unrolls exactly and the conformal map
finds that unrolling whatever it started from: what is compared here is the
report's flat vertices with that one, after a rigid alignment (a mirror image is
allowed, and noted).  Where neighbouring rulings do not lie in a plane the result
depends on the diagonal, so both are tried: a from the lower end of a ruling to the
upper end of the next, b the other way.

The report is the JSON that `chinewright report FILE --json` prints.  A panel with
"full_width": true has an outline made of both halves, mirrored about its lower
edge; that outline is compared with twice the strip.

Run:  python panel_check.py REPORT_JSON [-o FILE]
      (default: panel_check.json beside this file)
Exit code 1 where a panel fails: a limit below, an invalid outline, no rulings.
Needs numpy, shapely, trimesh, libigl.
"""
import argparse
import json
import re
import sys
from pathlib import Path

import igl
import numpy as np
import shapely
import trimesh

MERGE_MM = 1e-6          # ends of neighbouring rulings closer than this are one vertex (a fan)
FLAT_MM = 0.5            # report's flat vertices against libigl's, the better diagonal; the distance
                         # between the flattenings by the two diagonals is allowed on top (twist)
PLACES = 11              # even places along both edges of libigl's flat panel that are kept
AREA_RELATIVE = 1e-3     # any two of the areas of one panel
LENGTH_MM = 0.05         # a ruling, or an edge between two rulings: in space against flat


def strip(rulings, diagonal):
    """Vertices in space, in the flat, and triangles; a fan's shared end is one vertex."""
    space, flat, faces = [], [], []
    last = {}

    def vertex(side, ruling):
        p, q = np.array(ruling[side], float), np.array(ruling["flat_" + side], float)
        if side in last and np.linalg.norm(space[last[side]] - p) < MERGE_MM:
            return last[side]
        other = last.get("upper" if side == "lower" else "lower")
        if other is not None and np.linalg.norm(space[other] - p) < MERGE_MM:
            last[side] = other           # a panel that runs out to a point
            return other
        space.append(p)
        flat.append(q)
        last[side] = len(space) - 1
        return last[side]

    ends = [(vertex("lower", r), vertex("upper", r)) for r in rulings]
    for (l0, u0), (l1, u1) in zip(ends, ends[1:]):
        pair = [(l0, l1, u1), (l0, u1, u0)] if diagonal == "a" else [(l0, l1, u0), (l1, u1, u0)]
        faces += [f for f in pair if len(set(f)) == 3]
    return np.array(space), np.array(flat), np.array(faces, dtype=np.int64), ends


def align(moving, fixed):
    """Least-squares rigid alignment in the plane; mirrored too if that is better.
    Returns the distances and whether it was mirrored."""
    best = None
    for mirrored in (False, True):
        m = moving * ([-1.0, 1.0] if mirrored else [1.0, 1.0])
        a, b = m - m.mean(0), fixed - fixed.mean(0)
        u, _, vt = np.linalg.svd(a.T @ b)
        turn = u @ np.diag([1.0, np.sign(np.linalg.det(u @ vt))]) @ vt
        distances = np.linalg.norm(a @ turn - b, axis=1)
        if best is None or distances.max() < best[0].max():
            best = distances, mirrored
    return best


def mesh_edges(faces):
    pairs = np.vstack([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]])
    return np.unique(np.sort(pairs, axis=1), axis=0)


def flatten(space, faces, ends):
    """libigl's conformal map held by the middle ruling, then as-rigid-as-possible from it."""
    order = sorted(range(len(ends)), key=lambda i: abs(i - len(ends) // 2))
    held = next(ends[i] for i in order if ends[i][0] != ends[i][1])
    size = np.linalg.norm(space[held[0]] - space[held[1]])
    b = np.array(held, dtype=np.int64)
    bc = np.array([[0.0, 0.0], [0.0, size]])
    conformal, _ = igl.lscm(space, faces, b, bc)
    data = igl.ARAPData()
    data.max_iter = 200
    igl.arap_precomputation(space, faces, 2, b[:1].astype(np.int32), data)
    rigid = igl.arap_solve(bc[:1], data, np.array(conformal))
    return np.array(conformal), np.array(rigid)


def polyline(points):
    return float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())


def places(points):
    """Even places along a line, end to end."""
    reached = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(points, axis=0), axis=1))])
    wanted = np.linspace(0.0, reached[-1], PLACES)
    return np.column_stack([np.interp(wanted, reached, points[:, k]) for k in (0, 1)]).tolist()


def check_panel(panel):
    rulings = panel.get("rulings") or []
    out = {"name": panel.get("name"), "full_width": bool(panel.get("full_width")), "rulings": len(rulings)}
    problems = []
    out["problems"] = problems
    if len(rulings) < 2:
        problems.append("fewer than two rulings")
        return out

    out["area_mm2"], out["igl_mm"], out["igl_mirrored"], out["igl_edges_mm"] = {}, {}, {}, {}
    conformals = []
    for diagonal in "ab":
        space, flat, faces, ends = strip(rulings, diagonal)
        mesh = trimesh.Trimesh(space, faces, process=False)
        out["area_mm2"]["space_" + diagonal] = float(mesh.area)
        conformal, rigid = flatten(space, faces, ends)
        conformals.append(conformal)
        for name, uv in (("lscm", conformal), ("arap", rigid)):
            key = f"{name}_{diagonal}"
            if not np.all(np.isfinite(uv)):
                # ARAP only polishes the conformal map; on needle triangles of a fan its
                # local step can fail, which says nothing of the panel.
                if name == "lscm":
                    problems.append(f"libigl gave no finite flattening ({key})")
                out["igl_mm"][key], out["igl_mirrored"][key] = None, None
                continue
            distances, mirrored = align(uv, flat)
            out["igl_mm"][key] = float(distances.max())
            out["igl_mirrored"][key] = bool(mirrored)
        if diagonal == "a":
            pairs = mesh_edges(faces)
            before = np.linalg.norm(space[pairs[:, 0]] - space[pairs[:, 1]], axis=1)
            after = np.linalg.norm(conformal[pairs[:, 0]] - conformal[pairs[:, 1]], axis=1)
            out["igl_stretch_max"] = float(np.abs(after / before - 1).max())
            lower, upper = [e[0] for e in ends], [e[1] for e in ends]
            out["igl_places_mm"] = {"lower": places(conformal[lower]), "upper": places(conformal[upper])}
            out["igl_edges_mm"] = {"lower": polyline(conformal[lower]), "upper": polyline(conformal[upper])}

    finite = all(np.all(np.isfinite(c)) for c in conformals)
    out["igl_a_to_b_mm"] = float(align(*conformals)[0].max()) if finite else None

    at = {k: np.array([r[k] for r in rulings], float) for k in ("lower", "upper", "flat_lower", "flat_upper")}
    # lengths in space against flat: rulings, edge pieces, and the two diagonals
    across = np.linalg.norm(at["upper"] - at["lower"], axis=1)
    flat_across = np.linalg.norm(at["flat_upper"] - at["flat_lower"], axis=1)
    out["difference_mm"] = {"ruling": float(np.abs(across - flat_across).max())}
    for side in ("lower", "upper"):
        step = np.linalg.norm(np.diff(at[side], axis=0), axis=1)
        flat_step = np.linalg.norm(np.diff(at["flat_" + side], axis=0), axis=1)
        out["difference_mm"][side] = float(np.abs(step - flat_step).max())
    for name, p, q in (("diagonal_a", "lower", "upper"), ("diagonal_b", "upper", "lower")):
        space_d = np.linalg.norm(at[q][1:] - at[p][:-1], axis=1)
        flat_d = np.linalg.norm(at["flat_" + q][1:] - at["flat_" + p][:-1], axis=1)
        out["difference_mm"][name] = float(np.abs(space_d - flat_d).max())

    out["edges_mm"] = {
        "space": {"lower": polyline(at["lower"]), "upper": polyline(at["upper"]),
                  "bow": float(across[0]), "stern": float(across[-1])},
        "flat": {"lower": polyline(at["flat_lower"]), "upper": polyline(at["flat_upper"]),
                 "bow": float(flat_across[0]), "stern": float(flat_across[-1])},
        "reported": panel.get("edges_mm"),
    }

    flat_strip = shapely.Polygon(np.vstack([at["flat_lower"], at["flat_upper"][::-1]]))
    out["strip_valid"] = bool(flat_strip.is_valid)
    out["area_mm2"]["flat_strip"] = float(flat_strip.area)
    out["area_mm2"]["reported"] = panel.get("area_mm2")
    out["area_mm2"]["reported_flat"] = panel.get("flat_area_mm2")
    outline = panel.get("outline_mm") or []
    if len(outline) < 3:
        problems.append("no outline")
        out["outline"] = None
    else:
        ring = [tuple(map(float, p)) for p in outline]
        if ring[0] == ring[-1]:
            ring = ring[:-1]
        polygon = shapely.Polygon(ring)
        line = shapely.LinearRing(ring)
        copies = 2 if out["full_width"] else 1
        out["outline"] = {
            "points": len(ring), "valid": bool(polygon.is_valid), "simple": bool(line.is_simple),
            "area_mm2": float(polygon.area),
            "area_over_strip": float(polygon.area / (copies * flat_strip.area)),
        }
        if not polygon.is_valid or not line.is_simple:
            problems.append("outline is not a simple polygon: " + shapely.is_valid_reason(polygon))
        if abs(out["outline"]["area_over_strip"] - 1) > AREA_RELATIVE:
            problems.append(f"outline's area is {out['outline']['area_over_strip']:.5f} of the strip's"
                            + (" (both halves)" if copies == 2 else ""))

    if not out["strip_valid"]:
        problems.append("flat strip crosses itself: " + shapely.is_valid_reason(flat_strip))
    space_area = 0.5 * (out["area_mm2"]["space_a"] + out["area_mm2"]["space_b"])
    for key in ("flat_strip", "reported", "reported_flat"):
        area = out["area_mm2"][key]
        # an area of both halves is as good as an area of one, if the panel says that it has both
        fits = [space_area] + ([2 * space_area] if out["full_width"] and key != "flat_strip" else [])
        if area is not None and min(abs(area / s - 1) for s in fits) > AREA_RELATIVE:
            problems.append(f"area {key} is {area / space_area:.5f} of the area in space")
    worst = max(out["difference_mm"][k] for k in ("ruling", "lower", "upper"))
    if worst > LENGTH_MM:
        problems.append(f"lengths in space and flat differ by up to {worst:.4f} mm")
    found = [v for v in out["igl_mm"].values() if v is not None]
    if found and min(found) > FLAT_MM + (out["igl_a_to_b_mm"] or 0.0):
        problems.append(f"flat vertices are {min(found):.3f} mm or more from libigl's")
    if not found:
        problems.append("libigl gave no flattening")
    return out


def rounded(value):
    if isinstance(value, dict):
        return {k: rounded(v) for k, v in value.items()}
    if isinstance(value, list):
        return [rounded(v) for v in value]
    if isinstance(value, float):
        # lengths and areas to a nanometre or 12 digits: the rest is noise of the solvers
        return float(f"{round(value, 6):.12g}") if abs(value) > 1e-3 else float(f"{value:.2g}")
    return value


def write_json(path, data):
    """Indented, but with each innermost list on one line."""
    text = json.dumps(data, indent=1)
    text = re.sub(r"\[\s+([^\[\]{}]*?)\s+\]", lambda m: "[" + re.sub(r"\s*\n\s*", " ", m.group(1)) + "]", text)
    Path(path).write_text(text + "\n")


def main():
    here = Path(__file__).resolve().parent
    parser = argparse.ArgumentParser(description="Check a report's panels with trimesh, shapely and libigl.")
    parser.add_argument("report", type=Path)
    parser.add_argument("-o", "--output", default=here / "panel_check.json", type=Path)
    args = parser.parse_args()
    report = json.loads(args.report.read_text())
    panels = report.get("panels")
    if not panels:
        print("the report has no panels", file=sys.stderr)
        return 1
    results = [rounded(check_panel(p)) for p in panels]
    write_json(args.output, {
        "about": "Panels of one report against trimesh, shapely and libigl; mm. Written by panel_check.py.",
        "hull": (report.get("hull") or {}).get("name"),
        "panels": results,
    })

    def show(value, form):
        return "-" if value is None else format(value, form)
    print(f"{'panel':18s} {'rulings':>7s} {'area m2':>9s} {'outline/strip':>13s} {'valid':>5s} "
          f"{'lscm a':>8s} {'lscm b':>8s} {'arap a':>8s} {'arap b':>8s} {'ruling':>8s} {'edge':>8s}  (mm)")
    for r in results:
        igl_mm, diff, outline = r.get("igl_mm", {}), r.get("difference_mm", {}), r.get("outline") or {}
        edge = max((diff[k] for k in ("lower", "upper")), default=None) if diff else None
        area = r.get("area_mm2", {}).get("space_a")
        print(f"{str(r['name']):18s} {r['rulings']:7d} {show(area and area / 1e6, '9.5f'):>9s} "
              f"{show(outline.get('area_over_strip'), '13.7f'):>13s} {'yes' if outline.get('valid') else 'no':>5s} "
              + " ".join(f"{show(igl_mm.get(k), '8.4f'):>8s}" for k in ("lscm_a", "lscm_b", "arap_a", "arap_b"))
              + f" {show(diff.get('ruling'), '8.5f'):>8s} {show(edge, '8.5f'):>8s}")
        for problem in r["problems"]:
            print(f"   {r['name']}: {problem}")
    return 1 if any(r["problems"] for r in results) else 0


if __name__ == "__main__":
    sys.exit(main())
