"""Sentences about settings files and options."""

from dxf2veneer.wording.say import Sentence

SENTENCES: dict[str, Sentence] = {}
