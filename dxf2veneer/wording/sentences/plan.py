"""Sentences about the course plan, its bounds, its judge."""

from dxf2veneer.wording.say import Sentence

SENTENCES: dict[str, Sentence] = {}
