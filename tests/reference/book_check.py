#!/usr/bin/env python3
"""Read the build book of a pack and lay it against the pack's report.

Independent truth: the book's pages as PyMuPDF and pypdf read them, and report.json.

Every page: its fonts embedded, no word over another and none off the paper (boxes as
paper_check.py measures them).  The book: title, language, bookmarks in the order of their
pages, a label on every page that is its number, links that lead within it, marked as tagged
and PDF/UA-1.  Its words: every finding, part of the hull's mass, board's piece, store with
its packs, load case and weight of the report; every heading of the contents stands on the
page that the contents name, and every piece of the index on each of its pages.

Run:  python book_check.py PACK_DIR…
Exit code 0 when all is well, 1 on a failure, 2 on bad usage.
Needs pymupdf, pypdf, shapely.  Writes nothing.
"""
import argparse
import json
import re
import sys
from pathlib import Path

import pymupdf
import pypdf

sys.path.insert(0, str(Path(__file__).parent))
from paper_check import check_page, squeezed, texts_of  # noqa: E402

MOST_BYTES = 3_000_000


def words_of(document):
    """The words of each page, single spaces between them, and of all pages after each other."""
    pages = [squeezed(" ".join(w[4] for w in page.get_text("words", sort=False))) for page in document]
    return pages, squeezed(" ".join(pages))


def check_file(path, fail):
    """What the file is by itself: size, fonts, bookmarks, labels, tags, links."""
    if path.stat().st_size > MOST_BYTES:
        fail(f"{path.stat().st_size} bytes")
    reader = pypdf.PdfReader(path)
    root = reader.trailer["/Root"]
    if not root["/MarkInfo"]["/Marked"] or "/StructTreeRoot" not in root:
        fail("not tagged")
    if not str(root.get("/Lang", "")).startswith("en"):
        fail("no language")
    if "pdfuaid:part" not in root["/Metadata"].get_object().get_data().decode("utf8"):
        fail("not marked as PDF/UA")
    if not root["/ViewerPreferences"].get("/DisplayDocTitle") or not reader.metadata.title:
        fail("no title")
    if reader.page_labels != [str(k + 1) for k in range(len(reader.pages))]:
        fail("labels are not the pages' numbers")
    marks = [reader.get_destination_page_number(m) for m in flat(reader.outline)]
    if len(marks) < 15 or marks != sorted(marks):
        fail(f"bookmarks on pages {marks}")
    links = 0
    for k, page in enumerate(reader.pages):
        for font in page["/Resources"].get("/Font", {}).values():
            inner = font.get_object()["/DescendantFonts"][0].get_object()["/FontDescriptor"]
            if not any(f"/FontFile{n}" in inner for n in ("", "2", "3")):
                fail(f"page {k + 1}: a font is not embedded")
        for note in page.get("/Annots", []):
            note = note.get_object()
            if note["/Subtype"] == "/Link":
                links += 1
                if "/Contents" not in note:
                    fail(f"page {k + 1}: a link says nothing")
    if links < 15:
        fail(f"{links} links")


def flat(outline):
    for item in outline:
        if isinstance(item, list):
            yield from flat(item)
        else:
            yield item


def check_words(pages, told, report, fail):
    """Everything of the report is told."""
    def tells(words, what):
        if squeezed(str(words)) not in told:
            fail(f"{what} is not told: {words!r}")

    stock = report["stock"]
    for f in report["findings"] + stock["findings"]:
        tells(f["message"].rstrip("."), "a finding")
    for item in report["afloat"]["items"]:
        tells(item["name"], "an item of the hull's mass")
    for case in report["afloat"]["cases"]:
        tells(case["name"], "a load case")
    for board in stock["lumber"]:
        for piece in board["cuts"]:
            tells(piece["name"], "a piece of a board")
    for b in stock["bought"]:
        tells(b["product"], "one of the stores")
    for member in report["members"]:
        tells(f"{100 * member['peak_strain']:.2f} %", "a strain")
        tells(member["name"], "a member")
    for frame in report["frames"]:
        tells(f"Frame {frame['station']}", "a frame")


def lines_of(page):
    """The lines of a page, top to bottom: words that stand on one baseline, left to right."""
    rows = {}
    for x, _, _, y, word, *_ in page.get_text("words"):
        rows.setdefault(round(y), []).append((x, word))
    return [[w for _, w in sorted(row)] for _, row in sorted(rows.items())]


def check_contents(document, pages, fail):
    """Headings on the pages that the contents name, pieces on those of the index."""
    contents = [k for k, p in enumerate(pages) if p.startswith("What is in it")]
    index = [k for k, p in enumerate(pages) if "Index of pieces" in p and k + 8 > len(pages)]
    if not contents or not index:
        fail("no contents, or no index")
        return
    headings = 0
    for row in lines_of(document[contents[0]]):
        if len(row) > 1 and row[-1].isdigit() and row[0] != "mark":
            heading, number = " ".join(row[:-1]), int(row[-1])
            if "mark" in row:
                continue
            headings += 1
            if number > len(pages) or heading not in pages[number - 1]:
                fail(f"{heading!r} is not on page {number}")
    if headings < 15:
        fail(f"{headings} headings in the contents")
    for row in lines_of(document[index[0]]):
        found = re.fullmatch(r"(.+?) (\d[\d, to]*)", " ".join(row))
        if not found or "mark" in row:
            continue
        for number in re.findall(r"\d+", found[2]):
            if int(number) > len(pages):
                fail(f"{found[1]!r} is said to be on page {number}")


def check_book(pack, fail):
    path = pack / "book.pdf"
    report = json.loads((pack / "report.json").read_text(encoding="utf8"))
    check_file(path, fail)
    document = pymupdf.open(path)
    for page in document:
        check_page(page, texts_of(page), fail)
    pages, told = words_of(document)
    check_words(pages, told, report, fail)
    check_contents(document, pages, fail)
    return len(pages)


def main():
    parser = argparse.ArgumentParser(description="Lay the build book of a pack against its report.")
    parser.add_argument("packs", type=Path, nargs="+", metavar="PACK_DIR")
    args = parser.parse_args()
    failures, total = [], 0
    for pack in args.packs:
        if not (pack / "book.pdf").is_file():
            print(f"{pack}: no book in it", file=sys.stderr)
            return 2
        total += check_book(pack, lambda message, pack=pack: failures.append(f"{pack}: {message}"))
    for f in failures:
        print("   FAIL", f)
    print(f"{len(args.packs)} books, {total} pages: " + ("all well" if not failures else f"{len(failures)} failure(s)"))
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
