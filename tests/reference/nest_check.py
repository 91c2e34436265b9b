#!/usr/bin/env python3
"""Recomputes layouts on sheets with shapely: overlap, distance, inside, area, offcuts, cuts.

Takes layouts as `cargo run --example packing -- lay PROBLEM.json` prints them and trusts only the
outlines of parts and sheets in them. Checked for each layout:

- every placed outline is its part's outline, turned, mirrored and shifted as the layout says;
- no two parts of a sheet are nearer than the kerf, none nearer to the edge than the margin;
- every copy is placed once or told as unplaced;
- areas of parts over the area of the sheet give the density printed;
- offcuts lie on the sheet, clear of all parts and of each other;
- straight cuts cross no part, one half of a kerf to both sides;
- sheets bought are no fewer than area allows, and no more than boxes on shelves take.

Prints a line a layout, exits with 1 where something is wrong. Writes nothing.
"""
import json
import math
import sys

from shapely.geometry import LineString, Polygon
from shapely.ops import unary_union

SAME = 1e-6


def placed_again(part, place):
    c, s = math.cos(place["angle"]), math.sin(place["angle"])
    dx, dy = place["shift"]
    flip = -1.0 if place["mirrored"] else 1.0
    return [(x * c - flip * y * s + dx, x * s + flip * y * c + dy) for x, y in part["outline_mm"]]


def on_shelves(layout):
    """First fit by decreasing height of the boxes as placed, a kerf apart; needs one bought kind."""
    sheet = Polygon(layout["sheets"][0]["outline_mm"]).bounds
    margin, kerf = layout["sheets"][0]["margin_mm"], layout["kerf_mm"]
    length, width = sheet[2] - sheet[0] - 2 * margin, sheet[3] - sheet[1] - 2 * margin
    boxes = []
    for s in layout["sheets"]:
        for p in s["parts"]:
            b = Polygon(p["outline_mm"]).bounds
            boxes.append((b[2] - b[0], b[3] - b[1]))
    boxes.sort(reverse=True)
    shelves, sheets = [], []
    for l, w in boxes:
        for shelf in shelves:
            if l <= shelf["long"] and shelf["filled"] + w <= width:
                shelf["filled"] += w + kerf
                break
        else:
            for k, filled in enumerate(sheets):
                if filled + l <= length:
                    break
            else:
                k = len(sheets)
                sheets.append(0.0)
            sheets[k] += l + kerf
            shelves.append({"long": l, "filled": w + kerf})
    return len(sheets)


def faults(layout):
    kerf = layout["kerf_mm"]
    seen = {}
    for k, sheet in enumerate(layout["sheets"]):
        board = Polygon(sheet["outline_mm"])
        shapes = [Polygon(p["outline_mm"]) for p in sheet["parts"]]
        for place, shape in zip(sheet["parts"], shapes):
            part = layout["parts"][place["part"]]
            key = (place["part"], place["copy"])
            seen[key] = seen.get(key, 0) + 1
            again = placed_again(part, place)
            if max(math.dist(a, b) for a, b in zip(again, place["outline_mm"])) > SAME:
                yield f"sheet {k}: {place['name']} is not the part"
            over = shape.difference(board).area
            room = board.exterior.distance(shape)
            if over > 0.01 or room < sheet["margin_mm"] - SAME:
                yield f"sheet {k}: {place['name']} {over:.3f} mm2 over, {room:.4f} mm inside"
        for i, a in enumerate(shapes):
            for j in range(i):
                gap = a.distance(shapes[j])
                both = a.intersection(shapes[j]).area
                if gap < kerf - SAME or both > 0.01:
                    names = sheet["parts"][i]["name"], sheet["parts"][j]["name"]
                    yield f"sheet {k}: {names} {gap:.4f} mm apart, {both:.3f} mm2 common"
        density = sum(s.area for s in shapes) / board.area
        if abs(density - sheet["density"]) > 1e-9:
            yield f"sheet {k}: density {density} printed as {sheet['density']}"
        gone = unary_union([s.buffer(kerf - 0.05) for s in shapes])
        offcuts = [Polygon(o) for o in sheet["offcuts_mm"]]
        for i, piece in enumerate(offcuts):
            if not piece.is_valid or piece.difference(board.buffer(0.5)).area > 1.0:
                yield f"sheet {k}: offcut {i} is none"
            # They are smoothed by a fifth of a millimetre.
            if piece.buffer(-0.3).intersection(gone).area > 1.0:
                yield f"sheet {k}: offcut {i} lies on a part or its saw cut"
            if any(piece.intersection(o).area > 1.0 for o in offcuts[:i]):
                yield f"sheet {k}: offcut {i} overlaps another"
        for cut in sheet["cuts"]:
            if cut["kind"] == "outline":
                continue
            saw = LineString(cut["path_mm"])
            near = min((saw.distance(s) for s in shapes), default=math.inf)
            if near < 0.5 * kerf - SAME:
                yield f"sheet {k}: a {cut['kind']} passes {near:.3f} mm from a part"
        outlines = sorted(c["part"] for c in sheet["cuts"] if c["kind"] == "outline")
        if outlines != list(range(len(shapes))):
            yield f"sheet {k}: outlines cut are {outlines}"
    wanted = sum(p["count"] for p in layout["parts"])
    if any(n != 1 for n in seen.values()) or len(seen) + len(layout["unplaced"]) != wanted:
        yield f"{len(seen)} placed, {len(layout['unplaced'])} told, of {wanted}"
    boards = {json.dumps(s["outline_mm"]) for s in layout["sheets"]}
    if layout["bought"] == len(layout["sheets"]) and len(boards) == 1:
        area = sum(Polygon(p["outline_mm"]).area for s in layout["sheets"] for p in s["parts"])
        board = Polygon(layout["sheets"][0]["outline_mm"]).area
        if layout["bought"] < math.ceil(area / board - 1e-9):
            yield "fewer sheets than the area of the parts"
        if layout["bought"] < layout["bound"]["sheets"] and not layout["unplaced"]:
            yield "fewer sheets than the bound"
        if layout["bought"] > on_shelves(layout):
            yield f"{layout['bought']} sheets, boxes on shelves take {on_shelves(layout)}"


def main():
    failed = False
    for name in sys.argv[1:]:
        with open(name, encoding="utf-8") as file:
            layout = json.load(file)
        found = list(faults(layout))
        failed |= bool(found)
        share = [f"{100 * s['density']:.1f}" for s in layout["sheets"]]
        print(f"{name}: {len(layout['sheets'])} sheets ({', '.join(share)} % full), "
              f"bound {layout['bound']['sheets']}: {'; '.join(found) or 'fine'}")
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    sys.exit(failed)


if __name__ == "__main__":
    main()
