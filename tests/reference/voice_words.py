"""Counts wrong words: lines of what was said, a tab, and what was heard on standard input, the sum on standard output."""

import sys

import jiwer
from whisper_normalizer.english import EnglishTextNormalizer

plain = EnglishTextNormalizer()
pairs = [line.rstrip("\n").split("\t") for line in sys.stdin]
said = [plain(pair[0]) for pair in pairs]
heard = [plain(pair[1]) for pair in pairs]
found = jiwer.process_words(said, heard)
print(found.substitutions + found.deletions + found.insertions)
