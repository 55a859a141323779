"""Answers, from WordNet itself as NLTK reads it, for the words on standard input or the commonest 2,000.

    coach_wordnet.py lemmas    the 2,000 commonest words (wordfreq) that WordNet knows: word, part, every base, NLTK's lemma
    coach_wordnet.py classes   the commonest nouns and verbs: word, part, weight of each lexicographer class

The Debian package has no `lexnames` file, which NLTK wants; it is written beside links to the files, from lexnames(5WN).
"""

import collections
import json
import os
import sys
import tempfile
import warnings

import nltk.corpus
from nltk.corpus.reader.wordnet import WordNetCorpusReader
from nltk.stem import WordNetLemmatizer
from wordfreq import top_n_list

SOURCE = "/usr/share/wordnet"
LEXNAMES = """adj.all adj.pert adv.all noun.Tops noun.act noun.animal noun.artifact noun.attribute noun.body noun.cognition
noun.communication noun.event noun.feeling noun.food noun.group noun.location noun.motive noun.object noun.person
noun.phenomenon noun.plant noun.possession noun.process noun.quantity noun.relation noun.shape noun.state noun.substance
noun.time verb.body verb.change verb.cognition verb.communication verb.competition verb.consumption verb.contact
verb.creation verb.emotion verb.motion verb.perception verb.possession verb.social verb.stative verb.weather adj.ppl""".split()


class Reader(WordNetCorpusReader):
    """NLTK's reader without the mapping to other versions, whose files are not here."""

    def map_wn(self, version="wordnet"):
        return None


def reader(folder):
    for name in os.listdir(SOURCE):
        os.symlink(os.path.join(SOURCE, name), os.path.join(folder, name))
    with open(os.path.join(folder, "lexnames"), "w", encoding="ascii") as out:
        for number, name in enumerate(LEXNAMES):
            kind = {"n": 1, "v": 2, "r": 4}.get(name[0], 3)
            out.write(f"{number:02}\t{name}\t{kind if not name.startswith('adv') else 4}\n")
    warnings.simplefilter("ignore")
    return Reader(folder, None)


def common(wordnet, wanted=2000):
    found = []
    for word in top_n_list("en", 12000):
        if word.isascii() and word.isalpha() and len(word) > 1 and any(wordnet._morphy(word, p) for p in "nvar"):
            found.append(word)
            if len(found) == wanted:
                return found
    raise SystemExit("too few words")


def main():
    with tempfile.TemporaryDirectory() as folder:
        wordnet = reader(folder)
        words = common(wordnet)
        out = []
        if sys.argv[1] == "lemmas":
            nltk.corpus.wordnet = wordnet
            lemmatizer = WordNetLemmatizer()
            for word in words:
                for part in "nvar":
                    bases = wordnet._morphy(word, part)
                    if bases:
                        out.append([word, part, bases, lemmatizer.lemmatize(word, part)])
        else:
            for word in words:
                for part in "nv":
                    lemmas = [l for l in wordnet.lemmas(word, part) if l.name().lower() == word]
                    weights = collections.Counter()
                    synsets = wordnet.synsets(word, part)
                    own = [s for s in synsets if any(l.name().lower() == word for l in s.lemmas())]
                    for rank, synset in enumerate(own):
                        count = max(l.count() for l in synset.lemmas() if l.name().lower() == word)
                        weights[LEXNAMES.index(synset.lexname())] += count + 0.5 / (rank + 1)
                    if weights:
                        out.append([word, part, dict(weights)])
        json.dump(out, sys.stdout)


main()
