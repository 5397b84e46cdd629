"""Types of inspection documents, EN 10204:2004: every row of the table of twenty cases.

Each row is told as evidence here, by hand; what follows is read from the table.
"""

import csv
import re
from dataclasses import replace
from itertools import product
from pathlib import Path

import pytest

from certs.rules.document_ground import GROUNDS
from certs.rules.document_type import (
    Actor,
    DocumentType,
    Evidence,
    MillDocument,
    Result,
    Results,
    SecondInspector,
    decide,
    may_label,
    normalise_type,
)
from inventory.rules.refusal import Refusal

TABLE = Path(__file__).parents[3] / "fixtures/specification/document_types.csv"
with TABLE.open(encoding="utf-8") as file:
    ROWS = {row["case_id"]: row for row in csv.DictReader(file)}

MAKER = Evidence(Actor.MANUFACTURER_OF_ITEM, is_current=True)
MEASURED = replace(MAKER, results=Results.SPECIFIC, has_values=True, calibration_valid=True)
VALIDATED = replace(MEASURED, has_independent_representative=True)
CARRIER = Evidence(
    Actor.INTERMEDIARY,
    is_current=True,
    mill_document=MillDocument.ORIGINAL,
    mill_document_type=DocumentType.CERTIFICATE_31,
)
ASSEMBLER = replace(CARRIER, actor=Actor.STOCKIST_ASSEMBLER)
PROOFED = replace(ASSEMBLER, results=Results.SPECIFIC, has_values=True, calibration_valid=True)

EVIDENCE = {
    "DT01": MAKER,
    "DT02": replace(MAKER, results=Results.NON_SPECIFIC, has_values=True),
    "DT03": VALIDATED,
    "DT04": MEASURED,
    "DT05": replace(VALIDATED, second_inspector=SecondInspector.PURCHASER_REPRESENTATIVE),
    "DT06": replace(VALIDATED, calibration_valid=False),
    "DT07": replace(VALIDATED, has_values=False),
    "DT08": replace(
        VALIDATED,
        results=Results.SPECIFIC_FROM_INPUT_MAKER,
        has_input_document=True,
        second_inspector=SecondInspector.OFFICIAL_INSPECTOR,
    ),
    "DT09": CARRIER,
    "DT10": replace(CARRIER, mill_document=MillDocument.COPY_WITHOUT_ORIGINAL),
    "DT11": replace(CARRIER, mill_document=MillDocument.FOR_ANOTHER_REEL),
    "DT12": replace(CARRIER, number_of_reels=2),
    "DT13": replace(CARRIER, wants_own_document=True),
    "DT14": ASSEMBLER,
    "DT15": replace(ASSEMBLER, results=Results.TYPE_TEST_ONLY, has_values=True),
    "DT16": replace(PROOFED, has_independent_representative=True),
    "DT17": PROOFED,
    # Nobody has a surveyor come unless 3.2 was ordered.
    "DT18": replace(
        PROOFED,
        has_independent_representative=True,
        second_inspector=SecondInspector.OFFICIAL_INSPECTOR,
        ordered_type=DocumentType.CERTIFICATE_32,
    ),
    "DT19": replace(MEASURED, actor=Actor.INDEPENDENT_LABORATORY),
    "DT20": replace(VALIDATED, is_current=False),
}


def permitted_in(text):
    """Return the types that a cell permits: remarks in brackets are none of them."""
    types = set(re.findall(r"[23]\.[12]", re.sub(r"\(.*?\)", "", text)))
    return types | ({"laboratory"} if text.startswith("ISO/IEC 17025") else set())


def test_the_table_has_its_twenty_cases():
    assert list(ROWS) == list(EVIDENCE)


@pytest.mark.parametrize("case", ROWS)
def test_every_case_of_the_table(case):
    row, decision = ROWS[case], decide(EVIDENCE[case])
    expected = permitted_in(row["permitted_documents"])
    if row["result"] == "pass_on":  # "same type"
        expected = {EVIDENCE[case].mill_document_type}
    assert decision.result == row["result"]
    assert set(decision.permitted) == expected
    assert decision.case == case


@pytest.mark.parametrize("case", ROWS)
def test_source_and_confidence_are_those_of_the_table(case):
    ground = GROUNDS[case]
    assert (ground.source, ground.confidence) == (ROWS[case]["source"], ROWS[case]["confidence"])


@pytest.mark.parametrize("case", ROWS)
def test_every_decision_says_why_and_what_to_state(case):
    decision = decide(EVIDENCE[case])
    assert decision.reason.endswith(".")
    assert decision.must_state
    assert decision.source
    assert decision.confidence in {"two-sources", "read", "memory", "derived"}


def test_the_assembler_passes_the_ropes_document_on():
    decision = decide(ASSEMBLER)
    assert (decision.passes_on, decision.documents) == (True, 1)


def test_each_reel_goes_with_its_own_document():
    assert decide(EVIDENCE["DT12"]).documents == 2


