"""Sentences about cross-checks of a finished takeoff."""

from dxf2veneer.wording.say import Sentence

SENTENCES: dict[str, Sentence] = {}
