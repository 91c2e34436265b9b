#!/usr/bin/env python3
"""Lay the written sheets of a build pack against its report, by other people's readers.

Independent truth: ezdxf reads each sheets/sheet-N.dxf; shapely says whether the closed rings on
its layer CUT lie on the sheet less its margin, how far they are apart, and how large they are;
Python's csv reads lists/*.csv.  What they must agree with is the key `stock` of report.json.

Checked of every sheet: each part of the report has one ring of its own with the same area and
the same middle; every ring is inside the sheet's edge less the margin; any two are at least the
saw's cut apart, less 0.05 mm; the layers CUT, MARK and ENGRAVE are there and nothing but closed
rings lies on CUT; the sheet's edge is that of the report.
Checked of the lists: rows and sums of sheets, cuts, lumber, joints, stores and costs.

Run:  python sheets_check.py PACK_DIR…
Exit code 0 when all is well, 1 on a failure, 2 on bad usage.  Needs ezdxf, shapely.
"""
import argparse
import csv
import json
import math
import sys
from pathlib import Path

import ezdxf
from shapely.geometry import Polygon

APART = 0.05              # mm: what may be missing of the saw's cut
EDGE = 0.05               # mm: what may be missing of the margin
AREA = 1e-4               # relative, and as many mm² beside: rounding to 1e-4 mm
MIDDLE = 0.01             # mm
LENGTH = 0.06             # mm: figures of a list are to a tenth


def ring_of(polyline):
    return Polygon([(p[0], p[1]) for p in polyline.get_points()])


def check_sheet(path, sheet, fail):
    doc = ezdxf.readfile(path)
    for layer in ("CUT", "MARK", "ENGRAVE"):
        if layer not in doc.layers:
            fail(f"no layer {layer}")
    cut = list(doc.modelspace().query('*[layer=="CUT"]'))
    if any(e.dxftype() != "LWPOLYLINE" or not e.closed for e in cut):
        fail("something else than closed rings on the layer CUT")
        return
    rings = [ring_of(e) for e in cut]
    edges = [ring_of(e) for e in doc.modelspace().query('LWPOLYLINE[layer=="SHEET_EDGE"]')]
    stock = Polygon(sheet["outline_mm"])
    if len(edges) != 1 or edges[0].symmetric_difference(stock).area > 1.0:
        fail("its edge is not that of the report")
    inner = stock.buffer(-(sheet["margin_mm"] - EDGE), join_style="mitre")
    parts = sheet["parts"]
    if len(rings) != len(parts):
        fail(f"{len(rings)} rings are cut, the report has {len(parts)} parts")
        return
    left = list(range(len(rings)))
    for part in parts:
        told = Polygon(part["outline_mm"])
        at = min(left, key=lambda i: rings[i].centroid.distance(told.centroid))
        left.remove(at)
        off = rings[at].centroid.distance(told.centroid)
        if off > MIDDLE or abs(rings[at].area - told.area) > AREA * (1.0 + told.area):
            fail(f"{part['name']}: {rings[at].area:.1f} mm² {off:.3f} mm off, reported {told.area:.1f} mm²")
    for i, ring in enumerate(rings):
        if not ring.is_valid:
            fail(f"ring {i + 1} crosses itself")
        elif not inner.covers(ring):
            fail(f"ring {i + 1} leaves the sheet less its margin by {ring.difference(inner).area:.2f} mm²")
    for i, a in enumerate(rings):
        for j in range(i):
            apart = a.distance(rings[j])
            if apart < sheet["kerf_mm"] - APART:
                fail(f"rings {j + 1} and {i + 1} are {apart:.3f} mm apart, the saw takes {sheet['kerf_mm']} mm")


def rows_of(pack, name):
    with open(pack / "lists" / f"{name}.csv", newline="", encoding="utf-8") as file:
        text = file.read()
    if text.count("\n") != text.count("\r\n"):
        raise ValueError(f"lists/{name}.csv: lines do not end in CR LF")
    rows = list(csv.DictReader(text.splitlines(keepends=True), strict=True))
    if any(None in row or None in row.values() for row in rows):
        raise ValueError(f"lists/{name}.csv: a row of another length than the head")
    return rows


def total(rows, column):
    return sum(float(row[column]) for row in rows if row[column] != "")


