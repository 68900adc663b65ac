"""Sentences about files that are written."""

from dxf2veneer.wording.phrases import Sentence

SENTENCES: dict[str, Sentence] = {}
