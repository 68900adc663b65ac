"""Files that once brought the tool down, and a few hundred mutations, through everything it does
with a file.

The long run is ``run.py``, which says at its top how it is started.
"""

from __future__ import annotations

import random

import pytest
from asking import asked, failure_of_asked, unpacked
from mutations import file_of, mutated, tags_of
from seeds import CORPUS, seeds
from trial import failure_of

MUTATIONS = 150
"""The long run tries the same ones first; this many take less than a minute."""

KNOWN = sorted(CORPUS.glob("*.dxf"))


@pytest.mark.parametrize("path", KNOWN, ids=[p.stem for p in KNOWN])
def test_what_failed_once_passes(path):
    failure = failure_of(path.read_bytes(), 0, thorough=True)
    assert failure is None, failure.story


ASKED = sorted(CORPUS.glob("*.json"))


@pytest.mark.parametrize("path", ASKED, ids=[p.stem for p in ASKED])
def test_what_was_asked_and_failed_once_passes(path):
    failure = failure_of_asked(unpacked(path.read_bytes()))
    assert failure is None, failure.story


def test_whatever_is_asked_ends_in_one_line():
    """Settings, options, picks and price files by chance."""
    for number in range(60):
        trial = asked(random.Random(number))
        failure = failure_of_asked(trial)
        assert failure is None, f"{number} {trial.words}: {failure.story}"


def test_mutations_pass():
    pool = seeds()
    for number in range(MUTATIONS):
        chance = random.Random(number)
        failure = failure_of(mutated(chance.choice(pool), pool, chance), number)
        assert failure is None, f"mutation {number}: {failure.story}"


def test_tags_make_the_same_file_again():
    assert file_of(tags_of(b"  0\nSECTION\n  2\n HEADER\n")) == b"0\nSECTION\n2\n HEADER\n"


def test_a_failure_is_found(monkeypatch):
    """The trial tells what a step raises by its kind and place."""

    def broken(*given):
        raise ZeroDivisionError

    monkeypatch.setattr("trial.survey_drawing", broken)
    failure = failure_of(b"0\nEOF\n", 0)
    assert failure is not None
    assert "ZeroDivisionError" in failure.key
