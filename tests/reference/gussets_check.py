"""Gussets of a report beside each other and beside its limbers, by shapely.

Usage: python gussets_check.py REPORT_JSON...

Independent of Chinewright: takes the outlines that a report gives and asks shapely. For every
frame it checks that

- no two gussets of one face share more than 1 mm²;
- no gusset covers a limber: neither the middle of its upper half where the bit is set nor the
  same place where the bilge lies on the furthest face;
- every fastening lies in its gusset, clear of every limber.

Prints one line a report and exits with 1 where something is wrong.
"""

import argparse
import json
import sys
from itertools import combinations
from pathlib import Path

from shapely.geometry import Point, Polygon

SHARED_MM2 = 1.0


def plate(gusset):
    """A gusset's outline as a polygon that shapely finds simple."""
    polygon = Polygon(gusset["outline_mm"])
    assert polygon.is_valid, "an outline crosses itself"
    return polygon


def faults_of(frame):
    """What is wrong with one frame, in sentences; how many limbers it has."""
    out = []
    plates = [(g, plate(g)) for g in frame["gussets"]]
    for (g, p), (h, q) in combinations(plates, 2):
        shared = p.intersection(q).area
        if g["on"] == h["on"] and shared > SHARED_MM2:
            out.append(f"{g['line']} and {h['line']} share {shared:.0f} mm²")
    for limber in frame["limbers"]:
        radius = limber["radius_mm"]
        for place in ("at_mm", "far_at_mm"):
            y, z = limber[place]
            for g, p in plates:
                if p.contains(Point(y, z + 0.5 * radius)):
                    out.append(f"the {g['line']} gusset on the {g['on']} dams a limber")
                for fastening in g["fastenings_mm"]:
                    if Point(abs(fastening[0]), fastening[1]).distance(Point(y, z)) < radius + 5.0:
                        out.append(f"a fastening of the {g['line']} gusset in a limber")
    for g, p in plates:
        if any(not p.contains(Point(*f)) for f in g["fastenings_mm"]):
            out.append(f"a fastening beside the {g['line']} gusset")
    return out, len(frame["limbers"])


def main():
    """Checks every report."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("reports", nargs="+", type=Path)
    wrong = 0
    for path in parser.parse_args().reports:
        frames = json.loads(path.read_text())["frames"]
        limbers = 0
        for frame in frames:
            faults, seen = faults_of(frame)
            limbers += seen
            for fault in faults:
                print(f"{path.name} {frame['name']}: {fault}")
            wrong += len(faults)
        print(f"{path.name}: {len(frames)} frames, {limbers} limbers")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
