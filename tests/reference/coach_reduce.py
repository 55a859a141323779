"""Reduces WordNet 3.0 (Debian `wordnet-base`) to the small table that the entry check embeds.

    python3 tests/reference/coach_reduce.py /usr/share/wordnet src/coach/wordnet/table.bin

Only the standard library is used. For each word that is kept, the table says which parts of speech it has, how often each
was met in WordNet's sense-tagged texts, the two lexicographer classes that carry most of its senses, and a few marks
that come from WordNet's pointers: a noun below "trait", an adjective derived from a feeling, and so on.

A sense weighs its count in `cntlist.rev` plus a half over its rank, so that an untagged word still leans to its first
sense. The layout is described in `src/coach/wordnet.rs`, which reads it.
"""

import collections
import re
import struct
import sys

POS = {"n": "noun", "v": "verb", "a": "adj", "r": "adv"}
BLOCK = 16
PARTICLES = set("up down out off in on over away back through around about along apart together under after at by for to with into onto".split())

# Marks on a word. A mark is set when at least half of the weight of the word's senses carries it.
TRAIT, MIND, ILL, SENSED, WEATHER, SCORNED, KIN, STIRS, ADJ_TRAIT, ADJ_FELT, ADJ_BODY = (1 << i for i in range(11))

# A noun carries a mark when a sense lies below one of these, given as word and sense number in WordNet 3.0.
BELOW = {
    TRAIT: [("trait", 1), ("good", 2), ("virtue", 1)],
    MIND: [("psychological_state", 1), ("feeling", 1), ("emotional_state", 1), ("mental_disorder", 1), ("motivation", 1)],
    ILL: [("ill_health", 1), ("illness", 1), ("disease", 1), ("injury", 1)],
    SENSED: [("symptom", 1), ("pain", 1), ("pain", 2), ("somesthesia", 1), ("somatic_sensation", 1), ("physiological_state", 1), ("sensation", 1)],
    WEATHER: [("weather", 1), ("atmospheric_phenomenon", 1), ("season", 1)],
    SCORNED: [("bad_person", 1), ("unpleasant_person", 1), ("unfortunate", 1), ("fool", 1), ("failure", 2), ("failure", 3), ("weakling", 1), ("incompetent", 1), ("deceiver", 1), ("coward", 1)],
    KIN: [("relative", 1), ("spouse", 1), ("lover", 1), ("friend", 1), ("superior", 1), ("leader", 1), ("neighbor", 1), ("associate", 1), ("peer", 1)],
}


class Synset:
    __slots__ = ("lex", "words", "pointers", "frames", "kind", "numbers")


def read_data(folder, name):
    synsets = {}
    for line in open(f"{folder}/data.{name}", encoding="ascii"):
        if line.startswith("  "):
            continue
        f = line.split(" | ")[0].split()
        s = Synset()
        s.lex, s.kind = int(f[1]), f[2]
        count = int(f[3], 16)
        s.words = [f[4 + 2 * i] for i in range(count)]
        s.numbers = [int(f[5 + 2 * i], 16) for i in range(count)]
        at = 4 + 2 * count
        pointers = int(f[at])
        s.pointers = [tuple(f[at + 1 + 4 * i : at + 5 + 4 * i]) for i in range(pointers)]
        at += 1 + 4 * pointers
        s.frames = []
        if name == "verb" and at < len(f):
            s.frames = [(int(f[at + 2 + 3 * i]), int(f[at + 3 + 3 * i], 16)) for i in range(int(f[at]))]
        synsets[f[0]] = s
    return synsets


def read_index(folder, name):
    index = {}
    for line in open(f"{folder}/index.{name}", encoding="ascii"):
        if not line.startswith(" "):
            f = line.split()
            index[f[0]] = f[len(f) - int(f[2]) :]
    return index


def read_counts(folder):
    """Counts by sense key without the head's number (senseidx(5WN)): lemma, kind, class, number in it, head."""
    counts = collections.Counter()
    for line in open(f"{folder}/cntlist.rev", encoding="ascii"):
        key, _, count = line.split()
        lemma, rest = key.split("%")
        kind, lex, number, head, _ = rest.split(":")
        counts[(lemma, int(kind), int(lex), int(number), head)] = int(count)
    return counts


def sense_count(counts, synsets, offset, word):
    s = synsets[offset]
    head = ""
    if s.kind == "s":
        satellite_of = next(p[1] for p in s.pointers if p[0] == "&")
        head = synsets[satellite_of].words[0].lower().split("(")[0]
    kind = {"n": 1, "v": 2, "a": 3, "r": 4, "s": 5}[s.kind]
    return sum(
        counts[(word, kind, s.lex, number, head)]
        for w, number in zip(s.words, s.numbers)
        if w.lower().split("(")[0] == word
    )


