"""The API is what its description says: no warning in it, and no answer that differs from it.

Requests are drawn from the description itself. Half of the codes in them are made to name things
that exist, so that the services are reached and not only the readers of the input.
"""

from typing import Any
from zlib import crc32

import pytest
import schemathesis
from django.core.cache import cache
from django.core.management import call_command
from django.core.signals import request_finished, request_started
from django.db import close_old_connections
from hypothesis import HealthCheck, given
from hypothesis import settings as bounded
from hypothesis.errors import Unsatisfiable
from rest_framework.authtoken.models import Token
from schemathesis import GenerationMode
from schemathesis.checks import not_a_server_error
from schemathesis.config import SchemathesisConfig
from schemathesis.core.failures import Failure, FailureGroup
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from certs.project.wsgi import application
from certs.services.load_specifications import load_specifications
from inventory.rules.roles import Role
from tests.api_schema import schema
from tests.certs.claims import FOLDER, given_breaking_test, given_proof_test
from tests.certs.papers import (
    given_certifiable_assembly,
    given_cut_length_draft,
    given_documented_reel,
    given_representative,
    issued,
)
from tests.certs.recalls import given_doubt, written
from tests.certs.sites import given_report
from tests.certs.wires import given_wire_test
from tests.factories import (
    given_delivery,
    given_fitting_lot,
    given_hold,
    given_order,
    given_person,
    given_piece,
    given_reel,
    given_sample,
)

EXAMPLES = {GenerationMode.POSITIVE: 12, GenerationMode.NEGATIVE: 6}
CHECKS = [
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_schema_conformance,
]
CONFIG = {
    "seed": 1,
    "generation": {"deterministic": True, "database": "none"},
    "phases": {"coverage": {"enabled": False}, "stateful": {"enabled": False}},
}


def test_the_description_makes_no_warning(tmp_path, capsys):
    document = tmp_path / "schema.yml"
    call_command("spectacular", "--validate", "--fail-on-warn", "--file", str(document))
    assert capsys.readouterr().err == ""
    assert "openapi: 3" in document.read_text()


def test_the_description_is_served_to_anyone(client):
    assert client.get("/api/schema/").status_code == 200


def test_every_address_says_what_it_does():
    silent = [
        f"{method} {path}"
        for path, operations in schema()["paths"].items()
        for method, operation in operations.items()
        if not operation.get("description")
    ]
    assert silent == []


@pytest.fixture
def world(db) -> dict[str, str]:
    """One thing of each kind, by the word that requests name it with."""
    cache.clear()
    load_specifications(folder=FOLDER)
    reel = given_documented_reel()
    piece = given_piece(reel=reel)
    paper = issued(given_cut_length_draft(piece))
    assembly = given_certifiable_assembly()
    proof = given_proof_test(assembly=assembly)
    given_representative()
    return {
        "reel": reel.code,
        "reels": reel.code,
        "pieces": piece.code,
        "piece": given_piece(reel=reel).code,
        "sample": (sample := given_sample(reel=reel)).code,
        "breaking-tests": (broken := given_breaking_test(sample=sample, peak_n=90_000)).code,
        "breaking_test": broken.code,
        "proof-tests": proof.code,
        "wire-tests": given_wire_test(reel=reel).code,
        "machine": proof.machine.code,
        "machines": proof.machine.code,
        "assembly": assembly.code,
        "assemblies": assembly.code,
        "certificates": str(paper.number),
        "tags": paper.tags.get().code,
        "mill": reel.mill.code,
        "parties": reel.mill.code,
        "heat": reel.heat_ties.get().heat.code,
        "heats": reel.heat_ties.get().heat.code,
        "mill_document": reel.mill_document.code,
        "mill-documents": reel.mill_document.code,
        "lot": (lot := given_fitting_lot()).code,
        "fitting-lots": lot.code,
        "maker": lot.maker.code,
        "customer": (order := given_order()).customer.code,
        "orders": order.code,
        "order_line": f"{order.code}/1",
        "deliveries": given_delivery(given_piece()).code,
        "holds": (hold := given_hold(given_reel())).code,
        "hold": hold.code,
        "site-reports": given_report().code,
        "recall-notices": written(given_doubt().hold)[0].code,
        "subject": hold.reel.code,
        "journal": "0",
        "specifications": "breaking-forces",
        "designation": reel.designation,
        "code": piece.code,
        "agreed_with": order.customer.code,
    }


def aimed(value: Any, world: dict[str, str], name: str = "") -> Any:
    """The value with codes in it that exist, under the names that ask for codes."""
    match value:
        case dict():
            return {key: aimed(part, world, str(key)) for key, part in value.items()}
        case list():
            return [aimed(part, world, name) for part in value]
        case str() if name in world and crc32(value.encode()) % 2:
            return world[name]
    return value


def served(environ, start_response):
    """Answer as a server does: whatever was sent is read to its end and closed (PEP 3333)."""
    answer = application(environ, start_response)
    try:
        return [b"".join(answer)]
    finally:
        answer.close()


def operations():
    """Everything the program says it does, as it is served by itself."""
    config = SchemathesisConfig.from_dict(CONFIG)
    api = schemathesis.openapi.from_wsgi("/api/schema/", served, config=config)
    return [found.ok() for found in api.get_all_operations()]


def hold_to_its_word(operation, world, *, token, mode):
    """Send drawn requests to one operation and compare the answers with its description."""
    resource = operation.path.split("/")[2]

    @bounded(
        max_examples=EXAMPLES[mode],
        deadline=None,
        derandomize=True,
        database=None,
        suppress_health_check=list(HealthCheck),
    )
    @given(case=operation.as_strategy(generation_mode=mode))
    def send(case):
        for name, drawn in (case.path_parameters or {}).items():
            case.path_parameters[name] = aimed(str(drawn), world, resource)
        case.query = aimed(case.query, world)
        if isinstance(case.body, dict):
            case.body = aimed(case.body, world)
        case.call_and_validate(headers={"Authorization": f"Token {token.key}"}, checks=CHECKS)

    send()


@pytest.fixture
def one_connection(db):
    """A request leaves the connection of the test open, as with the framework's own client."""
    for signal in (request_started, request_finished):
        signal.disconnect(close_old_connections)
    yield
    for signal in (request_started, request_finished):
        signal.connect(close_old_connections)


@pytest.mark.parametrize("mode", EXAMPLES, ids=["as described", "otherwise than described"])
def test_every_answer_is_one_that_was_described(world, one_connection, mode):
    token = Token.objects.create(user=given_person(Role.QA_OFFICER))
    broken = {}
    for operation in operations():
        try:
            hold_to_its_word(operation, world, token=token, mode=mode)
        except Unsatisfiable:
            assert mode is GenerationMode.NEGATIVE  # nothing can be wrong where nothing is asked
        except (FailureGroup, Failure) as fault:  # all of them are told, not the first alone
            broken[operation.label] = str(fault)
    assert broken == {}
