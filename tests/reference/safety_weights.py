"""Makes the table of weights for the words of danger, or measures it on authors it was not taught by.

Rows come in on standard input, one a line, as the screen's `lesson` reads them: source, level (0 none to 4 emergency),
the level the patterns find, topic, whom it is about, whom its subjects say it is about, the words around what was found,
the runs of clauses in plain words with | between, the sentences likewise, and those of them in which patterns find what
weight may lower. Without argument the table is printed. With `--left-out` authors are left out in turn, and shares are
printed; with `--whose-left-out` the same for whom words are about.

A run is the counts of its words, pairs, triples, and pairs with one or two words between, divided by a power of its
length. Which run of a dangerous text is the dangerous one is not known, so it is learned in turns: the heaviest run of
each text, by the weights so far, is what the next weights are learned from. For a harmless text the longest is kept
beside the heaviest. The phrases that matter most are kept and weighed once more.

Whom words are about is learned from the dangerous rows in which something was found, with few phrases (an L1 penalty).

What is settled (denied, mourned, long past, only spoken of) is learned from whole rows of the quiet level beside those that
call for a stop. The words of danger are in both, and count for nothing alone.
"""
import sys
import tomllib
from collections import Counter
from collections import defaultdict
from pathlib import Path

import numpy
from scipy import sparse
from sklearn.linear_model import LogisticRegression

KEPT = 80_000  # phrases for each of the two weights
FEWEST, POWER = 5, 0.7  # as in src/safety/weighing.rs
TURNS = 2
LIGHTEST = 0.15  # phrases that weigh less are left out of the table
PUBLIC = 1.0  # what a public sentence counts, beside 1 for one written for the purpose
FOLDS = 3  # in so many turns authors are left out
PAUSES, STOPS = 2, 3
READ_AS_OTHER = "=read-as-other"
SETTLING = 8_000  # phrases for what is settled
FEWEST_SETTLED = 10  # as in src/safety/weighing.rs
FOUND = 10.0  # what a row in which patterns find a stop counts there, beside 1 for others
DANGER = set(
    "attempt cut dead death die dy dying end harm hang hurt jump kill killing life liv myself od overdos pill self suicid "
    "suicidal suicide tablet wak".split()
)

ROOT = Path(__file__).resolve().parents[2]
KINDS = {}
WRITTEN = tomllib.loads((ROOT / "src/safety/patterns/kinds.toml").read_text(encoding="utf-8"))["kind"]
for kind in WRITTEN:
    owners = [other for other in WRITTEN if other["name"] == kind.get("of")]
    owned = [word + "s" for owner in owners for word in owner["words"].split()]
    for word in [*kind["words"].split(), *owned]:
        KINDS.setdefault(word, "=" + kind["name"])


def stem(word):
    for ending in ("ing", "ed", "es", "s", "ly"):
        if len(word) > len(ending) + 3 and word.endswith(ending):
            return word[: -len(ending)]
    return word


def named(word):
    return KINDS.get(word) or ("=n" if word.isdigit() else stem(word))


def phrases(run):
    written = run.split(" ")
    words = ["<", *map(named, written), ">"]
    out = [stem(word) for word in written if word in KINDS]
    for at, word in enumerate(words):
        out.append(word)
        rest = words[at + 1 : at + 4]
        if rest:
            out.append(f"{word} {rest[0]}")
        if len(rest) > 1:
            out.append(f"{word} {rest[0]} {rest[1]}")
        out.extend(f"{word} _ {other}" for other in rest[1:])
    return out


