"""Sentences about notices themselves."""

from dxf2veneer.wording.phrases import Sentence

SENTENCES: dict[str, Sentence] = {
    "more-of-this-kind": "{count:,} more of this kind are not listed one by one; "
    "the first of them is shown",
}
