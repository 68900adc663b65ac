"""Sentences about course lines, starters and slivers."""

from dxf2veneer.wording.say import Sentence

SENTENCES: dict[str, Sentence] = {}
