"""Compares two pictures of the same page, drawn by two programs: our PNG, and a browser's screenshot of our SVG.

Both are blurred a little first, since programs smooth the edges of letters differently. Prints the mean difference in
grey levels (0 to 255) and the share of dots, in percent, that differ by more than a quarter of the range.
"""

import sys

from PIL import Image, ImageChops, ImageFilter


def main():
    first, second = (Image.open(path).convert("L") for path in sys.argv[1:3])
    width, height = min(first.width, second.width), min(first.height, second.height)
    assert abs(first.width - second.width) <= 1 and abs(first.height - second.height) <= 1, (first.size, second.size)
    box = (0, 0, width, height)
    blurred = [picture.crop(box).filter(ImageFilter.GaussianBlur(1.5)) for picture in (first, second)]
    counts = ImageChops.difference(*blurred).histogram()
    dots = width * height
    mean = sum(level * count for level, count in enumerate(counts)) / dots
    far = sum(counts[65:]) / dots * 100
    print(f"{mean:.3f} {far:.3f}")


main()
