#!/usr/bin/env python3
"""Pack the 512 random hulls of the property tests and read back what was written.

Independent truth: ezdxf reads and audits every .dxf; shapely measures the outlines on the
layers CUT and FINISHED_EDGE, which must be closed, simple, and enclose what the report says;
trimesh loads the mesh of each hull (.stl), which must be watertight with a positive volume
close to what the program said.  Of every 16th hull a second pack must be byte for byte the
first.

Fails on: a run that ends otherwise than with 0 or 3 (3: built, but findings say stop) or takes
longer than two minutes, a panel without a pattern whose report does not say why, an audit
error or flaw that had to be repaired, an open or crossing cut outline, an area that is off by
more than a thousandth of a millimetre along the outline, a mesh that is not watertight or has
no volume, a second pack that differs.

The hulls are written by
  CHINEWRIGHT_HULLS=FOLDER cargo test --release --no-default-features -- --ignored write_the_random_hulls

Run:  python random_boats.py PROGRAM FOLDER [--first N] [--count N]
Prints a line for every 64 hulls and the totals.  Exit code 0 when all is well, 1 on a failure,
2 on bad usage.  Needs ezdxf, shapely, trimesh.  Writes to a temporary folder.
"""
import argparse
import collections
import json
import logging
import pathlib
import re
import subprocess
import sys
import tempfile

import ezdxf
import trimesh
from shapely.geometry import Polygon

LONGEST_S = 120
OFF_MM = 1e-3             # numbers are written to 1e-4 mm; along the whole outline
VOLUME_SHARE = 1e-3       # .stl is in single precision, the program prints three figures
SAMPLE = 16


