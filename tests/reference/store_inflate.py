"""Prints the age file of one of age's test vectors that is compressed: store_inflate.py FILE."""

import sys
import zlib

with open(sys.argv[1], "rb") as file:
    _, body = file.read().split(b"\n\n", 1)
sys.stdout.buffer.write(zlib.decompress(body))
