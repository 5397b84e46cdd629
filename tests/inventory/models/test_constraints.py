"""Every constraint of the physical record, tried through the ORM, in bulk and in plain SQL."""

import pytest
from django.apps import apps

from inventory.models import JournalHead
from inventory.rules.roles import Role
from tests.factories import MOMENT, given_person, given_piece
from tests.inventory.models.ways import INSERTS, copy_of, refused_by

pytestmark = pytest.mark.django_db

FAR = 900_000  # metres that nothing else uses


def on_hold(**changes):
    """A hold without the subject that the copied one has."""
    return {"reel": None, "from_mm": None, "to_mm": None} | changes


def tied_to_a_stretch(world):
    copy_of(world["ReelHeat"], from_mm=5, to_mm=9).save()
    return {"from_mm": 5, "to_mm": 8}


# Name of the constraint, what it is tried on, what is wrong with the row (or how to find out).
CASES = {
    "calibration_certificate_once": ("Calibration", {}),
    "calibration_dates_in_order": (
        "Calibration",
        lambda w: {"certificate_number": "N", "due_date": w["Calibration"].calibrated_date},
    ),
    "calibration_range_in_order": (
        "Calibration",
        lambda w: {"certificate_number": "N", "range_to_n": w["Calibration"].range_from_n},
    ),
    "calibration_uncertainty_is_whole": (
        "Calibration",
        {"certificate_number": "X", "uncertainty_pct": "0.5", "coverage_factor": ""},
    ),
    "assembly_position_once": (
        "AssemblyPiece",
        lambda w: {"piece": given_piece(reel=w["spare_reel"])},
    ),
    "checkpoint_is_whole": ("Checkpoint", {"size": 10**6, "root": "ab"}),
    "cut_piece_has_length": ("CutPiece", {"from_mm": FAR, "to_mm": FAR}),
    "cut_piece_within_tolerance": (
        "CutPiece",
        {"from_mm": FAR, "to_mm": FAR + 10_001, "ordered_length_mm": 10_000},
    ),
    "cut_reversal_has_a_reason": (
        "CutReversal",
        lambda w: {"cut": given_piece(reel=w["spare_reel"]), "reason": ""},
    ),
    "delivery_item_is_one_thing": ("DeliveryItem", {"assembly": None}),
    "fitting_lot_is_not_empty": (
        "FittingLot",
        {"maker_lot_number": "N", "quantity": 0},
    ),
    "fitting_lot_number_once_per_maker": ("FittingLot", {}),
    "fitting_use_once": ("FittingUse", {}),
    "fitting_use_uses_some": ("FittingUse", {"lot_id": 10**6, "quantity": 0}),
    "heat_has_a_number": ("Heat", {"number": ""}),
    "heat_number_once_per_mill": ("Heat", {}),
    "hold_has_a_reason": ("Hold", {"reason": ""}),
    "hold_has_one_subject": ("Hold", lambda w: {"heat": w["Heat"]}),
    "hold_release_is_whole": ("Hold", {"released_at": MOMENT}),
    "hold_stretch_is_of_a_reel": (
        "Hold",
        lambda w: on_hold(heat=w["Heat"], from_mm=1, to_mm=2),
    ),
    "journal_hashes_are_whole": ("JournalEntry", {"number": 10**6, "leaf_hash": "ab"}),
    "journal_has_one_head": ("JournalHead", {"id": 2}),
    "merkle_node_has_its_place": ("MerkleNode", {}),
    "merkle_node_is_whole": ("MerkleNode", {"level": 0}),
    "mill_document_has_a_number": ("MillDocument", {"number": ""}),
    "mill_document_number_once_per_mill": ("MillDocument", {}),
    "order_line_asks_for_something": ("OrderLine", {"position": 9, "quantity": 0}),
    "order_line_position_once": ("OrderLine", {}),
    "party_has_a_name": ("Party", {"name": ""}),
    "party_name_once_per_kind": ("Party", {}),
    "party_language_is_known": ("Party", {"name": "Another", "language": "xx"}),
    "preference_units_are_known": (
        "Preference",
        lambda _: {"person": given_person(Role.AUDITOR), "units": "cubits"},
    ),
    "person_role_is_known": ("Person", {"username": "n", "role": "owner"}),
    "reel_has_diameter": ("Reel", {"diameter_nm": 0}),
    "reel_has_length": ("Reel", {"length_mm": 0}),
    "reel_heat_stretch_is_whole": ("ReelHeat", {"from_mm": 5}),
    "reel_heat_tied_once_by_stretch": ("ReelHeat", tied_to_a_stretch),
    "reel_heat_tied_once_whole": ("ReelHeat", {}),
    "reel_origin_is_whole": ("Reel", {"origin": "rewind"}),
    "sent_form_token": ("SentForm", {"token": "short"}),
    "signing_key_is_whole": ("SigningKey", {"name": "n", "public_key": ""}),
    "signing_key_of_papers_has_a_certificate": ("SigningKey", {"name": "n", "purpose": "paper"}),
    "signing_key_revocation_has_a_reason": ("SigningKey", {"name": "n", "revoked_at": MOMENT}),
    "stored_file_hash_is_whole": ("StoredFile", {"sha256": "ab"}),
    "stored_file_is_not_empty": ("StoredFile", {"sha256": "0" * 64, "size_bytes": 0}),
    "termination_end_once": ("Termination", {}),
    "testing_machine_serial_once": ("TestingMachine", {}),
}