def main(folder, target):
    data = {name: read_data(folder, name) for name in POS.values()}
    index = {name: read_index(folder, name) for name in POS.values()}
    counts = read_counts(folder)
    roots = {m: {index["noun"][w][n - 1] for w, n in words if w in index["noun"]} for m, words in BELOW.items()}

    def below(offset, seen=None):
        found, todo, seen = 0, [offset], set()
        while todo:
            o = todo.pop()
            if o in seen:
                continue
            seen.add(o)
            for mark, at in roots.items():
                if o in at:
                    found |= mark
            todo += [p[1] for p in data["noun"][o].pointers if p[0] in ("@", "@i")]
        return found

    cache = {}

    def noun_marks(offset):
        if offset not in cache:
            cache[offset] = below(offset)
        return cache[offset]

    def adjective_marks(offset, follow=True):
        s = data["adj"][offset]
        nouns = [p[1] for p in s.pointers if p[2] == "n" and p[0] in ("=", "+")]
        marks = 0
        for n in nouns:
            lex, m = data["noun"][n].lex, noun_marks(n)
            if m & TRAIT:
                marks |= ADJ_TRAIT
            if lex == 12 or m & MIND:
                marks |= ADJ_FELT
            if m & (SENSED | ILL):
                marks |= ADJ_BODY
        if not marks and follow:
            for p in s.pointers:
                if p[0] == "&":
                    marks |= adjective_marks(p[1], False)
        return marks

    def stirs(offset, word):
        s = data["verb"][offset]
        return any(frame == 10 and (at == 0 or s.words[at - 1].lower() == word) for frame, at in s.frames)

    known, kept = collections.defaultdict(dict), set()
    for pos, name in enumerate(POS.values()):
        for word, offsets in index[name].items():
            parts = word.split("_")
            if not re.fullmatch(r"[a-z][a-z'-]*[a-z]|i|o", parts[0]) or len(word) > 20 or len(parts) > 2:
                continue
            if len(parts) == 2 and not (name == "verb" and parts[1] in PARTICLES):
                continue
            tags = [sense_count(counts, data[name], offset, word) for offset in offsets]
            classes, marks = collections.Counter(), collections.Counter()
            for i, offset in enumerate(offsets):
                weight = tags[i] + 0.5 / (i + 1)
                s = data[name][offset]
                classes[s.lex] += weight
                m = noun_marks(offset) if name == "noun" else adjective_marks(offset) if name == "adj" else 0
                if name == "verb" and stirs(offset, word):
                    m = STIRS
                for bit in range(11):
                    if m >> bit & 1:
                        marks[bit] += weight
            total = sum(classes.values())
            proper = name == "noun" and all(
                w[0].isupper() for o in offsets for w in data[name][o].words if w.lower() == word
            )
            top = classes.most_common()
            top.sort(key=lambda c: (-c[1], c[0]))
            keep = sum(tags) > 0 or not proper and (
                name == "verb" and (len(offsets) > 1 or len(word) <= 10) or name == "adj" and len(word) <= 12 and (any(v >= total / 2 for v in marks.values()) or len(offsets) > 1)
                or name == "adv" and len(offsets) > 1
                or name == "noun" and len(word) <= 15 and (
                    len(offsets) > 2
                    or top[0][0] in (7, 12, 16, 28) and len(word) <= 14
                    or top[0][0] in (4, 9, 26) and len(word) <= 9
                    or any(marks[b] >= total / 2 for b in (0, 1, 3, 5, 6))
                    or len(word) <= 10 and (index["verb"].get(word) or index["adj"].get(word))
                    or len(offsets) > 1 and len(word) <= 7
                )
            )
            known[word][pos] = (
                top[0][0],
                top[1][0] if len(top) > 1 and top[0][1] < 0.85 * total else top[0][0],
                min(7, round(7 * top[0][1] / total)),
                min(15, sum(tags).bit_length()),
                sum(1 << b for b, v in marks.items() if v >= total / 2),
            )
            if keep:
                kept.add(word)
    # A common word keeps all its parts of speech; a rare part of a rare word is not worth its bytes.
    words = {word: known[word] for word in kept}

    records, order, entries = {}, [], []
    for word in sorted(words, key=lambda w: w.encode()):
        kinds = words[word]
        record = bytes([sum(1 << p for p in kinds)])
        record += struct.pack("<H", sum(1 << b for b in range(11) if any(k[4] >> b & 1 for k in kinds.values())))
        for pos in sorted(kinds):
            first, second, share, often, _ = kinds[pos]
            record += bytes([often << 4 | share]) + (bytes([first, second]) if pos < 2 else b"")
        if record not in records:
            records[record] = len(order)
            order.append(record)
        entries.append((word.encode(), struct.pack("<H", records[record])))

    exceptions = {}
    for pos, name in enumerate(POS.values()):
        for line in open(f"{folder}/{name}.exc", encoding="ascii"):
            form, *bases = line.split()
            bases = [b for b in bases if pos in words.get(b, {})]
            if bases and "_" not in form:
                exceptions[bytes([ord("nvar"[pos])]) + form.encode()] = [b.encode() for b in bases]

    def payload(form, bases):
        out = bytes([len(bases)])
        for base in bases:
            same = 0
            while same < min(len(form), len(base)) and form[same] == base[same]:
                same += 1
            out += bytes([same, len(base) - same]) + base[same:]
        return out

    def front_coded(pairs):
        starts, body, last = [], b"", b""
        for i, (key, value) in enumerate(pairs):
            if i % BLOCK == 0:
                starts.append(len(body))
                last = b""
            same = 0
            while same < min(len(key), len(last)) and key[same] == last[same]:
                same += 1
            body += bytes([same, len(key) - same]) + key[same:] + value
            last = key
        return starts, body

    word_starts, word_body = front_coded(entries)
    pairs = [(k, payload(k[1:], v)) for k, v in sorted(exceptions.items())]
    exc_starts, exc_body = front_coded(pairs)
    record_starts, record_body = [], b""
    for record in order:
        record_starts.append(len(record_body))
        record_body += record
    out = b"WAYWORD1" + struct.pack("<III", len(entries), len(pairs), len(order))
    out += struct.pack("<III", len(word_body), len(exc_body), len(record_body))
    for starts in (word_starts, exc_starts, record_starts):
        out += b"".join(struct.pack("<I", s)[:3] for s in starts)
    out += word_body + exc_body + record_body
    open(target, "wb").write(out)
    print(f"{len(entries)} words, {len(pairs)} exceptions, {len(order)} records, {len(out)} bytes")


main(*sys.argv[1:])