class Texts:
    def __init__(self, rows):
        self.source = numpy.array([row[0] for row in rows])
        self.level = numpy.array([int(row[1]) for row in rows])
        self.patterns = numpy.array([int(row[2]) for row in rows])
        self.topic = [row[3] for row in rows]
        self.worth = numpy.where(self.source == "public", PUBLIC, 1.0)
        self.about = [row[4:7] for row in rows]
        self.whole = [row[8].replace("|", " ") for row in rows]
        self.stops = [row[9].split("|") if row[9] else [] for row in rows]
        runs = [run for row in rows for run in row[7].split("|")]
        self.owner = numpy.repeat(numpy.arange(len(rows)), [row[7].count("|") + 1 for row in rows])
        self.length = numpy.array([run.count(" ") + 1 for run in runs])
        taken = [phrases(run) for run in runs]
        often = Counter(phrase for some in taken for phrase in set(some))
        self.phrases = sorted(phrase for phrase, count in often.items() if count > 1)
        number = {phrase: at for at, phrase in enumerate(self.phrases)}
        places, starts = [], [0]
        for some in taken:
            places.extend(number[phrase] for phrase in some if phrase in number)
            starts.append(len(places))
        counts = sparse.csr_matrix(
            (numpy.ones(len(places)), numpy.array(places), numpy.array(starts)), shape=(len(runs), len(number))
        )
        counts.sum_duplicates()
        self.often = numpy.asarray((counts > 0).sum(0)).ravel()
        self.counts = counts
        scale = (numpy.maximum(self.length, FEWEST) / 10.0) ** POWER
        self.runs = (sparse.diags(1 / scale) @ counts).tocsr()

    def heaviest(self, weight, runs):
        """The heaviest of some runs of each text."""
        order = numpy.lexsort((weight, self.owner[runs]))
        owner = self.owner[runs][order]
        last = numpy.append(owner[1:] != owner[:-1], True)
        return runs[order[last]]


def fit(matrix, wanted, worth):
    model = LogisticRegression(C=1, solver="liblinear", tol=1e-3, max_iter=300, intercept_scaling=10, random_state=0)
    model.fit(matrix, wanted, sample_weight=worth)
    return model.coef_[0], model.intercept_[0]


def learn(texts, among, least):
    """The base and the weights of all phrases for texts of a level or higher, from some of the texts."""
    runs = numpy.flatnonzero(among[texts.owner])
    danger = texts.level >= least
    longest = texts.heaviest(texts.length[runs], runs)
    taken = longest
    for turn in range(TURNS):
        if turn:
            harmless = longest[~danger[texts.owner[longest]]]
            taken = numpy.unique(numpy.append(heavy, harmless))
        owner = texts.owner[taken]
        weights, base = fit(texts.runs[taken], danger[owner], texts.worth[owner])
        heavy = texts.heaviest(texts.runs[runs] @ weights, runs)
    matter = numpy.abs(weights) * numpy.sqrt(texts.often)
    kept = numpy.sort(numpy.argsort(-matter, kind="stable")[:KEPT])
    some, base = fit(texts.runs[taken][:, kept], danger[owner], texts.worth[owner])
    weights = numpy.zeros(len(texts.phrases))
    weights[kept] = numpy.round(some, 2)
    return round(float(base), 2), weights


def topics(texts):
    """The topic that most of the dangerous texts with a phrase have, where one has most."""
    rows = numpy.flatnonzero((texts.level >= PAUSES) & (numpy.array(texts.topic) != "-"))
    known = numpy.full(len(texts.level), -1)
    names = sorted({texts.topic[row] for row in rows})
    for row in rows:
        known[row] = names.index(texts.topic[row])
    counted = numpy.stack(
        [
            numpy.asarray((texts.counts[numpy.flatnonzero(known[texts.owner] == at)] > 0).sum(0)).ravel()
            for at in range(len(names))
        ]
    )
    total, best = counted.sum(0), counted.argmax(0)
    return [
        names[best[at]] if total[at] >= 2 and counted[best[at], at] >= 0.6 * total[at] else ""
        for at in range(len(texts.phrases))
    ]


