"""Sentences about order, prices, labor and bid."""

from dxf2veneer.wording.say import Sentence

SENTENCES: dict[str, Sentence] = {}
