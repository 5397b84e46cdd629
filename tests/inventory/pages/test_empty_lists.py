import pytest
from django.urls import reverse

# Every list that can stand empty; people never are, as somebody must be signed in.
LISTS = [
    "inventory:assemblies", "inventory:deliveries", "inventory:documents", "inventory:fittings",
    "inventory:heats", "inventory:holds", "inventory:machines", "inventory:orders",
    "inventory:parties", "inventory:reels", "certs:certificates", "certs:decision_rules",
    "certs:recall_notices", "certs:representatives", "certs:site_reports", "certs:tests",
    "certs:proof_tests", "certs:wire_tests",
]  # fmt: skip
NARROWED = {
    "inventory:heats": "number=none-such",
    "inventory:documents": "number=none-such",
    "inventory:reels": "diameter=99",
    "inventory:parties": "kind=mill",
    "inventory:fittings": "kind=ferrule",
    "certs:certificates": "q=none-such",
}


@pytest.mark.parametrize("name", LISTS)
def test_an_empty_list_teaches_what_would_stand_there(name, as_quality):
    text = as_quality.get(reverse(name)).text
    lesson = text.partition('<div class="empty">')[2].partition("</div>")[0]
    assert len(lesson.partition("<p>")[2]) > 80


@pytest.mark.parametrize("name", NARROWED)
def test_a_list_narrowed_to_nothing_offers_all_of_it(name, as_quality):
    text = as_quality.get(f"{reverse(name)}?{NARROWED[name]}").text
    assert 'href="?"' in text
    assert "Nothing on record answers to this" in text or "No certificate is like this" in text
