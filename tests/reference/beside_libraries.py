#!/usr/bin/env python3
"""Time three things that general-purpose libraries can do too, theirs and ours, in one run.

On the same machine, one after the other, the least of many runs each, for every starter:

  laying a side flat     ours strip by strip; libigl's least-squares conformal map of the same
                         triangles (which finds the same flat shape: see panel_check.py)
  the boat under water   ours gives volume, centre, waterplane with second moments and wetted
                         area of the closed outside mesh; trimesh cuts the same mesh, caps it and
                         gives its volume
  a section amidships    ours cuts all panels of one half, so its time is doubled; trimesh cuts
                         the closed moulded mesh at the same place

The figures are compared as well, so that nothing is timed that is not the same.  Ours are timed
inside the program, by examples/timing.rs; the libraries inside Python, files read and arrays
made before the clock starts.  What is written in Python of theirs counts as theirs.

Run:  cargo build --release --no-default-features --example timing
      python beside_libraries.py PROGRAM TIMING_PROGRAM [--seconds S]
Prints a table of ratios in Markdown.  Exit code 1 where figures differ.  Needs numpy, trimesh,
shapely, libigl.  Writes to a temporary folder.
"""
import argparse
import importlib.metadata
import json
import pathlib
import subprocess
import sys
import tempfile
import time

import igl
import numpy as np
import trimesh

from panel_check import align, strip

SHARE = 1e-6              # of a volume
LEVEL = 0.3               # of the depth: where examples/timing.rs puts the water
FLAT_MM = 0.5             # as in panel_check.py, warp aside


def least(seconds, run):
    """Least time of a run, ms, and what it returned."""
    best, begun, runs = float("inf"), time.perf_counter(), 0
    while runs < 3 or time.perf_counter() - begun < seconds:
        one = time.perf_counter()
        out = run()
        best, runs = min(best, time.perf_counter() - one), runs + 1
    return 1000.0 * best, out


def flat(report, seconds):
    """libigl's time on the last panel, ms, and how far the flat shapes are apart."""
    space, laid, faces, ends = strip(report["panels"][-1]["rulings"], "a")
    middle = next(e for e in ends[len(ends) // 2:] if e[0] != e[1])
    held = np.array(middle, dtype=np.int64)
    size = np.linalg.norm(space[held[0]] - space[held[1]])
    at = np.array([[0.0, 0.0], [0.0, size]])
    took, found = least(seconds, lambda: igl.lscm(space, faces, held, at))
    return took, float(align(np.array(found[0]), laid)[0].max())


def under_water(mesh, seconds):
    low, high = mesh.bounds[:, 2]
    level = low + LEVEL * (high - low)
    normal, origin = [0.0, 0.0, -1.0], [0.0, 0.0, level]
    return least(seconds, lambda: mesh.slice_plane(origin, normal, cap=True).volume)


def section(mesh, seconds):
    middle = 0.5 * (mesh.bounds[0, 0] + mesh.bounds[1, 0])
    return least(seconds, lambda: mesh.section(plane_origin=[middle, 0, 0], plane_normal=[1, 0, 0]))


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("program", type=pathlib.Path)
    parser.add_argument("timing", type=pathlib.Path)
    parser.add_argument("--seconds", type=float, default=1.0)
    args = parser.parse_args()
    program, bad = str(args.program.resolve()), 0
    ours = json.loads(subprocess.run([args.timing.resolve(), str(args.seconds)], check=True,
                                     capture_output=True, text=True).stdout)
    print("| starter | side laid flat | by libigl | times | under water | by trimesh | times "
          "| section | by trimesh | times |")
    print("|---|---|---|---|---|---|---|---|---|---|")
    with tempfile.TemporaryDirectory() as folder:
        def run(*words):
            return subprocess.run([program, *words], cwd=folder, capture_output=True, text=True)
        for row in ours:
            name = row["hull"]
            run("start", name, "-o", f"{name}.ron")
            report = json.loads(run("report", f"{name}.ron", "--json").stdout)
            for surface in ("outside", "moulded"):
                run("mesh", f"{name}.ron", "-o", f"{surface}.obj", "--surface", surface)
            outside, moulded = (trimesh.load(pathlib.Path(folder) / f"{s}.obj", process=False)
                                for s in ("outside", "moulded"))
            flat_ms, off = flat(report, args.seconds)
            volume_ms, volume = under_water(outside, args.seconds)
            section_ms, _ = section(moulded, args.seconds)
            if off > FLAT_MM:
                print(f"FAIL {name}: flat shapes {off:.3f} mm apart", file=sys.stderr)
                bad = 1
            if abs(volume / row["volume_mm3"] - 1.0) > SHARE:
                print(f"FAIL {name}: {volume} and {row['volume_mm3']} mm³", file=sys.stderr)
                bad = 1
            cells = [name]
            for mine, theirs in ((row["flat_ms"], flat_ms),
                                 (row["plane_of_water_ms"], volume_ms),
                                 (2.0 * row["section_ms"], section_ms)):
                cells += [f"{1000 * mine:.0f} µs", f"{theirs:.2f} ms", f"{theirs / mine:.0f}"]
            print("| " + " | ".join(cells) + " |", flush=True)
    versions = ", ".join(f"{m} {importlib.metadata.version(m)}" for m in ("trimesh", "libigl"))
    print(f"\n{versions}", flush=True)
    return bad


if __name__ == "__main__":
    sys.exit(main())
