#!/usr/bin/env python3
"""Open every drawing of a build pack with other people's readers.

Independent truth: ezdxf reads and audits each .dxf; lxml reads each .svg, whose
width and height in mm must be those of its viewBox (one user unit = 1 mm); pypdf
reads each .pdf in strict mode and gives its page sizes.

Fails on: a file that cannot be read, any audit error (or flaw that ezdxf had to
repair), a .dxf without units or without text, an .svg that is not 1:1, a .pdf
without pages, a pack without any of these files.

Run:  python files_check.py PACK_DIR
Exit code 0 when all is well, 1 on a failure, 2 on bad usage.  Needs ezdxf, lxml, pypdf.
"""
import argparse
import collections
import logging
import math
import re
import sys
from pathlib import Path

import ezdxf
import ezdxf.bbox
import ezdxf.units
from lxml import etree
from pypdf import PdfReader

SVG = "{http://www.w3.org/2000/svg}"
RATIO = 1e-6              # relative: width in mm against the viewBox
POINT_MM = 25.4 / 72


def counts(counter):
    return ", ".join(f"{n} {k}" for k, n in sorted(counter.items())) or "none"


def check_dxf(path, fail):
    doc = ezdxf.readfile(path)
    auditor = doc.audit()
    for item in auditor.errors:
        fail(f"audit error {item.code}: {item.message}")
    for item in auditor.fixes:
        fail(f"audit repaired {item.code}: {item.message}")
    # from the file itself: where the header lacks it, ezdxf fills in a default of its own
    raw = re.search(rb"\$INSUNITS\s*\r?\n\s*70\s*\r?\n\s*(\d+)", path.read_bytes())
    units = int(raw.group(1)) if raw else 0
    try:
        unit_name = ezdxf.units.decode(units) or "none"
    except (IndexError, KeyError, ValueError):
        unit_name = "unknown"
    if units == 0:
        fail("$INSUNITS is missing or unitless")
    print(f"   version {doc.dxfversion}, $INSUNITS {units} ({unit_name})")

    types, per_layer = collections.Counter(), collections.defaultdict(collections.Counter)
    texts = []

    def walk(entities, seen):
        for e in entities:
            kind, layer = e.dxftype(), e.dxf.get("layer", "0")
            types[kind] += 1
            per_layer[layer][kind] += 1
            if kind == "TEXT":
                texts.append(e.dxf.text)
            elif kind == "MTEXT":
                texts.append(e.plain_text())
            elif kind == "INSERT" and e.dxf.name not in seen and e.dxf.name in doc.blocks:
                walk(doc.blocks.get(e.dxf.name), seen | {e.dxf.name})

    for layout in doc.layouts:
        walk(layout, frozenset())
    print(f"   entities: {counts(types)}")
    for layer in sorted(per_layer):
        row = doc.layers.get(layer) if layer in doc.layers else None
        how = f"colour {row.dxf.color}, {row.dxf.linetype}" if row is not None else "not in the layer table"
        print(f"   layer {layer!r} ({how}): {counts(per_layer[layer])}")
    empty = sorted(r.dxf.name for r in doc.layers
                   if r.dxf.name not in per_layer and r.dxf.name not in ("0", "Defpoints"))
    if empty:
        print("   layers without entities: " + ", ".join(repr(n) for n in empty))
    box = ezdxf.bbox.extents(doc.modelspace(), fast=True)
    if box.has_data:
        size = box.size
        print(f"   extents {size.x:.2f} x {size.y:.2f} drawing units")
        if not all(math.isfinite(v) for v in (size.x, size.y)):
            fail("extents are not finite")
    else:
        fail("nothing in model space")
    words = [t for t in texts if t and t.strip()]
    print(f"   texts: {len(words)}" + (f", first {words[0]!r}" if words else ""))
    if not words:
        fail("no text")


