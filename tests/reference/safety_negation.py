"""Asks negspacy 1.1.0 (spacy.blank("en"), termset("en")) whether a term is negated in its sentence.

Rows `sentence<TAB>term` on standard input; `negated` or `affirmed` on standard output, one a row.
"""
import sys
import warnings

warnings.filterwarnings("ignore")
import spacy
from negspacy.negation import Negex  # noqa: F401  (registers the component)
from negspacy.termsets import termset

for row in sys.stdin:
    text, term = row.rstrip("\n").split("\t")
    nlp = spacy.blank("en")
    nlp.add_pipe("sentencizer")
    ruler = nlp.add_pipe("entity_ruler", config={"phrase_matcher_attr": "LOWER"})
    ruler.add_patterns([{"label": "SIGN", "pattern": term}])
    nlp.add_pipe("negex", config={"neg_termset": termset("en").get_patterns(), "ent_types": ["SIGN"]})
    found = nlp(text).ents
    print("negated" if any(ent._.negex for ent in found) else "affirmed" if found else "missing")