class Settled:
    """The rows of the quiet level and those that call for a stop, whole."""

    def __init__(self, texts):
        self.rows = numpy.flatnonzero((texts.level == 1) | (texts.level >= STOPS))
        self.quiet = texts.level[self.rows] == 1
        self.worth = numpy.where(texts.patterns[self.rows] >= STOPS, FOUND, 1.0)
        self.source = texts.source[self.rows]
        often = Counter(phrase for row in self.rows for phrase in set(self.telling(texts.whole[row])))
        self.phrases = sorted(phrase for phrase, count in often.items() if count > 2)
        self.number = {phrase: at for at, phrase in enumerate(self.phrases)}
        self.often = numpy.array([often[phrase] for phrase in self.phrases])
        self.counts = sparse.vstack([self.counted(texts.whole[row]) for row in self.rows]).tocsr()

    @staticmethod
    def telling(words):
        """The phrases inside some words that hold more than the words of danger."""
        inside = (phrase.split(" ") for phrase in phrases(words))
        return [" ".join(some) for some in inside if not {"<", ">"} & set(some) and set(some) - {"_"} - DANGER]

    def counted(self, words):
        counts = Counter(self.number[phrase] for phrase in self.telling(words) if phrase in self.number)
        scale = (max(words.count(" ") + 1, FEWEST_SETTLED) / 10.0) ** POWER
        row = numpy.zeros(len(counts), int), numpy.fromiter(counts, int)
        return sparse.csr_matrix((numpy.array(list(counts.values()), float) / scale, row), shape=(1, len(self.phrases)))

    def learn(self, among):
        """The base and the weights of all phrases."""
        quiet, worth = self.quiet[among], self.worth[among]
        weights, _ = fit(self.counts[among], quiet, worth)
        kept = numpy.sort(numpy.argsort(-numpy.abs(weights) * numpy.sqrt(self.often), kind="stable")[:SETTLING])
        some, base = fit(self.counts[among][:, kept], quiet, worth)
        weights = numpy.zeros(len(self.phrases))
        weights[kept] = numpy.round(some, 2)
        return round(float(base), 2), weights

    def settles(self, sentences, base, weights, least):
        """Whether each of some sentences is settled, and there is one."""
        return bool(sentences) and all((self.counted(one) @ weights)[0] + base >= least for one in sentences)


class Persons:
    """The dangerous rows in which something was found: the words around it, and whom they are about."""

    def __init__(self, texts):
        told = [
            (source, *about)
            for source, level, about in zip(texts.source, texts.level, texts.about)
            if level >= PAUSES and about[0] != "-" and about[1] != "-"
        ]
        self.source = numpy.array([source for source, *_ in told])
        self.other = numpy.array([about == "other" for _, about, _, _ in told])
        self.read = numpy.array([read == "other" for _, _, read, _ in told])
        taken = [
            [phrase for phrase in phrases(words) if not {"<", ">"} & set(phrase.split(" "))] for *_, words in told
        ]
        often = Counter(phrase for some in taken for phrase in set(some))
        self.phrases = sorted(phrase for phrase, count in often.items() if count > 2)
        number = {phrase: at for at, phrase in enumerate(self.phrases)}
        counts = sparse.lil_matrix((len(taken), len(number)))
        for row, some in enumerate(taken):
            for phrase, count in Counter(some).items():
                if phrase in number:
                    counts[row, number[phrase]] = count
        # What the subjects say counts double here, so that the penalty does not wear it away.
        self.counts = sparse.hstack([counts, sparse.csr_matrix(2.0 * self.read[:, None])]).tocsr()

    def learn(self, among):
        """The base, and the weights of all phrases and of what the subjects say."""
        model = LogisticRegression(
            C=0.5, penalty="l1", solver="liblinear", tol=1e-4, max_iter=1000, intercept_scaling=10, random_state=0
        )
        model.fit(self.counts[among], self.other[among])
        weights = numpy.round(model.coef_[0], 2)
        weights[-1] *= 2
        return round(float(model.intercept_[0]), 2), weights

    def left_out(self, least):
        authors = sorted(set(self.source))
        both = numpy.zeros(len(self.other), bool)
        for at in range(FOLDS):
            away = numpy.isin(self.source, authors[at::FOLDS])
            base, weights = self.learn(~away)
            weights[-1] /= 2
            both[away] = self.counts[away] @ weights + base >= least
        print("source\tabout\tcount\tby subjects\tby subjects and weight")
        for source in authors:
            for name, about in (("other", True), ("self", False)):
                rows = (self.source == source) & (self.other == about)
                if rows.any():
                    right = [(answer[rows] == about).sum() for answer in (self.read, both)]
                    print(source, name, rows.sum(), *right, sep="\t")