def check_svg(path, fail):
    root = etree.parse(path, etree.XMLParser(resolve_entities=False, no_network=True)).getroot()
    if root.tag != SVG + "svg":
        fail(f"root element is {root.tag}")
        return
    sizes = []
    for name in ("width", "height"):
        text = root.get(name, "")
        match = re.fullmatch(r"\s*([0-9.]+(?:[eE][-+]?\d+)?)\s*mm\s*", text)
        if not match:
            fail(f"{name} is {text!r}, not in mm")
            return
        sizes.append(float(match.group(1)))
    try:
        box = [float(v) for v in re.split(r"[\s,]+", root.get("viewBox", "").strip())]
        assert len(box) == 4
    except (ValueError, AssertionError):
        fail(f"viewBox is {root.get('viewBox')!r}")
        return
    kinds = collections.Counter(etree.QName(e).localname for e in root.iter(etree.Element))
    print(f"   {sizes[0]:g} x {sizes[1]:g} mm, viewBox {box[2]:g} x {box[3]:g}")
    print(f"   elements: {counts(kinds)}")
    for name, mm, unit in (("width", sizes[0], box[2]), ("height", sizes[1], box[3])):
        if mm <= 0 or abs(mm - unit) > RATIO * mm:
            fail(f"{name} {mm} mm against {unit} in the viewBox: not 1:1")
    for e in root.iter(etree.Element):
        for name, value in e.attrib.items():
            if re.search(r"(?<![A-Za-z])(nan|inf|infinity)(?![A-Za-z])", value, re.I) and name in (
                    "d", "points", "x", "y", "x1", "y1", "x2", "y2", "cx", "cy", "r", "width", "height", "transform"):
                fail(f"{etree.QName(e).localname} has {name}={value[:60]!r}")


class Warnings(logging.Handler):
    def __init__(self):
        super().__init__(logging.WARNING)
        self.found = []

    def emit(self, record):
        self.found.append(record.getMessage())


def check_pdf(path, fail):
    heard = Warnings()
    log = logging.getLogger("pypdf")
    log.addHandler(heard)
    log.propagate = False
    try:
        reader = PdfReader(path, strict=True)
        sizes, characters = collections.Counter(), 0
        for page in reader.pages:
            unit = float(page.get("/UserUnit", 1.0))
            w, h = float(page.mediabox.width) * unit * POINT_MM, float(page.mediabox.height) * unit * POINT_MM
            sizes[(round(w, 2), round(h, 2))] += 1
            characters += len(page.extract_text())
            contents = page.get_contents()
            if contents is None or not contents.get_data().strip():
                fail("a page is empty")
    finally:
        log.removeHandler(heard)
    for message in heard.found:
        fail("reader warns: " + message)
    if not sizes:
        fail("no pages")
    for (w, h), n in sizes.items():
        print(f"   {n} page{'s' if n > 1 else ''} of {w:.2f} x {h:.2f} mm")
        if w <= 0 or h <= 0:
            fail("a page without size")
    print(f"   characters of text: {characters}")


def main():
    parser = argparse.ArgumentParser(description="Read every .dxf, .svg and .pdf of a build pack.")
    parser.add_argument("pack", type=Path)
    args = parser.parse_args()
    if not args.pack.is_dir():
        print(f"{args.pack}: not a folder", file=sys.stderr)
        return 2
    readers = {".dxf": check_dxf, ".svg": check_svg, ".pdf": check_pdf}
    failures, number = [], collections.Counter()
    for path in sorted(p for p in args.pack.rglob("*") if p.is_file() and p.suffix.lower() in readers):
        name = path.relative_to(args.pack)
        print(name)

        def fail(message, name=name):
            failures.append(f"{name}: {message}")
            print("   FAIL " + message)
        number[path.suffix.lower()] += 1
        try:
            readers[path.suffix.lower()](path, fail)
        except Exception as error:          # whatever a reader throws, the file is bad
            fail(f"cannot be read: {type(error).__name__}: {error}")
    if not number:
        failures.append("no .dxf, .svg or .pdf files")
    print(f"\n{counts(number)}: " + ("all well" if not failures else f"{len(failures)} failure(s)"))
    for failure in failures:
        print("   " + failure)
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
