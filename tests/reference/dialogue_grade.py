"""Reads a JSON list of texts, writes a JSON list of their Flesch-Kincaid grades, by textstat."""

import json
import sys

import textstat

texts = json.load(sys.stdin)
json.dump([textstat.flesch_kincaid_grade(text) for text in texts], sys.stdout)
