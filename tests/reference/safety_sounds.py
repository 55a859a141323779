"""Makes the two lists by which a misspelt word is read as the word it sounds like.

With `right` it prints the words that are spelt rightly and left as they are: those of Debian's packages `wamerican-small` and
`wbritish-small` (SCOWL, size 35, by Kevin Atkinson), those that the pattern files name, a few that these lack, and shortened
verbs without their apostrophe. With `meant` it prints the words that a misspelt one may stand for, the most used first: those that stand in enough of
the sentences of `tests/data/safety/taught`. With `codes` it prints the words of its input, each with its codes by Double
Metaphone as the package Metaphone has them.
"""
import re
import sys
from collections import Counter
from pathlib import Path

from metaphone import doublemetaphone

LEAST = 10  # sentences that make a word one to be looked for
SHORTEST, LONGEST = 3, 14  # letters of a word that is looked for
SUBJECTS = "i you he she it we they who what that there would could should might must".split()
LACKED = "barracks conscript".split()  # were read as words that sound like them
SHORTENED = ["d", "ll", "ve"]

ROOT = Path(__file__).resolve().parents[2]
WORD = re.compile(r"[a-z]+(?:['’][a-z]+)*")


def words(text):
    return {re.sub("['’]", "", word) for word in WORD.findall(text.lower())}


def coded(word):
    first, second = doublemetaphone(word)
    return "\t".join((word, first, second if second != first else ""))


def main(wanted):
    if wanted == "codes":
        print(*map(coded, sys.stdin.read().split()), sep="\n")
        return
    right = set()
    for name in ("american", "british"):
        listed = Path(f"/usr/share/dict/{name}-english-small").read_text(encoding="utf-8").split()
        right |= {word for one in listed if one.isascii() for word in words(one)}
    for path in (ROOT / "src/safety/patterns").glob("*.toml"):
        if path.name != "spelling.toml":
            right |= words(path.read_text(encoding="utf-8"))
    right |= set(LACKED)
    right |= {subject + verb for subject in SUBJECTS for verb in SHORTENED}
    if wanted == "right":
        print(*sorted(right), sep="\n")
        return
    often = Counter()
    for path in sorted((ROOT / "tests/data/safety/taught").glob("*.tsv")):
        for line in path.read_text(encoding="utf-8").splitlines()[1:]:
            often.update(words(line.split("\t")[-1]))
    for word, count in sorted(often.items(), key=lambda one: (-one[1], one[0])):
        if count >= LEAST and word in right and SHORTEST <= len(word) <= LONGEST:
            print(word)


if __name__ == "__main__":
    main(sys.argv[1])