def test_every_constraint_is_tried():
    models = apps.get_app_config("inventory").get_models()
    named = {c.name for model in models for c in model._meta.constraints}
    assert named == set(CASES)


@pytest.mark.parametrize("insert", INSERTS)
@pytest.mark.parametrize("name", CASES)
def test_a_row_against_a_constraint_is_refused(world, name, insert):
    model, wrong = CASES[name]
    row = copy_of(world[model], **(wrong(world) if callable(wrong) else wrong))
    count = type(row).objects.count()
    with refused_by(name):
        insert(row)
    assert type(row).objects.count() == count


# Further ways to break a constraint than the one above.
MORE = [
    ("cut_piece_has_length", "CutPiece", {"from_mm": FAR, "to_mm": FAR - 1}),
    (
        "cut_piece_within_tolerance",
        "CutPiece",
        {"from_mm": FAR, "to_mm": FAR + 9_999, "ordered_length_mm": 10_000},
    ),
    ("hold_has_one_subject", "Hold", on_hold()),
    ("hold_stretch_is_of_a_reel", "Hold", {"from_mm": 5, "to_mm": 5}),
    ("hold_stretch_is_of_a_reel", "Hold", {"from_mm": 5, "to_mm": None}),
    ("hold_stretch_is_of_a_reel", "Hold", {"from_mm": None, "to_mm": 5}),
    ("reel_heat_stretch_is_whole", "ReelHeat", {"from_mm": None, "to_mm": 5}),
    ("reel_origin_is_whole", "Reel", {"origin": "return", "origin_from_mm": 0}),
    ("hold_release_is_whole", "Hold", {"release_reason": "settled"}),
    ("reel_origin_is_whole", "Reel", {"origin_from_mm": 0, "origin_to_mm": 1}),
    ("reel_heat_stretch_is_whole", "ReelHeat", {"from_mm": 5, "to_mm": 5}),
    ("order_line_asks_for_something", "OrderLine", {"position": 9, "length_mm": 0}),
    ("checkpoint_is_whole", "Checkpoint", {"size": 10**6, "note": ""}),
    ("merkle_node_is_whole", "MerkleNode", {"index": 10**6, "hash": "ab"}),
    ("signing_key_is_whole", "SigningKey", {"name": ""}),
    (
        "signing_key_of_papers_has_a_certificate",
        "SigningKey",
        {"name": "n", "certificate_pem": "PEM"},
    ),
    ("signing_key_revocation_has_a_reason", "SigningKey", {"name": "n", "revoke_reason": "lost"}),
    ("journal_hashes_are_whole", "JournalEntry", {"number": 10**6, "chain_hash": "ab"}),
]


@pytest.mark.parametrize(("name", "model", "wrong"), MORE)
def test_a_constraint_holds_from_every_side(world, name, model, wrong):
    with refused_by(name):
        copy_of(world[model], **wrong).save(force_insert=True)


@pytest.mark.parametrize(
    "length_mm", [9_990, 10_000, 10_020], ids=["shortest", "as asked", "longest"]
)
def test_a_piece_at_its_tolerance_is_accepted(world, length_mm):
    limits = {"ordered_length_mm": 10_000, "tolerance_minus_mm": 10, "tolerance_plus_mm": 20}
    copy_of(world["CutPiece"], from_mm=FAR, to_mm=FAR + length_mm, **limits).save()


def test_the_head_of_the_journal_is_row_one(world):
    assert JournalHead.objects.get().pk == 1
