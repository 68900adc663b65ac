"""Sentences about walls, openings, corners and marks."""

from dxf2veneer.wording.say import Sentence

SENTENCES: dict[str, Sentence] = {}
