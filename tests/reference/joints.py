"""Pieces, overlaps and blocks of panels that are split, by shapely.

Writes joints.json: outlines of three panels (a bent side, a bottom that narrows to a point, one
with a notch), each split at given places by a scarf of given length or by blocks: areas of all
pieces, of what two neighbours have in common, and of blocks that end short of sticks along
both edges. Checked here: pieces less overlaps are the panel.
"""

import argparse
import json
import math
from pathlib import Path

from shapely.geometry import LineString, Polygon, box


def side(n=60):
    lower = [(4600 * i / n, 160 * math.sin(math.pi * i / n) ** 2) for i in range(n + 1)]
    upper = [(30 + 4560 * i / n, 430 + 210 * math.sin(math.pi * i / n)) for i in range(n, -1, -1)]
    return lower + upper, lower, upper[::-1]


def bottom(n=40):
    port = [(4300 * i / n, 640 * math.sin(0.5 * math.pi * (i / n) ** 0.8)) for i in range(n + 1)]
    starboard = [(x, -y) for x, y in port]
    return starboard + port[:0:-1], starboard, port


def notched(n=30):
    lower = [(5200 * i / n, 0.0) for i in range(n + 1)]
    upper = [(5200, 300.0), (3400, 380.0), (3400, 350.0), (3360, 350.0), (3360, 380.0), (0, 360.0)]
    return lower + upper, lower, upper[::-1]


def main():
    args = argparse.ArgumentParser()
    args.add_argument("-o", default=Path(__file__).with_name("joints.json"))
    out = Path(args.parse_args().o)
    cases = []
    for name, make, places, over, block, stick in [
        ("side", side, [2350.0], 48.0, 203.2, 38.0),
        ("bottom", bottom, [2100.0], 72.0, 254.0, 44.0),
        ("notched", notched, [1700.0, 3500.0], 72.0, 254.0, 19.0),
        ("side in three", side, [1500.0, 3300.0], 96.0, 304.8, 38.0),
    ]:
        outline, lower, upper = make()
        panel = Polygon(outline)
        assert panel.is_valid
        far = 1e5

        def band(a, b):
            return panel.intersection(box(a, -far, b, far))

        edges = [-far] + places + [far]
        pieces = [band(a - over / 2, b + over / 2) for a, b in zip(edges, edges[1:])]
        overlaps = [band(p - over / 2, p + over / 2) for p in places]
        total = sum(p.area for p in pieces) - sum(o.area for o in overlaps)
        assert abs(total - panel.area) < 1e-6 * panel.area
        sticks = [LineString(line).buffer(stick, quad_segs=64) for line in (lower, upper)]
        blocks = [
            band(p - block / 2, p + block / 2).difference(sticks[0]).difference(sticks[1])
            for p in places
        ]
        cases.append(
            {
                "name": name,
                "outline": outline,
                "lower": lower,
                "upper": upper,
                "places": places,
                "overlap": over,
                "block": block,
                "stick": stick,
                "area": panel.area,
                "pieces": [p.area for p in pieces],
                "overlaps": [o.area for o in overlaps],
                "blocks": [b.area for b in blocks],
            }
        )
    out.write_text(json.dumps(cases, indent=1) + "\n")


if __name__ == "__main__":
    main()
