import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from certs.models import BreakingTest, ProofTest
from inventory.models import JournalEntry, StoredFile
from tests.certs.claims import force_log
from tests.certs.pages.test_recording_tests import breaking, proof


def log(content, *, name="bench.csv"):
    return SimpleUploadedFile(name, content)


def seen(client, what, asked):
    return client.post(reverse(f"certs:preview_{what}"), asked)


def test_a_proof_load_is_shown_and_nothing_is_kept(as_bench, tables, file_store):
    asked = proof()
    before = JournalEntry.objects.count(), StoredFile.objects.count()
    shown = seen(as_bench, "proof", asked)
    assert "passes" in shown.text
    assert "held 65 s" in shown.text
    assert "<svg" in shown.text
    assert not ProofTest.objects.exists()
    assert (JournalEntry.objects.count(), StoredFile.objects.count()) == before


def test_what_is_shown_is_what_is_recorded(as_bench, tables):
    asked = proof(required_n="38", ceiling_n="38.5")
    content = asked["log"].read()
    shown = seen(as_bench, "proof", {**asked, "log": log(content)})
    as_bench.post(reverse("certs:record_proof"), {**asked, "log": log(content)})
    test = ProofTest.objects.get()
    assert test.get_outcome_display() in shown.text
    assert test.reasons != []
    for reason in test.reasons:
        assert reason in shown.text


def test_a_break_is_shown_as_it_would_be_recorded(as_bench, tables):
    asked = breaking(peak_n="", break_place="measured", break_distance_mm="40")
    content = force_log(peak_n=101_000, hold_s=1)
    shown = seen(as_bench, "breaking", {**asked, "log": log(content)})
    assert not BreakingTest.objects.exists()
    as_bench.post(reverse("certs:record_breaking"), {**asked, "log": log(content)})
    test = BreakingTest.objects.get()
    assert test.get_outcome_display() in shown.text
    assert "101 kN" in shown.text
    for reason in test.reasons:
        assert reason in shown.text


@pytest.mark.parametrize("what", ["proof", "breaking"])
def test_a_log_alone_is_drawn_and_what_is_missing_is_named(what, as_bench, tables):
    shown = seen(as_bench, what, {"log": log(force_log(peak_n=39_000))})
    assert "39 kN" in shown.text
    assert 'href="#id_machine-field"' in shown.text
    assert "no verdict is reached" in shown.text


@pytest.mark.parametrize("what", ["proof", "breaking"])
def test_without_a_log_the_place_for_it_is_shown(what, as_bench, tables):
    assert "Choose the force log" in seen(as_bench, what, {"machine": "1"}).text


@pytest.mark.parametrize(
    ("content", "words"),
    [
        pytest.param(b"nothing to read here", "Nothing typed is lost", id="no log"),
        pytest.param(b"Time;Force\n0;1\n1;2\n", "Say which it is", id="no units"),
        pytest.param(b"Time [s];Force [N]\n0;1\n1;x\n2;y\n", "Line 3", id="bad lines"),
    ],
)
def test_a_bad_log_is_told_with_what_to_do(content, words, as_bench, tables):
    assert words in seen(as_bench, "proof", proof(log=log(content))).text
    assert words in seen(as_bench, "breaking", breaking(log=log(content))).text


def test_what_the_service_would_refuse_is_told_beforehand(as_bench, tables):
    asked = proof(tested_at="2999-01-01T09:00", ceiling_n="10", gauge_before_um="500")
    shown = seen(as_bench, "proof", asked).text
    assert "check both" in shown
    assert "Give the gauge length both" in shown
    later = seen(as_bench, "proof", proof(tested_at="2999-01-01T09:00")).text
    assert "lies in the future" in later


def test_the_form_asks_for_the_curve_under_its_log(as_bench, tables):
    page = as_bench.get(reverse("certs:record_proof")).text
    assert page.index("id_log-field") < page.index('hx-post="/tests/proof/preview/"')
    # No field follows that the curve could push away when it arrives.
    assert page.rindex("-field") < page.index('hx-post="/tests/proof/preview/"')
