import re

import pytest
from django.urls import reverse

from certs.models import ReceivingCheck
from inventory.models import JournalEntry, Reel
from tests import factories as given
from tests.certs.pages.test_receiving import ADDRESS, new_document, typed
from tests.words import words_of

FINDINGS = "/reels/receive/findings/"
READINGS = ("place1_a_nm", "place1_b_nm", "place2_a_nm", "place2_b_nm")


def slots(client, **changed):
    """What stands in each place of the page, without its markup."""
    values = typed(**({"standard": "EN 12385-4"} | changed))
    answer = client.post(FINDINGS, values, headers={"HX-Request": "true"})
    assert answer.status_code == 200
    _, *parts = re.split(r'<\w+[^>]*id="([^"]+)" hx-swap-oob="true">', answer.text)
    return dict(zip(parts[::2], map(words_of, parts[1::2]), strict=True))


def under(name):
    return f"id_{name}_helptext"


def measured(*figures):
    return dict(zip(READINGS, figures, strict=True))


def test_a_designation_is_understood_while_it_is_typed(as_stores, tables):
    said = slots(as_stores)
    assert "12 6x7-WSC 1770 B sZ" in said["understood"]
    assert "right ordinary lay not stated; assumed" in said["understood"]


def test_one_that_is_not_understood_is_told_in_its_place(as_stores, tables):
    said = slots(as_stores, designation="12 6x7 1770")
    assert "The core of 6x7 is missing" in said[under("designation")]
    assert said["receiving-summary"] == (
        "What you type is compared as soon as the rope is understood."
    )


def test_nothing_is_recorded_by_it(as_stores, tables):
    values = typed(**measured(*["12.3 mm"] * 4))
    before = JournalEntry.objects.count()
    as_stores.post(FINDINGS, values)
    assert not Reel.objects.exists()
    assert JournalEntry.objects.count() == before


# EN 12385-4 as printed by a rope supplier: from 8 mm on, the nominal diameter to 5 % above it.
@pytest.mark.parametrize(
    ("figures", "words"),
    [
        pytest.param(("12.6",) * 4, "agrees Measured 12.6 mm", id="at the upper limit"),
        pytest.param(("12.61",) * 4, "does not agree Measured 12.61 mm", id="above it"),
        pytest.param(("11.99",) * 4, "does not agree Measured 11.99 mm", id="below nominal"),
        pytest.param(("",) * 4, "To compare: mean of four readings from 12 mm to", id="none"),
        pytest.param(("12.1", "", "", ""), "To compare: mean of four", id="one of four"),
    ],
)
def test_readings_stand_against_their_limits(figures, words, as_stores, tables):
    assert words in slots(as_stores, **measured(*figures))["found-diameter"]


def test_a_reading_in_another_unit_is_told_at_its_field(as_stores, tables):
    said = slots(as_stores, **measured("0.48 in", "12.2", "12.2", "1.22"))
    assert "no diameter of a rope of 12 mm" in said[under("place2_b_nm")]


# 98.9 kN: K = 0.388 of 6x7-WSC with 12 mm and 1770 N/mm2, 0.388 * 144 * 1770 / 1000 = 98.893.
@pytest.mark.parametrize(
    ("force", "words"),
    [
        pytest.param("98.9", "agrees If certified so: Declared 98.9 kN, not below", id="reaches"),
        pytest.param("98.8", "If certified so: Declared 98.8 kN, below 98.9 kN", id="misses"),
    ],
)
def test_a_declared_force_stands_against_what_the_tables_give(force, words, as_stores, tables):
    assert words in slots(as_stores, declared_force_n=force)[under("declared_force_n")]


def test_a_heat_on_record_is_said_to_be_known(as_stores, tables):
    given.given_heat(number="40077")
    said = slots(as_stores, **{"heat-0-steel_name": "", "heat-0-analysis": ""})
    assert "on record H-00001, steel C78D" in said[under("heat-0-number")]
    assert (
        "new It is recorded" in slots(as_stores, **{"heat-0-number": "9"})[under("heat-0-number")]
    )


def test_what_cannot_be_read_is_told_where_it_stands_and_nothing_of_what_is_empty(
    as_stores, tables
):
    said = slots(as_stores, length_mm="1,000", mill="Nobody", **{"heat-0-analysis": "Xx 3"})
    assert "can be read in two ways" in said[under("length_mm")]
    assert "No mill is called “Nobody”" in said[under("mill")]
    assert "no element" in said[under("heat-0-analysis")]
    assert "required" not in " ".join(slots(as_stores, length_mm="").values())


@pytest.mark.parametrize(
    "changed",
    [
        pytest.param({}, id="as the maker says"),
        pytest.param({"zinc_class": "A"}, id="another zinc class"),
        pytest.param({"marked_grade": "1960", **measured(*["12.7"] * 4)}, id="another rope"),
        pytest.param({"weighed_length_mm": "10", "weighed_mass_g": "5.6"}, id="weighed"),
    ],
)
def test_what_is_foreseen_is_what_the_check_then_finds(changed, as_stores, tables):
    foreseen = slots(as_stores, **changed)["receiving-summary"]
    as_stores.post(ADDRESS, typed(**changed))
    check = ReceivingCheck.objects.get()
    against = [one["topic"] for one in check.findings if one["verdict"] == "disagree"]
    assert foreseen.startswith("does not agree" if against else "agrees")
    assert all(topic in foreseen for topic in against)


def test_mill_and_place_of_ones_last_receipt_are_offered(as_stores, tables):
    as_stores.post(ADDRESS, typed(location="Bay 7"))
    page = as_stores.get(ADDRESS).text
    assert 'value="Invented Mill"' in page
    assert 'value="Bay 7"' in page
    assert '<option value="40077">C78D, H-00001</option>' in page


def test_another_persons_last_receipt_is_not(as_stores, as_quality, tables):
    as_stores.post(ADDRESS, typed(location="Bay 7"))
    assert "Bay 7" not in as_quality.get(ADDRESS).text


def test_a_mill_is_named_by_its_name_or_its_code(as_stores, tables):
    mill = given.given_mill()
    for named in (mill.name.upper(), mill.code.lower()):
        as_stores.post(
            ADDRESS, typed(mill=named, **{"heat-0-analysis": "", "heat-0-number": named})
        )
    assert {reel.mill for reel in Reel.objects.all()} == {mill}
    assert Reel.objects.count() == 2


def test_sent_by_script_the_browser_is_told_where_to_go(as_stores, tables, file_store):
    answer = as_stores.post(ADDRESS, typed(**new_document()), headers={"HX-Request": "true"})
    code = ReceivingCheck.objects.get().code
    assert answer.status_code == 200
    assert answer["HX-Redirect"] == reverse("certs:receiving_check", args=[code])


def test_sent_back_the_chosen_file_stays_in_the_page(as_stores, tables):
    page = as_stores.get(ADDRESS).text
    assert re.search(r'<input type="file" name="file" id="id_file"[^>]* hx-preserve="true">', page)


def test_the_number_of_questions_does_not_grow_with_the_heats_on_record(
    as_stores, tables, django_assert_max_num_queries
):
    values = typed()
    with django_assert_max_num_queries(60) as one:
        as_stores.post(FINDINGS, values)
    for number in ("1", "2", "3"):
        given.given_heat(number=number)
    with django_assert_max_num_queries(len(one)):
        as_stores.post(FINDINGS, values)