@pytest.mark.parametrize(
    ("evidence", "case"),
    [
        pytest.param(replace(CARRIER, mill_document=MillDocument.NONE), "no mill document", id="a"),
        pytest.param(
            replace(ASSEMBLER, mill_document=MillDocument.NONE), "no mill document", id="b"
        ),
        pytest.param(replace(PROOFED, mill_document=MillDocument.FOR_ANOTHER_REEL), "DT11", id="c"),
        pytest.param(
            replace(MEASURED, results=Results.SPECIFIC_FROM_INPUT_MAKER),
            "no input document",
            id="d",
        ),
        pytest.param(
            replace(MAKER, actor=Actor.INDEPENDENT_LABORATORY), "no laboratory results", id="e"
        ),
        pytest.param(replace(EVIDENCE["DT19"], has_values=False), "DT07", id="f"),
        pytest.param(Evidence(Actor.MANUFACTURER_OF_ITEM), "DT20", id="nothing said at all"),
    ],
)
def test_what_is_not_held_blocks(evidence, case):
    decision = decide(evidence)
    assert (decision.result, decision.permitted, decision.case) == (Result.BLOCK, (), case)
    assert decision.reason


def test_an_assembly_whose_proof_load_is_in_doubt_may_still_be_declared():
    decision = decide(replace(PROOFED, calibration_valid=False))
    assert (decision.result, decision.permitted) == (Result.BLOCK, ("2.1",))


def test_carried_results_without_a_second_inspector_are_a_31_only():
    evidence = replace(EVIDENCE["DT08"], second_inspector=SecondInspector.NONE)
    assert decide(evidence).permitted == ("3.1",)


def test_a_copy_with_its_original_at_hand_is_passed_on():
    evidence = replace(CARRIER, mill_document=MillDocument.COPY_ORIGINAL_AVAILABLE)
    assert decide(evidence).case == "DT09"


def test_a_document_of_no_type_is_passed_on_as_none():
    assert decide(replace(CARRIER, mill_document_type=None)).permitted == ()


def test_an_ordered_type_that_is_not_supported_is_not_permitted():
    evidence = replace(MEASURED, ordered_type=DocumentType.CERTIFICATE_31)
    assert decide(evidence).permitted == ("2.1", "2.2")


EVERY_MAKER = [
    replace(
        base,
        results=results,
        has_values=has_values,
        calibration_valid=calibrated,
        has_independent_representative=validated,
        second_inspector=second,
    )
    for base, results, has_values, calibrated, validated, second in product(
        (MAKER, ASSEMBLER),
        Results,
        (True, False),
        (True, False),
        (True, False),
        SecondInspector,
    )
]


def test_no_combination_gives_a_31_without_specific_results_and_an_independent_validator():
    # EN 10204:2004 4.1
    for evidence in EVERY_MAKER:
        if {"3.1", "3.2"} & set(decide(evidence).permitted):
            assert evidence.results in {Results.SPECIFIC, Results.SPECIFIC_FROM_INPUT_MAKER}
            assert evidence.has_values
            assert evidence.has_independent_representative


def test_no_combination_gives_a_32_without_a_second_inspector():
    # EN 10204:2004 4.2
    for evidence in EVERY_MAKER:
        if evidence.second_inspector is SecondInspector.NONE:
            assert "3.2" not in decide(evidence).permitted


@pytest.mark.parametrize(
    ("written", "name", "historic"),
    [
        ("2.1", "2.1", False),
        ("3.1", "3.1", False),
        (" 3.2 ", "3.2", False),
        ("type 2.2", "2.2", False),
        ("EN 10204:2004 - 3.1", "3.1", False),
        ("DIN EN 10204 / 3.1", "3.1", False),
        ("EN 10204:1991 3.2", "3.2", True),
        ("3.1.B", "3.1", True),
        ("3.1B", "3.1", True),
        ("EN 10204-3.1b", "3.1", True),
        ("3.1.A", "3.2", True),
        ("3.1.C", "3.2", True),
        ("2.3", "2.3", True),
    ],
)
def test_names_of_types_old_and_new(written, name, historic):
    # EN 10204:2004 against 1991; what became of 2.3 no source says.
    assert normalise_type(written) == (name, historic)


@pytest.mark.parametrize("written", ["", "3.3", "2.1.B", "3.2.A", "4.1", "certificate", "3.1.D"])
def test_a_type_that_never_was_is_refused(written):
    with pytest.raises(Refusal, match="no document of EN 10204"):
        normalise_type(written)


@pytest.mark.parametrize(
    ("wanted", "case"),
    [
        ("3.1", "DT03"),
        ("EN 10204 - 3.1", "DT03"),
        ("2.1", "DT06"),
        ("laboratory", "DT19"),
        ("statement", "DT09"),
        ("statement", "DT13"),
    ],
)
def test_a_label_that_the_evidence_supports(wanted, case):
    assert may_label(wanted, decide(EVIDENCE[case])) is None


@pytest.mark.parametrize(
    ("wanted", "case", "words"),
    [
        ("3.1", "DT04", "permitted: 2.1, 2.2"),
        ("3.1", "DT13", "permitted: none"),
        ("3.1", "DT19", "permitted: laboratory"),
        ("laboratory", "DT03", "permitted: 2.1, 2.2, 3.1"),
        ("3.1.B", "DT03", "from before 2004"),
        ("9.9", "DT03", "no document of EN 10204"),
        ("statement", "DT11", "another reel"),
    ],
)
def test_a_label_that_it_does_not_support(wanted, case, words):
    assert words in may_label(wanted, decide(EVIDENCE[case]))
