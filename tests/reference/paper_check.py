#!/usr/bin/env python3
"""Read the words and count the pages of every PDF of a build pack.

Independent truth: the texts of NAME.dxf as ezdxf reads them (whole drawing, title and
notes below it), against what PyMuPDF reads from NAME.pdf or NAME-PAPER.pdf.

Every text of the DXF must be in the PDF: as a text of its own, or, where it is part of a
title or note (broken elsewhere there), as words in that order.  A text that found no
printed tile must be told on the first page.  Nothing printed may leave the page's border,
and no two texts of a page may overlap (boxes from each text's own origin, direction,
length and height of capitals).

Run:  python paper_check.py PACK_DIR [--most PAGES]
Exit code 0 when all is well, 1 on a failure, 2 on bad usage.
Needs ezdxf, pymupdf, shapely.  Writes nothing.
"""
import argparse
import collections
import re
import sys
from pathlib import Path

import ezdxf
import pymupdf
import shapely

POINT_MM = 25.4 / 72
BORDER = 9.5              # mm: what a desk printer leaves white, less a hair
CAPITALS = 0.668          # height of capitals over font size (the face's OS/2 table)
TAIL = 0.20               # a descender over font size
OVERLAP = 0.12            # mm²: two boxes that share more overprint
HALVED = "Half is drawn"
ELSEWHERE = "Written beside the printed tiles:"


def squeezed(text):
    return re.sub(r"\s+", " ", text).strip()


class Text:
    """One line of text on a page, mm."""

    def __init__(self, span):
        chars = span["chars"]
        self.text = squeezed("".join(c["c"] for c in chars))
        self.size = span["size"] * POINT_MM
        self.dir, self.at = span["dir"], tuple(v * POINT_MM for v in chars[0]["origin"])
        (ux, uy), (x, y) = self.dir, self.at
        # The far end: the furthest corner of the last character's box along the direction.
        x0, y0, x1, y1 = (v * POINT_MM for v in chars[-1]["bbox"])
        if abs(uy) < 1e-3 or abs(ux) < 1e-3:
            length = max((a - x) * ux + (b - y) * uy for a, b in ((x0, y0), (x1, y1), (x0, y1), (x1, y0)))
        else:
            last = tuple(v * POINT_MM for v in chars[-1]["origin"])
            length = (last[0] - x) * ux + (last[1] - y) * uy + 0.5 * self.size
        up, down = CAPITALS * self.size, TAIL * self.size
        nx, ny = uy, -ux                                  # up the text: y runs down the page
        self.box = shapely.Polygon([
            (x - down * nx, y - down * ny), (x + length * ux - down * nx, y + length * uy - down * ny),
            (x + length * ux + up * nx, y + length * uy + up * ny), (x + up * nx, y + up * ny)])


def texts_of(page):
    out = []
    for block in page.get_text("rawdict")["blocks"]:
        for line in block.get("lines", []):
            for span in line["spans"]:
                span["dir"] = line["dir"]
                if any(c["c"].strip() for c in span["chars"]):
                    out.append(Text(span))
    return out


def check_page(page, texts, fail):
    width, height = page.rect.width * POINT_MM, page.rect.height * POINT_MM
    inside = shapely.box(BORDER, BORDER, width - BORDER, height - BORDER)
    for t in texts:
        if not inside.covers(t.box):
            fail(f"page {page.number + 1}: {t.text!r} leaves the border")
    tree = shapely.STRtree([t.box for t in texts])
    for i, t in enumerate(texts):
        for j in tree.query(t.box):
            if j > i and t.box.intersection(texts[j].box).area > OVERLAP:
                fail(f"page {page.number + 1}: {t.text!r} overprints {texts[j].text!r}")


def check_pdf(path, dxf, fail):
    document = pymupdf.open(path)
    pages = [texts_of(page) for page in document]
    for page, texts in zip(document, pages):
        check_page(page, texts, fail)
    own = collections.Counter(t.text for texts in pages for t in texts)
    # In the order of the file, feet left out: a note may go on over two pages.
    running = squeezed(" ".join(
        t.text for page, texts in zip(document, pages) for t in texts
        if t.at[1] < page.rect.height * POINT_MM - 23.5))
    told = {w.strip().rstrip(".") for w in running.split(ELSEWHERE, 1)[-1].split(";")} if ELSEWHERE in running else set()
    whole = HALVED not in running
    wanted = collections.Counter(
        squeezed(e.plain_text()) for e in ezdxf.readfile(dxf).modelspace().query("TEXT"))
    words = 0
    for text, times in wanted.items():
        if not text:
            continue
        words += len(text.split())
        if own[text] >= (times if whole else 1) or text in told or any(w.startswith(text) for w in told):
            continue
        if own[text] and len(text.split()) < 4:
            fail(f"{text!r} stands {own[text]} times, not {times}")
        elif text not in running or (len(text.split()) < 2 and not text.endswith(".")):
            fail(f"{text!r} is not on paper")
    return len(pages), words


def main():
    parser = argparse.ArgumentParser(description="Read the words and count the pages of a build pack.")
    parser.add_argument("pack", type=Path, metavar="PACK_DIR")
    parser.add_argument("--most", type=int, metavar="PAGES", help="fail on more pages than this in all")
    args = parser.parse_args()
    if not args.pack.is_dir():
        print(f"{args.pack}: not a folder", file=sys.stderr)
        return 2
    failures, total, files = [], 0, 0
    for path in sorted(args.pack.rglob("*.pdf")):
        name = path.relative_to(args.pack)
        dxf = path.with_name(re.sub(r"-(a4|letter|roll)$", "", path.stem) + ".dxf")

        def fail(message, name=name):
            failures.append(f"{name}: {message}")
        if path.parent.name == "cards":
            # A card has no DXF and takes the place of tiles; its figures are layout_cards.py's.
            document = pymupdf.open(path)
            for page in document:
                check_page(page, texts_of(page), fail)
            if len(document) != 1:
                fail(f"{len(document)} pages")
            continue
        if path.name == "book.pdf":
            # Its words are book_check.py's.
            continue
        if not dxf.exists():
            fail("no DXF of that name to read its words from")
            continue
        files += 1
        try:
            pages, words = check_pdf(path, dxf, fail)
        except Exception as error:          # whatever a reader throws, the file is bad
            fail(f"cannot be read: {type(error).__name__}: {error}")
            continue
        total += pages
        print(f"{pages:4} pages, {words:4} words  {name}")
    if not files:
        failures.append("no .pdf files")
    if args.most is not None and total > args.most:
        failures.append(f"{total} pages, at most {args.most} are wanted")
    for failure in failures:
        print("   FAIL " + failure)
    print(f"{files} PDF files, {total} pages: " + ("all well" if not failures else f"{len(failures)} failure(s)"))
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
