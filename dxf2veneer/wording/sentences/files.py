"""Sentences about files that are written."""

from dxf2veneer.wording.say import Sentence

SENTENCES: dict[str, Sentence] = {}
