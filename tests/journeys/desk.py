"""The QA officer at her desk: the main job through the pages, as a browser would send it."""

from datetime import timedelta

from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.utils import timezone

from certs.models import Certificate, Tag
from certs.services.representatives import register_representative
from inventory.models import Assembly, CutPiece, FittingLot, Party, Reel
from inventory.rules.roles import Role
from inventory.services.machines import record_calibration
from tests.certs.claims import force_log, given_factor
from tests.factories import (
    MOMENT,
    given_keys,
    given_machine,
    given_mill,
    given_party,
    given_person,
    pdf_bytes,
)

HEAT = {"number": "70001", "steel_name": "C78D", "analysis": "C 0.78\nMn 0.62"}


def machine_in_calibration():
    """A testing machine whose calibration covers the day on which the test runs."""
    machine = given_machine(is_calibrated=False)
    record_calibration(
        machine=machine,
        certificate_number="CAL-1",
        laboratory="Invented Laboratory",
        accreditation_number="ACC 000",
        calibrated_date=MOMENT.date(),
        due_date=timezone.localdate() + timedelta(days=300),
        machine_class="1",
        range_from_n=5_000,
        range_to_n=500_000,
        resolution_n=10,
        by=given_person(),
        at=MOMENT,
    )
    return machine


class Desk:
    """Each step fills in one page and gives what is on record after it."""

    def __init__(self):
        self.client = Client()
        self.client.force_login(given_person(Role.QA_OFFICER))
        given_keys()
        self.today = timezone.localdate()

    def post(self, address, **typed):
        """Send a form; it must be taken, and lead on to another page."""
        answer = self.client.post(address, typed)
        assert answer.status_code == 302, answer.text
        return self.client.get(answer["Location"])

    def receive(self):
        self.post(
            "/reels/receive/",
            designation="12 6x7-WSC 1770 B sZ",
            mill=given_mill().code,
            mill_reel_number="MR-1",
            length_mm="1000",
            number="MTC-1",
            kind="3.1",
            form="original",
            issued_date="2026-01-15",
            validated_by="Head of inspection",
            file=SimpleUploadedFile("mtc.pdf", pdf_bytes("MTC-1")),
            **{"heat-TOTAL_FORMS": "1", "heat-INITIAL_FORMS": "0"},
            **{f"heat-0-{name}": text for name, text in HEAT.items()},
        )
        return Reel.objects.get()

    def name_basis(self, reel):
        row = given_factor("6x7", "WSC")
        address = f"/reels/{reel.code}/strength/"
        return self.post(address, basis=f"factor-{row.pk}", reason="as ordered")

    def cut(self, reel):
        ends = {"near_end": "terminated", "far_end": "terminated"}
        self.post(f"/reels/{reel.code}/cut/", length_mm="6", purpose="supply", **ends)
        return CutPiece.objects.get()

    def receive_ferrules(self):
        self.post(
            "/fittings/receive/",
            kind="ferrule",
            maker=given_party(Party.Kind.FITTING_MAKER, "Invented Fittings Works").code,
            maker_lot_number="L-1",
            description="ferrule 12",
            for_diameter="12",
            quantity="100",
        )
        return FittingLot.objects.get()

    def build(self, piece, lot):
        leg = {"piece": piece.code, "operator": "Press 1"}
        for end in ("near", "far"):
            leg |= {f"{end}_kind": "ferrule_secured_eye", f"{end}_fittings": lot.code}
        self.post(
            "/assemblies/build/",
            kind="one_leg",
            **{"leg-TOTAL_FORMS": "1", "leg-INITIAL_FORMS": "0"},
            **{f"leg-0-{name}": text for name, text in leg.items()},
        )
        return Assembly.objects.get()

    def prove(self, assembly, machine):
        return self.post(
            "/tests/proof/record/",
            assembly=assembly.code,
            machine=machine.pk,
            tested_at=f"{timezone.localtime():%Y-%m-%dT%H:%M}",
            required_n="40",
            required_hold_s="60",
            rule="2 x the vertical rated load, by the order",
            log=SimpleUploadedFile("bench.csv", force_log(peak_n=41_000, hold_s=65)),
            before="good",
            after="good",
        )

    def draft(self, assembly):
        inspector = register_representative(
            person=given_person(Role.INSPECTION_REPRESENTATIVE),
            capacity="manufacturer",
            organisation="Invented Stockist",
            is_independent=True,
            valid_from_date=self.today,
            valid_to_date=None,
            by=given_person(Role.ADMINISTRATOR),
            at=MOMENT,
        )
        self.post(
            "/certificates/draft/assembly/",
            assembly=assembly.code,
            document_kind="3.1",
            customer=given_party(Party.Kind.CUSTOMER, "Invented Shipyard").pk,
            first_validator=inspector.pk,
        )
        return Certificate.objects.get()

    def issue(self, draft):
        self.post(f"/certificates/{draft.draft_code}/issue/")
        return Certificate.objects.get()

    def tag(self, assembly):
        sheet = self.client.get("/labels/").context["form"].fields["sheet"].choices[0][0]
        asked = {"things": assembly.code, "sheet": sheet, "skip": "0"}
        answer = self.client.post("/labels/", asked)
        assert answer["Content-Type"] == "application/pdf"
        return Tag.objects.get(assembly=assembly)
