import pytest

from certs.rules.end_cautions import cautions_of_ends
from certs.rules.termination import TerminationKind


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        # 29 CFR 1918 Appendix II and WAC 296-155-33915, read.
        ("u_bolt_grips", "saddle on the live rope"),
        # WAC and a trade journal, read.
        ("wedge_socket", "dead end never clamped"),
        # EN 13411-8:2011 scope, read.
        ("swage_terminal", "not on full-locked or covered"),
        ("socket", "no value is held"),
        # ASME B30.9 as cited on a test form, read.
        ("hand_splice", "1.25 times"),
    ],
)
def test_each_kind_of_end_brings_its_caution(kind, words):
    (caution,) = cautions_of_ends([TerminationKind(kind)] * 2)
    assert words in caution


def test_a_ferrule_brings_none_of_its_own():
    assert cautions_of_ends([TerminationKind.FERRULE_SECURED_EYE]) == ()
