"""Times a general document compiler (typst) on the words of the bench: 40 entries in four fields. Prints the median in ms."""

import pathlib
import statistics
import time

import typst

FONTS = pathlib.Path(__file__).parents[2] / "src" / "picture" / "fonts"
FIELDS = ["What matters", "What shows up", "Away moves", "Toward moves"]


def source():
    cells = []
    for field, heading in enumerate(FIELDS):
        items = "\n".join(f"+ water the beans before work, day {at}" for at in range(field, 40, 4))
        cells.append(f"[== {heading}\n{items}\n]")
    return (
        '#set page(paper: "a4", flipped: true, margin: 12mm)\n'
        '#set text(font: "Atkinson Hyperlegible Next", size: 12pt, lang: "en")\n'
        '#set document(title: "My map")\n= My map\n'
        f"#grid(columns: (1fr, 1fr), gutter: 8mm, {', '.join(cells)})\n"
    ).encode()


def main():
    compiler = typst.Compiler(source(), font_paths=[str(FONTS)])
    times = []
    for _ in range(21):
        start = time.perf_counter()
        compiler = typst.Compiler(source(), font_paths=[str(FONTS)], ignore_system_fonts=True)
        pdf = compiler.compile(format="pdf")
        times.append((time.perf_counter() - start) * 1000)
    assert pdf.startswith(b"%PDF")
    print(f"{statistics.median(times):.2f}")


main()
