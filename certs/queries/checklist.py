"""Tells what a draft still lacks: one line for each thing that must be so before it is issued.

Each line asks the record or a rule; the document type is judged by EN 10204 on the evidence.
"""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from certs.models import BreakingTest, Certificate
from certs.queries.check_item import CheckItem
from certs.queries.decisions import proof_tests_turned_down
from certs.queries.evidence import (
    decide_for,
    reels_without_paper,
    reversal_of,
    standing,
    supporting_proof_tests,
)
from certs.queries.keys_asked import key_items
from certs.queries.marks import mark_item
from certs.queries.receiving_checks import check_standings
from certs.queries.reel_lines import AskedOnce
from certs.queries.strength import assembly_strength
from certs.queries.subject import Subject, subject_of
from certs.rules.confidence import in_words
from certs.rules.document_type import Decision, may_label
from inventory.models import Hold, OrderLine, Reel
from inventory.queries.holds import holds_on_assembly, holds_on_machine, holds_on_pieces

_NEED_REPRESENTATIVE = {
    Certificate.DocumentKind.CERTIFICATE_31.value,
    Certificate.DocumentKind.CERTIFICATE_32.value,
}


def checklist(certificate: Certificate, *, on: date, key_trouble: str = "") -> list[CheckItem]:
    """List what must be so before this draft may be issued on a day, met or not."""
    return _checklist(certificate, on=on, key_trouble=key_trouble, asked=AskedOnce())


def checklists(
    certificates: Iterable[Certificate], *, on: date, key_trouble: str = ""
) -> list[list[CheckItem]]:
    """List the same for many drafts; what speaks of a reel alone is asked for once a reel.

    Some ten queries a draft, and some thirty a reel.
    """
    asked = AskedOnce()
    return [_checklist(one, on=on, key_trouble=key_trouble, asked=asked) for one in certificates]


def lacking(items: Sequence[CheckItem]) -> list[CheckItem]:
    """Keep what is not met."""
    return [item for item in items if not item.is_met]


def _checklist(
    certificate: Certificate, *, on: date, key_trouble: str, asked: AskedOnce
) -> list[CheckItem]:
    subject = subject_of(certificate)
    decision = decide_for(certificate, traces=subject.traces, on=on)
    return [
        *_document(certificate, decision, subject),
        *_validators(certificate, on=on),
        *_returned(certificate, subject),
        *_received(certificate, subject),
        *_rope(subject, asked),
        *_tests_of_rope(certificate, subject, asked),
        *_strength(certificate),
        *_holds(certificate, subject),
        *_tests(certificate),
        *_correction(certificate),
        *asked.lines("keys", lambda: key_items(trouble=key_trouble)),
    ]


def _document(
    certificate: Certificate, decision: Decision, subject: Subject
) -> Iterator[CheckItem]:
    """The kind of paper follows from the evidence (EN 10204), never from a wish."""
    refusal = may_label(certificate.document_kind, decision)
    bare = reels_without_paper(subject.traces) if refusal else []
    if refusal and bare:
        refusal = f"{refusal} Look at {', '.join(bare)}."
    source = f"{decision.source} [{in_words(decision.confidence)}]"
    yield CheckItem(
        name="Kind of document",
        is_met=refusal is None,
        text=refusal or f"{certificate.get_document_kind_display()}: supported. {source}",
        about=bare[0] if bare else "",
    )
    asked = _ordered_kind(certificate)
    if asked and certificate.document_kind != "statement":
        yield CheckItem(
            name="Kind that was ordered",
            is_met=certificate.document_kind == asked,
            text=f"The order asks for {asked}; this draft is {certificate.document_kind}.",
        )


def _ordered_kind(certificate: Certificate) -> str:
    line = certificate.assembly.order_line if certificate.assembly else None
    kind = line.document_kind if line else OrderLine.DocumentKind.NONE
    return "" if kind == OrderLine.DocumentKind.NONE else str(kind)


def _validators(certificate: Certificate, *, on: date) -> Iterator[CheckItem]:
    for chosen in (certificate.first_validator, certificate.second_validator):
        if chosen is not None:
            yield CheckItem(
                name="Entry in the register",
                is_met=standing(chosen, on=on) is not None,
                text=f"{chosen}: in the register from {chosen.valid_from_date} "
                f"to {chosen.valid_to_date or 'further notice'}.",
            )
    if certificate.document_kind in _NEED_REPRESENTATIVE and not certificate.first_validator:
        yield CheckItem(
            name="Inspection representative",
            is_met=False,
            text="Name the manufacturer's authorised inspection representative.",
        )


