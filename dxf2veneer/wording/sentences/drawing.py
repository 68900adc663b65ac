"""Sentences about reading drawings and their unit."""

from dxf2veneer.wording.say import Sentence

SENTENCES: dict[str, Sentence] = {}
