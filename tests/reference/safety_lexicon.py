"""Prints the prototypical phrases of the open Suicide Risk Lexicon (Low et al. 2025) as JSON, construct by construct;
with `core`, all its validated phrases of the same constructs, one a line.

The file is read from the installed package without importing it, so that its heavy dependencies are not needed. The
phrases are only ever used in the test that counts how many set off a message; none is kept.
"""
import importlib.metadata
import json
import sys

NAME = "suicide_risk_lexicon_validated_prototypical_tokens_24-08-07T16-25-19.json"
WANTED = ("Passive suicidal ideation", "Active suicidal ideation & suicidal planning", "Direct self-injury")

FULL = "suicide_risk_lexicon_validated_24-08-02T21-27-35.json"

files = importlib.metadata.files("construct-tracker") or []


def constructs_of(name):
    return json.loads(next(file for file in files if file.name == name).locate().read_text(encoding="utf-8"))


if sys.argv[1:] == ["core"]:
    # Every validated phrase of the same constructs, one a line.
    full = constructs_of(FULL)
    print("\n".join(sorted({phrase for name in WANTED for phrase in full[name]["tokens"]})))
    sys.exit()
constructs = constructs_of(NAME)
json.dump({name: list(constructs[name]["tokens"]) for name in WANTED}, sys.stdout)
