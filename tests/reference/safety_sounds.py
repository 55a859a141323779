"""Makes the two lists by which a misspelt word is read as the word it sounds like.

With `right` it prints the words that are spelt rightly and left as they are: those of Debian's packages `wamerican-small` and
`wbritish-small` (SCOWL, size 35, by Kevin Atkinson), those that the pattern files name, a few that these lack, and shortened
verbs without their apostrophe; and the longer ones of `wamerican` and `wbritish` (SCOWL, size 50), but for those that are one step of
writing from a word that sounds the same and may be meant ("petrel"), since that is more likely. With `meant` it prints the words that a misspelt one may stand for, the most used first: those that stand in enough of
the sentences of `tests/data/safety/taught`. With `codes` it prints the words of its input, each with its codes by Double
Metaphone as the package Metaphone has them.
"""
import re
import sys
from collections import Counter
from collections import defaultdict
from pathlib import Path

from metaphone import doublemetaphone

LEAST = 10  # sentences that make a word one to be looked for
SHORTEST, LONGEST = 3, 14  # letters of a word that is looked for
SUBJECTS = "i you he she it we they who what that there would could should might must".split()
LACKED = "barracks betsy conscript".split()  # were read as words that sound like them
LONG = 6  # letters of a word that is taken from the larger lists
SHORTENED = ["d", "ll", "ve"]

ROOT = Path(__file__).resolve().parents[2]
WORD = re.compile(r"[a-z]+(?:['’][a-z]+)*")
WHOLE = re.compile("[a-z]+")


def words(text):
    return {re.sub("['’]", "", word) for word in WORD.findall(text.lower())}


def coded(word):
    first, second = doublemetaphone(word)
    return "\t".join((word, first, second if second != first else ""))


def listed(size):
    """The words of both lists of a size, as they are written there."""
    for name in ("american", "british"):
        yield from Path(f"/usr/share/dict/{name}-english{size}").read_text(encoding="utf-8").split()


def shortened(word):
    """A word, and what it is without each one of its letters, or with two beside each other swapped."""
    yield word
    for at in range(len(word)):
        yield word[:at] + word[at + 1 :]
        yield word[:at] + word[at : at + 2][::-1] + word[at + 2 :]


def one_step(words):
    """The words by what they are within a step of."""
    near = defaultdict(set)
    for word in words:
        for short in shortened(word):
            near[short].add(word)
    return near


def mistaken(word, near):
    """Whether a word is one step of writing from another that sounds the same."""
    codes = set(filter(None, doublemetaphone(word)))
    others = {other for short in shortened(word) for other in near[short]}
    return any(codes & set(doublemetaphone(other)) for other in others)


def main(wanted):
    if wanted == "codes":
        print(*map(coded, sys.stdin.read().split()), sep="\n")
        return
    right = {word for one in listed("-small") if one.isascii() for word in words(one)}
    for path in (ROOT / "src/safety/patterns").glob("*.toml"):
        if path.name != "spelling.toml":
            right |= words(path.read_text(encoding="utf-8"))
    right |= set(LACKED)
    right |= {subject + verb for subject in SUBJECTS for verb in SHORTENED}
    often = Counter()
    for path in sorted((ROOT / "tests/data/safety/taught").glob("*.tsv")):
        for line in path.read_text(encoding="utf-8").splitlines()[1:]:
            often.update(words(line.split("\t")[-1]))
    meant = [
        word
        for word, count in sorted(often.items(), key=lambda one: (-one[1], one[0]))
        if count >= LEAST and word in right and SHORTEST <= len(word) <= LONGEST
    ]
    if wanted == "right":
        near = one_step(meant)
        right |= {one for one in listed("") if LONG <= len(one) and WHOLE.fullmatch(one) and not mistaken(one, near)}
        meant = sorted(right)
    print(*meant, sep="\n")


if __name__ == "__main__":
    main(sys.argv[1])