class Boat:
    """One hull, and what was wrong with what was made of it."""

    def __init__(self, program, document, work):
        self.program, self.document, self.work = program, document, work
        self.faults, self.counts = [], collections.Counter()

    def fault(self, what):
        self.faults.append(what)

    def run(self, *words):
        """Standard output of the program, None where it failed."""
        try:
            done = subprocess.run([self.program, *words], cwd=self.work, capture_output=True,
                                  timeout=LONGEST_S, text=True)
        except subprocess.TimeoutExpired:
            self.fault(f"{words[0]}: longer than {LONGEST_S} s")
            return None
        if done.returncode not in (0, 3) or "panicked" in done.stderr:
            self.fault(f"{words[0]}: exit {done.returncode}: {done.stderr.strip()[:300]}")
            return None
        self.counts[f"{words[0]} exit {done.returncode}"] += 1
        return done.stdout

    def check(self, again):
        folder = self.work / "pack"
        if self.run("pack", self.document, "-o", folder, "--paper", "roll") is None:
            return
        report = json.loads((folder / "report.json").read_text())
        for path in sorted(folder.rglob("*.dxf")):
            self.drawing(path, path.relative_to(folder).as_posix())
        self.panels(report, folder)
        self.mesh()
        if again:
            self.second(folder)

    def drawing(self, path, name):
        """Audits a drawing; its cut outlines are closed and simple."""
        doc = ezdxf.readfile(path)
        audit = doc.audit()
        for item in [*audit.errors, *audit.fixes]:
            self.fault(f"{name}: audit {item.code}: {item.message}")
        self.counts["drawings"] += 1
        lines = list(doc.modelspace().query('LWPOLYLINE[layer=="CUT"]'))
        if name.startswith("patterns/") and len(lines) != 1:
            self.fault(f"{name}: {len(lines)} cut outlines")
        for line in lines:
            # Two points are a saw kerf, not an outline.
            if len(line) < 3:
                continue
            self.counts["cut outlines"] += 1
            if not line.closed and name.startswith("patterns/"):
                self.fault(f"{name}: its cut outline is open")
            if line.closed and not Polygon(ring(line)).is_valid:
                self.fault(f"{name}: a cut outline crosses itself near {ring(line)[0]}")

    def panels(self, report, folder):
        """Each pattern encloses what the report says, and what has none says why."""
        for panel in report["panels"]:
            path = folder / "patterns" / f"{panel['name']}.dxf"
            told = [f for f in report["findings"]
                    if f["severity"] == "stop" and f["place"].startswith(panel["name"])]
            if not path.exists():
                self.counts["panels without a pattern"] += 1
                if not any("pattern" in f["message"] + f["hint"] for f in told):
                    self.fault(f"{panel['name']}: no pattern, and no finding says why")
                continue
            self.counts["patterns"] += 1
            space = doc_lines(path)
            finished = space.get("FINISHED_EDGE") or space["CUT"]
            drawn, said = Polygon(finished[0]), Polygon(panel["finished_outline_mm"])
            if abs(drawn.area - said.area) > OFF_MM * said.length:
                self.fault(f"{panel['name']}: drawn {drawn.area:.1f} mm², reported {said.area:.1f}")
            if not Polygon(space["CUT"][0]).buffer(1e-3).contains(drawn):
                self.fault(f"{panel['name']}: the finished edge leaves the cut one")
            flat = Polygon(panel["outline_mm"]).area
            if abs(flat - panel["flat_area_mm2"]) > 1e-6 * flat:
                self.fault(f"{panel['name']}: flat area {panel['flat_area_mm2']:.1f} for {flat:.1f}")
            # Laying flat keeps areas.
            if abs(flat - panel["area_mm2"]) > 1e-5 * panel["area_mm2"]:
                self.fault(f"{panel['name']}: {flat:.0f} mm² flat, {panel['area_mm2']:.0f} on the hull")

    def mesh(self):
        path = self.work / "hull.stl"
        told = self.run("mesh", self.document, "-o", path)
        if told is None:
            return
        mesh = trimesh.load(path)
        said = float(re.search(r"encloses (-?[\d.]+) m³", told).group(1))
        if not mesh.is_watertight:
            self.fault("the mesh is not watertight")
        if mesh.volume <= 0:
            self.fault(f"the mesh encloses {mesh.volume * 1e-9:.3f} m³")
        if abs(mesh.volume * 1e-9 - said) > VOLUME_SHARE * abs(said) + 5e-4:
            self.fault(f"the mesh encloses {mesh.volume * 1e-9:.4f} m³, said {said}")
        self.counts["meshes"] += 1

    def second(self, folder):
        other = self.work / "again"
        self.run("pack", self.document, "-o", other, "--paper", "roll")
        trees = [{p.relative_to(f).as_posix(): p.read_bytes() for p in f.rglob("*") if p.is_file()}
                 for f in (folder, other)]
        differ = sorted(n for n in trees[0].keys() | trees[1].keys() if trees[0].get(n) != trees[1].get(n))
        if differ:
            self.fault(f"a second pack differs: {', '.join(differ)}")
        self.counts["second packs"] += 1


def ring(line):
    return [(x, y) for x, y, *_ in line.get_points()]


def doc_lines(path):
    """Points of the closed polylines of a drawing by layer."""
    out = collections.defaultdict(list)
    for line in ezdxf.readfile(path).modelspace().query("LWPOLYLINE"):
        if line.closed:
            out[line.dxf.layer].append(ring(line))
    return out


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("program", type=pathlib.Path)
    parser.add_argument("folder", type=pathlib.Path)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--count", type=int, default=512)
    args = parser.parse_args()
    logging.disable(logging.WARNING)
    documents = sorted(args.folder.resolve().glob("hull-*.ron"))[args.first:args.first + args.count]
    if not documents:
        print(f"no hull-*.ron in {args.folder}", file=sys.stderr)
        return 2
    counts, bad = collections.Counter(), 0
    for n, document in enumerate(documents, 1):
        with tempfile.TemporaryDirectory() as work:
            boat = Boat(args.program.resolve(), document, pathlib.Path(work))
            boat.check(again=(n - 1) % SAMPLE == 0)
        counts += boat.counts
        bad += bool(boat.faults)
        for fault in boat.faults:
            print(f"FAIL {document.stem}: {fault}", flush=True)
        if n % 64 == 0:
            print(f"{n} hulls, {bad} with faults", flush=True)
    told = ", ".join(f"{v} {k}" for k, v in sorted(counts.items()))
    print(f"{len(documents)} hulls, {bad} with faults: {told}")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