def hundredths(weight):
    return round(100 * weight)


def table(texts):
    everything = numpy.ones(len(texts.level), bool)
    (first, pause), (second, stop) = (learn(texts, everything, least) for least in (PAUSES, STOPS))
    persons = Persons(texts)
    third, other = persons.learn(numpy.ones(len(persons.other), bool))
    whose = {phrase: weight for phrase, weight in zip([*persons.phrases, READ_AS_OTHER], other) if weight}
    quiets = Settled(texts)
    fourth, quiet = quiets.learn(numpy.ones(len(quiets.rows), bool))
    settled = {phrase: weight for phrase, weight in zip(quiets.phrases, quiet) if weight}
    print("phrase\tpause\tstop\tother\tsettled\ttopic")
    print("", *map(hundredths, (first, second, third, fourth)), "", sep="\t")
    rows = {phrase: (0, 0, "") for phrase in {**whose, **settled}}
    for phrase, one, two, topic in zip(texts.phrases, pause, stop, topics(texts)):
        if abs(one) >= LIGHTEST or abs(two) >= LIGHTEST:
            rows[phrase] = (one, two, topic if one >= 0.1 else "")
    for phrase, (one, two, topic) in sorted(rows.items()):
        weights = one, two, whose.get(phrase, 0), settled.get(phrase, 0)
        print(phrase, *map(hundredths, weights), topic, sep="\t")


def left_out(texts, pauses, stops, *least):
    number = numpy.arange(len(texts.level))
    weight = {PAUSES: numpy.full(len(number), -99.0), STOPS: numpy.full(len(number), -99.0)}
    public = texts.source == "public"
    authors = sorted({name for name in texts.source if name not in ("public", "fresh", "near-misses", "entries")})
    quiets = Settled(texts)
    settled = numpy.zeros(len(number), bool)
    for at in range(FOLDS):
        away = numpy.isin(texts.source, authors[at::FOLDS]) | (public & (number % FOLDS == at))
        base, weights = quiets.learn(~away[quiets.rows])
        for row in numpy.flatnonzero(away):
            enough = least[int(texts.patterns[row] > STOPS)]
            settled[row] = quiets.settles(texts.stops[row], base, weights, enough)
        for level, out in weight.items():
            base, weights = learn(texts, ~away, level)
            numpy.maximum.at(out, texts.owner, numpy.where(away[texts.owner], texts.runs @ weights + base, -99.0))
    found = texts.patterns >= PAUSES
    heavy = weight[PAUSES] >= pauses
    stopped, heavily = texts.patterns >= STOPS, heavy & (weight[STOPS] >= stops)
    print("source\trows\tcount\tpatterns\tweighing\tboth\tstops by patterns\tstops by both\tof these settled")
    groups = {"emergency+stop": (3, 4), "pause": (2, 2), "quiet": (1, 1), "none": (0, 0)}
    for source in [*authors, "public"]:
        for name, (low, high) in groups.items():
            rows = (texts.source == source) & (texts.level >= low) & (texts.level <= high)
            if rows.any():
                shares = [found, heavy, found | heavy, stopped, stopped | heavily, stopped & settled & ~heavily]
                print(source, name, rows.sum(), *(share[rows].sum() for share in shares), sep="\t")


if __name__ == "__main__":
    given = Texts([line.rstrip("\n").split("\t") for line in sys.stdin])
    if sys.argv[1:2] == ["--left-out"]:
        left_out(given, *map(float, sys.argv[2:6]))
    elif sys.argv[1:2] == ["--whose-left-out"]:
        Persons(given).left_out(float(sys.argv[2]))
    else:
        table(given)
