"""Prints the example sentences of the idiom dictionary in the `englishidioms` package, one a line. Only its data file
is read; the package itself is never imported, since it loads models when it is."""
import html
import importlib.metadata
import json
import re

files = importlib.metadata.files("englishidioms")
entries = json.loads(next(f for f in files if f.name == "phrases.json").locate().read_text(encoding="utf-8"))
seen = set()
for entry in entries["dictionary"]:
    # A low line opens each example; a number with a point opens the next sense, a bracket a note.
    for example in entry["definition"].split("_")[1:]:
        sentence = re.split(r"\s\d+\.\s|\s\((?:Alludes|Also|See|From|Fixed|Usually|\w+ can )", example)[0]
        sentence = " ".join(html.unescape(sentence).split())
        if len(sentence) >= 10 and sentence not in seen:
            seen.add(sentence)
            print(sentence)
