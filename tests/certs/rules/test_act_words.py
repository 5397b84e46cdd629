"""Every act of the house is told in words of its own where a story can speak of it."""

import pytest

from certs.rules.act_words import told_act


@pytest.mark.parametrize(
    ("act", "deed", "words"),
    [
        ("cut_piece", "", "cut"),
        ("settle_report", "receive", "reported from site"),
        ("settle_report", "close", "report from site closed"),
        ("write_recall", "acknowledge", "recall letter answered"),
        ("issue_certificate", "something new", "paper issued"),
        ("some_new_act", "", "some new act"),
    ],
)
def test_an_act_is_told_as_what_was_done(act, deed, words):
    assert told_act(act, deed) == words
