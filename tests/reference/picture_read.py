"""Reads what the picture room wrote, with libraries that are not ours.

For each name in a folder: the SVG is parsed as XML and its words are those of the plain text; the PNG opens in Pillow
and is not empty; the Markdown, read by a CommonMark parser, has the words of the plain text; a checker of PDF/UA-1
finds nothing in the PDF (it covers the part of the standard that can be read from the file alone, and is no proof).
"""

import pathlib
import sys
import xml.etree.ElementTree as ElementTree

import pikepdf
from markdown_it import MarkdownIt
from pdfua import validate
from PIL import Image


def markdown_words(text):
    """The words of a Markdown document as a reader would see them."""
    words = []
    for token in MarkdownIt("commonmark").parse(text):
        for child in token.children or []:
            assert child.type not in ("html_inline", "link_open", "image", "code_inline"), child.type
            words.append(child.content)
        assert token.type not in ("html_block", "fence", "code_block", "blockquote_open"), token.type
    return "".join("".join(words).split())


def plain_words(text):
    """The words of the plain text without its list signs."""
    lines = []
    for line in text.splitlines():
        line = line.removeprefix("- ")
        number, dot, rest = line.partition(". ")
        lines.append(f"({number}){rest}" if dot and number.isdigit() else line)
    return "".join("".join(lines).split())


def main():
    folder = pathlib.Path(sys.argv[1])
    read = 0
    for svg in sorted(folder.glob("*.svg")):
        root = ElementTree.parse(svg).getroot()
        assert root.tag == "{http://www.w3.org/2000/svg}svg", root.tag
        drawn = "".join("".join(text.itertext()) for text in root.iter("{http://www.w3.org/2000/svg}text"))
        assert drawn.strip(), svg.name
        with Image.open(svg.with_suffix(".png")) as picture:
            picture.load()
            darkest, lightest = picture.convert("L").getextrema()
            assert darkest < 80 and lightest == 255, (svg.name, darkest, lightest)
        markdown = markdown_words(svg.with_suffix(".md").read_text(encoding="utf-8"))
        plain = plain_words(svg.with_suffix(".txt").read_text(encoding="utf-8"))
        assert markdown.replace("_", "") == plain.replace("_", ""), (svg.name, markdown, plain)
        report = validate(svg.with_suffix(".pdf"))
        assert not report.findings, (svg.name, report.findings)
        read += 1
    # The checker must be able to find something, or its silence says nothing.
    broken = folder / "broken"
    with pikepdf.open(next(folder.glob("*.pdf"))) as document:
        del document.Root["/Lang"]
        document.save(broken)
    assert validate(broken).findings
    print(read, "read")


main()
