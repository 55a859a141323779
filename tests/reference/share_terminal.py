"""Runs a program at a terminal of a given size and presses keys, each once the screen has shown what it waits for.

Arguments: rows, columns, then the program and its arguments. Standard input: JSON, a list of [awaited, keys] pairs.
Standard output: JSON with everything the program wrote, the same in pieces by step, and its exit code.
"""

import fcntl
import json
import os
import pty
import select
import struct
import sys
import termios

# A program that hangs must not hang the test; this only bounds the wait, nothing is measured by it.
LONGEST_SILENCE = 120


def read_some(master):
    if not select.select([master], [], [], LONGEST_SILENCE)[0]:
        raise SystemExit("the program was silent for too long")
    try:
        return os.read(master, 65536)
    except OSError:
        return b""


def main():
    rows, columns = int(sys.argv[1]), int(sys.argv[2])
    steps = json.load(sys.stdin)
    pid, master = pty.fork()
    if pid == 0:
        size = struct.pack("HHHH", rows, columns, 0, 0)
        fcntl.ioctl(0, termios.TIOCSWINSZ, size)
        os.execv(sys.argv[3], sys.argv[3:])
    pieces = []
    open_end = True
    for awaited, keys in steps:
        piece = b""
        while awaited.encode() not in piece:
            read = read_some(master)
            if not read:
                open_end = False
                break
            piece += read
        pieces.append(piece)
        if not open_end:
            break
        os.write(master, keys.encode())
    rest = b""
    while open_end:
        read = read_some(master)
        open_end = bool(read)
        rest += read
    pieces.append(rest)
    _, status = os.waitpid(pid, 0)
    texts = [piece.decode("utf-8", "replace") for piece in pieces]
    json.dump({"pieces": texts, "all": "".join(texts), "code": os.waitstatus_to_exitcode(status)}, sys.stdout)


main()