def check_lists(pack, stock, fail):
    def same(what, found, wanted, within):
        if not math.isclose(found, wanted, rel_tol=1e-9, abs_tol=within):
            fail(f"{what}: {found} in the list, {wanted} in the report")

    sheets = stock["sheets"]
    parts = [p for s in sheets for p in s["parts"]]
    rows = rows_of(pack, "sheets")
    same("parts on sheets", len(rows), len(parts), 0)
    same("area of parts", total(rows, "area_mm2"), sum(Polygon(p["outline_mm"]).area for p in parts), len(parts))
    same("sheets", len({r["sheet"] for r in rows}), len(sheets), 0)
    rows = rows_of(pack, "cuts")
    straight = [r for r in rows if r["cut"] != "outline"]
    told = [c["path_mm"] for s in sheets for c in s["straight_cuts"]]
    same("straight cuts", len(straight), len(told), 0)
    same("their length", total(straight, "length_mm"), sum(math.dist(p[0], p[-1]) for p in told), LENGTH * (1 + len(told)))
    same("outlines to saw", len(rows) - len(straight), len(parts), 0)
    rows = rows_of(pack, "lumber")
    cuts = [c for b in stock["lumber"] for c in b["cuts"]]
    same("cuts of lumber", len(rows), len(cuts), 0)
    same("their length", total(rows, "cut_length_mm"), sum(c["length_mm"] for c in cuts), LENGTH * (1 + len(cuts)))
    same("boards", len({r["board"] for r in rows}), len(stock["lumber"]), 0)
    rows = rows_of(pack, "joints")
    same("joints", len(rows), len(stock["joints"]), 0)
    same("their length", total(rows, "length_mm"), sum(j["length_mm"] for j in stock["joints"]), LENGTH * (1 + len(rows)))
    rows = rows_of(pack, "stores")
    same("stores", len(rows), len(stock["stores"]), 0)
    same("packs", total(rows, "packs"), sum(s["packs"] for s in stock["bought"]), 0)
    same("quantities", total(rows, "quantity"), sum(s["quantity"] for s in stock["stores"]), 0.001 * (1 + len(rows)))
    rows = rows_of(pack, "costs")
    same("cost", total(rows, "price"), stock["known_cost"], 0.01 * (1 + len(rows)))
    # Alike sheets and boards stand in one row, the packs of a product are one thing.
    bought = [r for r in rows if r["price"] == "" and r["count"] != "0"]
    same("things without a price", len(bought), stock["without_price"], 0)
    yard = [r for r in rows if r["for"] != "stores"]
    same("sheets and boards", total(yard, "count"), len(stock["sheets"]) + len(stock["lumber"])
         + sum(b["count"] for b in stock["for_boxes"]), 0)


def main():
    parser = argparse.ArgumentParser(description="Lay sheets and lists of a build pack against its report.")
    parser.add_argument("packs", type=Path, nargs="+", metavar="PACK_DIR")
    args = parser.parse_args()
    failures, files = [], 0
    for pack in args.packs:
        if not pack.is_dir():
            print(f"{pack}: not a folder", file=sys.stderr)
            return 2

        def fail(message, where=pack):
            failures.append(f"{where}: {message}")
        try:
            stock = json.loads((pack / "report.json").read_text(encoding="utf-8"))["stock"]
            written = {p.stem for p in (pack / "sheets").glob("*.dxf")}
            wanted = {f"sheet-{s['number']}" for s in stock["sheets"]}
            if not wanted or written != wanted:
                fail(f"sheets written {sorted(written)}, reported {sorted(wanted)}")
            for sheet in stock["sheets"]:
                path = pack / "sheets" / f"sheet-{sheet['number']}.dxf"
                if path.exists():
                    files += 1
                    check_sheet(path, sheet, lambda m, p=path: failures.append(f"{p}: {m}"))
            check_lists(pack, stock, fail)
        except Exception as error:          # whatever a reader throws, the pack is bad
            fail(f"cannot be read: {type(error).__name__}: {error}")
    for failure in failures:
        print("   FAIL " + failure)
    print(f"{files} sheets of {len(args.packs)} packs: " + ("all well" if not failures else f"{len(failures)} failure(s)"))
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
