"""What a paper states of the receiving checks behind it."""

import json

import pytest

from certs.documents.certificate_pdf import certificate_html
from certs.pages.paper_facts import PaperTold
from certs.queries.receiving_facts import receiving_facts
from certs.queries.subject import subject_of
from inventory.services.holds import release_hold
from tests.certs.checks import EN, given_check, readings
from tests.certs.claims import given_basis, given_breaking_test
from tests.certs.papers import (
    given_breaking_draft,
    given_certifiable_piece,
    given_cut_length_draft,
    given_documented_reel,
    issued,
)
from tests.factories import (
    MOMENT,
    given_mill_document,
    given_person,
    given_piece,
    given_reel,
    given_sample,
    pdf_bytes,
)

pytestmark = pytest.mark.usefixtures("tables")


@pytest.fixture
def plain_paper(monkeypatch):
    """Rendering is slow, and is tested with documents."""
    monkeypatch.setattr(
        "certs.services.print_certificate.certificate_pdf",
        lambda _snapshot, *, canonical, credential, **_: pdf_bytes(canonical + credential),
    )


@pytest.fixture
def snapshot(plain_paper):
    """The snapshot of a paper on a reel that measured too thick and was accepted by decision."""
    reel = given_reel(mill_document=given_mill_document(), declared_mass_g_per_100m=55_000)
    given_basis(reel)
    given_check(reel, standard=EN, readings=readings("12.2"))
    check = given_check(reel, standard=EN, readings=readings("12.9"), zinc_class="B")
    release_hold(hold=check.hold, reason="Agreed with a buyer.", by=given_person(), at=MOMENT)
    return json.loads(issued(given_cut_length_draft(given_piece(reel=reel))).snapshot)


def test_the_paper_freezes_the_last_check_with_its_decision(snapshot):
    (stated,) = snapshot["receiving"]
    assert (stated["reel"], stated["check"]) == (snapshot["ropes"][0]["reel"], "RC-00002")
    assert stated["outcome_text"] == "does not agree"
    assert stated["disagree"] == ["Measured diameter"]
    assert "Declared mass" in stated["cannot_say"]
    assert stated["decision"].endswith("was released")
    # A reason is free text and may name anybody; it stays in the record.
    assert "Agreed with a buyer" not in json.dumps(snapshot)


def test_the_paper_states_diameter_mass_and_analysis(snapshot):
    points = {point["topic"]: point for point in snapshot["receiving"][0]["points"]}
    # EN 12385-4 as printed by a rope supplier: 12 mm may measure 12 to 12.6 mm.
    assert (
        "Measured 12.9 mm: outside the limits 12 mm to 12.6 mm."
        in (points["Measured diameter"]["text"])
    )
    # W of 6x7 with a strand core, 0.384 (Feyrer, Table 1.9), gives 55.296 kg per 100 m at 12 mm.
    assert points["Declared mass"]["text"] == "55 kg/100m, -0.535 % from 55.3 kg/100m."
    assert any(topic.startswith("Ladle analysis of heat") for topic in points)


def test_the_printed_paper_and_its_page_say_so(snapshot):
    printed = certificate_html(snapshot, is_site_copy=False)
    assert "Checked at goods in" in printed
    assert "Measured 12.9 mm: outside the limits" in printed
    assert "accepted by decision of the QA officer" in printed
    table = PaperTold.of_text(json.dumps(snapshot)).receiving
    assert any("12.9 mm" in cell.text for row in table.rows for _, cell in row.under)


def test_a_paper_of_earlier_days_is_printed_as_it_was(snapshot):
    earlier = {name: value for name, value in snapshot.items() if name != "receiving"}
    assert "Checked at goods in" not in certificate_html(earlier, is_site_copy=False)
    assert PaperTold.of_text(json.dumps(earlier)).receiving is None


def test_a_report_on_a_broken_sample_states_no_check(plain_paper):
    reel = given_documented_reel()
    test = given_breaking_test(sample=given_sample(reel=reel), peak_n=99_000)
    assert json.loads(issued(given_breaking_draft(test)).snapshot)["receiving"] == []


def test_the_worst_of_two_findings_on_a_heat_is_stated(plain_paper):
    draft = given_cut_length_draft(given_certifiable_piece())
    (stated,) = receiving_facts(subject_of(draft))
    (heat,) = (one for one in stated["points"] if one["topic"].startswith("Ladle analysis"))
    assert heat["verdict"] == "cannot_say"
    assert "Limits of C78D: no value held" in heat["text"]
