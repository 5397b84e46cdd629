"""Every act is in the table of the audit, and every act that writes rows binds them."""

import ast

import pytest
from django.apps import apps
from django.conf import settings

from certs.queries.audit.acts import DISCARD_DRAFT, NEVER_WRITTEN, WRITES
from certs.queries.audit.rows import UNJOURNALLED, audited_models, is_loaded
from certs.rules.roles import ClaimAct
from inventory.rules.roles import Act

ACTS = [act.value for act in (*Act, *ClaimAct)]
CALLS = [
    (f"{path.relative_to(settings.ROOT)}:{call.lineno}", {word.arg for word in call.keywords})
    for app in ("inventory", "certs")
    for path in sorted((settings.ROOT / app).rglob("*.py"))
    for call in ast.walk(ast.parse(path.read_text()))
    if isinstance(call, ast.Call)
    and getattr(call.func, "attr", getattr(call.func, "id", "")) == "append"
    and {"act", "subject"} <= {word.arg for word in call.keywords}
]
# Copies what is on record and writes none of it.
WRITES_NO_ROW = "certs/services/take_bundle.py"


@pytest.mark.parametrize("act", ACTS)
def test_every_act_has_a_rule(act):
    assert (act in WRITES) != (act in NEVER_WRITTEN)


def test_the_table_holds_no_act_that_is_none():
    assert set(WRITES) - {DISCARD_DRAFT} <= set(ACTS)
    assert set(ACTS) >= NEVER_WRITTEN


def test_the_calls_that_write_entries_were_found():
    assert len(CALLS) > 35


@pytest.mark.parametrize(("place", "words"), CALLS, ids=[place for place, _ in CALLS])
def test_every_entry_is_given_the_rows_of_its_act(place, words):
    assert words & {"rows", "gone"} or place.startswith(WRITES_NO_ROW)


def test_every_table_is_written_by_acts_or_named_as_one_that_is_not():
    labels = ("inventory", "certs")
    tables = {model for label in labels for model in apps.get_app_config(label).get_models()}
    loaded = {model for model in tables if is_loaded(model)}
    assert tables == {*audited_models(), *UNJOURNALLED, *loaded}
    assert {model._meta.label for model in UNJOURNALLED} == {
        "certs.IssueBatch",
        "certs.IssueBatchLine",
        "inventory.Checkpoint",
        "inventory.JournalEntry",
        "inventory.JournalHead",
        "inventory.MerkleNode",
        "inventory.NumberSeries",
        "inventory.Preference",
        "inventory.SentForm",
    }


def test_every_table_of_the_acts_is_bound_by_some_act():
    bound = {model for models in WRITES.values() for model in models}
    # Written with another row that the table names: a termination never without its assembly.
    beside = {
        "certs.CertificatePiece",
        "certs.CertificateProofTest",
        "certs.SitePhoto",
        "inventory.FittingUse",
        "inventory.Termination",
    }
    assert {model._meta.label for model in audited_models() if model not in bound} == beside
