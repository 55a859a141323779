"""Prints the prototypical phrases of the open Suicide Risk Lexicon (Low et al. 2025) as JSON, construct by construct.

The file is read from the installed package without importing it, so that its heavy dependencies are not needed. The
phrases are only ever used in the test that counts how many set off a message; none is kept.
"""
import importlib.metadata
import json
import sys

NAME = "suicide_risk_lexicon_validated_prototypical_tokens_24-08-07T16-25-19.json"
WANTED = ("Passive suicidal ideation", "Active suicidal ideation & suicidal planning", "Direct self-injury")

files = importlib.metadata.files("construct-tracker") or []
path = next(file for file in files if file.name == NAME)
constructs = json.loads(path.locate().read_text(encoding="utf-8"))
json.dump({name: list(constructs[name]["tokens"]) for name in WANTED}, sys.stdout)
