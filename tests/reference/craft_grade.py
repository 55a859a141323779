"""Reads a JSON list of texts; writes, for each, its Flesch-Kincaid grade and its count of syllables, by textstat."""

import json
import sys

import textstat

texts = json.load(sys.stdin)
json.dump([[textstat.flesch_kincaid_grade(text), textstat.syllable_count(text)] for text in texts], sys.stdout)