def _returned(certificate: Certificate, subject: Subject) -> Iterator[CheckItem]:
    """A piece that came back since the draft is a reel again; a correction may still name it."""
    if certificate.replaces:
        return
    back = Reel.objects.filter(wound_from__in=subject.pieces, origin=Reel.Origin.RETURN)
    for code in back.order_by("id").values_list("wound_from__code", flat=True):
        text = f"{code} came back and is a reel again: leave it out."
        yield CheckItem("Pieces", is_met=False, text=text, about=code)


def _received(certificate: Certificate, subject: Subject) -> Iterator[CheckItem]:
    """A report on a broken sample states a test, whatever was found of the reel at goods in."""
    if certificate.kind == Certificate.Kind.BREAKING:
        return
    for one in check_standings(trace.ancestors[-1].reel_code for trace in subject.traces):
        yield CheckItem("Receiving check", one.is_met, one.text, about=one.reel_code)


def _rope(subject: Subject, asked: AskedOnce) -> Iterator[CheckItem]:
    for reel in subject.reels:
        yield from asked.rope(reel)
    for trace in subject.traces:
        if not trace.heats:
            code = trace.ancestors[-1].reel_code
            yield CheckItem(
                "Heats",
                is_met=False,
                text=f"No heat is tied to these metres of {code}.",
                about=code,
            )


def _tests_of_rope(
    certificate: Certificate, subject: Subject, asked: AskedOnce
) -> Iterator[CheckItem]:
    """What breaks and wires leave open is settled first; the report of a break goes out as is."""
    if certificate.kind == Certificate.Kind.BREAKING:
        return
    for reel in subject.reels:
        yield from asked.breaks(reel)
    for reel in subject.reels:
        yield from asked.wires(reel)


def _strength(certificate: Certificate) -> Iterator[CheckItem]:
    """What cannot be rated cannot be certified."""
    if certificate.assembly:
        strength = assembly_strength(certificate.assembly)
        text = " ".join(strength.problems) or strength.summary
        is_met = not strength.problems
        about = certificate.assembly.code
        yield CheckItem("Strength of the assembly", is_met=is_met, text=text, about=about)
        if certificate.marked_kg is not None:
            yield mark_item(strength, certificate.marked_kg)


def _holds(certificate: Certificate, subject: Subject) -> Iterator[CheckItem]:
    """Nothing under hold is certified."""
    found: dict[int, Hold] = {}
    found.update({hold.pk: hold for hold in holds_on_pieces(subject.pieces)})
    if certificate.assembly:
        found.update({hold.pk: hold for hold in holds_on_assembly(certificate.assembly)})
    if certificate.breaking_test:
        machine = certificate.breaking_test.machine
        found.update({hold.pk: hold for hold in holds_on_machine(machine)})
    if not found:
        yield CheckItem("Holds", is_met=True, text="Nothing it is made from is under hold.")
    for hold in found.values():
        yield CheckItem(
            "Holds", is_met=False, text=f"{hold.code} stands: {hold.reason}", about=hold.code
        )


def _tests(certificate: Certificate) -> Iterator[CheckItem]:
    if certificate.assembly:
        tests = supporting_proof_tests(certificate.assembly)
        turned = "" if tests else " ".join(proof_tests_turned_down(certificate.assembly))
        needs = certificate.document_kind in {*_NEED_REPRESENTATIVE, "2.2"}
        yield CheckItem(
            name="Proof-load test",
            is_met=bool(tests) or not needs,
            text=f"{tests[0].code} passed."
            if tests
            else turned
            or "No proof load passed on a machine in calibration, with none failed since.",
            about=certificate.assembly.code,
        )
    test: BreakingTest | None = certificate.breaking_test
    if test:
        reversal = reversal_of(test)
        if reversal is not None:
            text = f"{test.code} was reversed: {reversal.reason}"
            yield CheckItem("Breaking-force test", is_met=False, text=text, about=test.code)
        problems = " ".join(test.machine_problems)
        yield CheckItem(
            name="Testing machine",
            is_met=not test.machine_problems,
            text=problems or f"{test.machine} was in calibration and in range.",
            about=test.code,
        )


def _correction(certificate: Certificate) -> Iterator[CheckItem]:
    old = certificate.replaces
    if old:
        yield CheckItem(
            name="Correction",
            is_met=old.state == Certificate.State.ISSUED,
            text=f"Replaces {old.number}, which is {old.get_state_display()}.",
        )
