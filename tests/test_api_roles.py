"""Who may do what over the API, endpoint by endpoint, written down by hand.

The table of the rules is not asked: this one says what the house expects of it.
"""

import pytest

from inventory.models import JournalEntry
from inventory.rules.roles import Role
from tests.api import client_for
from tests.api_schema import unsafe_operations, with_codes
from tests.factories import given_person

TAG = "0" * 16
STORE = {Role.STORES, Role.QA_OFFICER}
QA = {Role.QA_OFFICER}
BENCH = {Role.TEST_BENCH, Role.QA_OFFICER}
MAY = {
    ("post", "/api/parties/"): {Role.QA_OFFICER, Role.ADMINISTRATOR},
    ("post", "/api/heats/"): STORE,
    ("post", "/api/mill-documents/"): STORE,
    ("post", "/api/reels/"): STORE,
    ("post", "/api/reels/{code}/checks/"): STORE,
    ("post", "/api/reels/{code}/cut/"): STORE,
    ("post", "/api/reels/{code}/rewind/"): STORE,
    ("post", "/api/reels/{code}/move/"): STORE,
    ("post", "/api/reels/{code}/bases/"): QA,
    ("post", "/api/reels/{code}/readings/"): STORE | BENCH,
    ("post", "/api/pieces/{code}/reverse/"): QA,
    ("post", "/api/pieces/{code}/take-back/"): STORE,
    ("post", "/api/orders/"): STORE,
    ("post", "/api/orders/{code}/cutting-proposal/"): STORE,
    ("post", "/api/orders/{code}/cutting/"): STORE,
    ("post", "/api/fitting-lots/"): STORE,
    ("post", "/api/assemblies/"): STORE | BENCH,
    ("post", "/api/deliveries/"): STORE,
    ("post", "/api/holds/"): STORE | BENCH | {Role.INSPECTION_REPRESENTATIVE},
    ("post", "/api/holds/{code}/release/"): QA,
    ("post", "/api/machines/"): {Role.QA_OFFICER, Role.ADMINISTRATOR},
    ("post", "/api/machines/{code}/calibrations/"): BENCH,
    ("post", "/api/agreed-specifications/"): QA,
    ("post", "/api/breaking-tests/"): BENCH,
    ("post", "/api/proof-tests/"): BENCH,
    ("post", "/api/decision-rules/"): QA,
    ("post", "/api/breaking-tests/{code}/reverse/"): QA,
    ("post", "/api/proof-tests/{code}/reverse/"): QA,
    ("post", "/api/wire-tests/"): BENCH,
    ("post", "/api/wire-tests/{code}/reverse/"): QA,
    ("post", "/api/representatives/"): {Role.ADMINISTRATOR},
    ("post", "/api/certificates/cut-length/"): QA,
    ("post", "/api/certificates/assembly/"): QA,
    ("post", "/api/certificates/breaking/"): QA,
    ("delete", "/api/certificates/{code}/"): QA,
    ("post", "/api/certificates/{code}/issue/"): QA,
    ("post", "/api/certificates/{code}/supersede/"): QA,
    ("post", "/api/certificates/{code}/withdraw/"): QA,
    ("post", "/api/tags/"): STORE,
    ("post", "/api/tags/{code}/revoke/"): QA,
}
SPOKEN = [pytest.param(*operation, id=" ".join(operation)) for operation in unsafe_operations()]


def attempt(person, method, path):
    code = TAG if path.startswith("/api/tags/") else "XX-99999"
    code = "X-99999" if path.startswith(("/api/holds/", "/api/machines/")) else code
    return getattr(client_for(person), method)(with_codes(path, code), format="multipart")


def test_the_table_speaks_of_every_endpoint_that_changes_something():
    assert set(unsafe_operations()) == set(MAY)


@pytest.mark.parametrize(("method", "path"), SPOKEN)
def test_an_auditor_changes_nothing(auditor, method, path):
    entries = JournalEntry.objects.count()
    answer = attempt(auditor, method, path)
    assert answer.status_code == 403
    assert "auditor" in answer.json()["problem"]
    assert JournalEntry.objects.count() == entries


@pytest.mark.parametrize("role", Role)
@pytest.mark.parametrize(("method", "path"), SPOKEN)
def test_a_role_acts_within_its_bounds(db, role, method, path):
    answer = attempt(given_person(role), method, path)
    is_refused = answer.status_code == 403
    assert is_refused == (role not in MAY[method, path])


@pytest.mark.parametrize(("method", "path"), SPOKEN)
def test_nobody_acts_unsigned(client, db, method, path):
    answer = getattr(client, method)(with_codes(path))
    assert answer.status_code in {401, 404}
