import pytest

from certs.rules.confidence import WORDS, in_words
from certs.rules.derived import UNCERTAIN_WORDS, Source


@pytest.mark.parametrize("mark", WORDS)
def test_a_mark_is_told_without_our_jargon(mark):
    assert in_words(mark) != mark
    assert "-" not in in_words(mark)


@pytest.mark.parametrize("text", ["", "common practice, no source", "agreed between the parties"])
def test_words_stay(text):
    assert in_words(text) == text


def test_doubt_is_not_lost_in_the_words():
    doubted = [word for word in WORDS if any(word in uncertain for uncertain in UNCERTAIN_WORDS)]
    assert doubted == ["memory", "gap"]
    assert "from memory" in Source("A book", confidence="memory").text
    assert "no value" in Source("A book", confidence="gap").text


def test_marks_of_single_columns_are_told_too():
    assert in_words("two-sources (K); read (C, W)") == "two sources (K); read (C, W)"
