"""Changes of rows and files past the program, and what the audit has to say of each."""

from datetime import timedelta

from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.db.models import F

from certs.models import Certificate, CertificatePiece, ForceFactor, ProofTest, StrengthBasis
from certs.rules.disagreement import What
from inventory.models import (
    CutPiece,
    DeliveryItem,
    Hold,
    MillDocument,
    NumberSeries,
    Party,
    Person,
    Reel,
    ReelHeat,
    StoredFile,
)
from inventory.rules.canonical import sha256_hex
from tests.factories import MOMENT, pdf_bytes

ROW, NAME, GONE, ADDED = What.ROW_CHANGED, What.NAME_CHANGED, What.ROW_GONE, What.ROW_ADDED


def of_the_first(model, **values):
    def change():
        first = model.objects.order_by("pk").first()
        model.objects.filter(pk=first.pk).update(**values)

    return change


def a_cut_is_moved():
    cut = CutPiece.objects.order_by("pk").first()
    CutPiece.objects.filter(pk=cut.pk).update(from_mm=cut.from_mm + 1, to_mm=cut.to_mm + 1)


def a_force_factor_is_raised():
    basis = StrengthBasis.objects.order_by("pk").first()
    ForceFactor.objects.filter(pk=basis.factor_id).update(factor_k="0.999")


def a_reason_is_reworded():
    Hold.objects.update(release_reason="Looked at twice")


def a_withdrawal_is_undone():
    Certificate.objects.filter(state="withdrawn").update(
        state="issued", ended_at=None, ended_by=None, end_reason=""
    )


def a_snapshot_is_rewritten():
    first = Certificate.objects.order_by("pk").first()
    text = first.snapshot.replace('"length_mm":', '"length_mm":1')
    Certificate.objects.filter(pk=first.pk).update(
        snapshot=text, snapshot_sha256=sha256_hex(text.encode())
    )


def a_credential_is_rewritten():
    first = Certificate.objects.order_by("pk").first()
    text = first.credential.replace('"mm"', '"km"')
    Certificate.objects.filter(pk=first.pk).update(
        credential=text, credential_sha256=sha256_hex(text.encode())
    )


def a_tie_is_deleted():
    DeliveryItem.objects.all().delete()


def the_last_hold_is_deleted():
    Hold.objects.all().delete()


def a_heat_is_untied():
    ReelHeat.objects.order_by("pk").first().delete()


def a_cut_is_put_in():
    first = CutPiece.objects.order_by("pk").last()
    first.pk, first.code = None, "P-09999"
    first.from_mm, first.to_mm = first.to_mm, first.to_mm + 1000
    first.save(force_insert=True)


def a_cut_is_put_over_another():
    first = CutPiece.objects.order_by("pk").first()
    first.pk, first.code = None, "P-00009"
    NumberSeries.objects.filter(series="P").update(last=9)
    first.save(force_insert=True)


def a_piece_is_put_on_a_paper():
    tie = CertificatePiece.objects.order_by("pk").first()
    other = CutPiece.objects.exclude(pk=tie.piece_id).order_by("pk").first()
    CertificatePiece.objects.create(certificate=tie.certificate, piece=other, position=9)


def somebody_is_put_in():
    Person.objects.create(
        username="intruder", role="administrator", journal_salt="0" * 64, date_joined=MOMENT
    )


def the_bytes_of_a_paper_are_swapped():
    path = Certificate.objects.order_by("pk").first().pdf.path
    default_storage.delete(path)
    default_storage.save(path, ContentFile(pdf_bytes("another paper")))


def a_paper_is_given_another_file():
    content = pdf_bytes("another paper")
    digest = sha256_hex(content)
    path = default_storage.save(f"evidence/{digest}.pdf", ContentFile(content))
    file = StoredFile.objects.create(
        sha256=digest,
        media_type="application/pdf",
        size_bytes=len(content),
        name="paper.pdf",
        path=path,
        kept_at=MOMENT,
    )
    first = Certificate.objects.order_by("pk").first()
    Certificate.objects.filter(pk=first.pk).update(pdf=file, pdf_sha256=digest)


def a_scan_is_deleted():
    default_storage.delete(MillDocument.objects.order_by("pk").first().file.path)


# The id is what was done; then how, and every kind of disagreement that must be named, no other.
TAMPERS = {
    "edited row: a cut is moved by a millimetre": (a_cut_is_moved, {ROW}),
    "edited row: a reel is made longer": (of_the_first(Reel, length_mm=10**9), {ROW}),
    "edited row: a proof load is raised": (of_the_first(ProofTest, peak_n=10**6), {ROW}),
    "edited row: a test is dated earlier": (
        of_the_first(ProofTest, tested_at=MOMENT - timedelta(days=9)),
        {ROW},
    ),
    "edited row: a hold's reason is reworded": (a_reason_is_reworded, {ROW}),
    "edited row: a force factor under a basis is raised": (a_force_factor_is_raised, {ROW}),
    "edited row: somebody is made administrator": (
        of_the_first(Person, is_superuser=True),
        {ROW},
    ),
    "edited row: a customer is renamed": (of_the_first(Party, name="Another"), {NAME}),
    "edited row: who validated a document is changed": (
        of_the_first(MillDocument, validated_by="Nobody"),
        {NAME},
    ),
    "edited row: a withdrawal is undone": (a_withdrawal_is_undone, {ROW, What.CERTIFICATE}),
    "edited row: a paper is called superseded": (
        of_the_first(
            Certificate,
            state="superseded",
            ended_at=MOMENT,
            ended_by=F("issued_by"),
            end_reason="So",
        ),
        {ROW, What.CERTIFICATE},
    ),
    "edited row: a snapshot is written anew with its hash": (
        a_snapshot_is_rewritten,
        {ROW, What.CERTIFICATE, What.CREDENTIAL},
    ),
    "edited row: a credential is written anew with its hash": (
        a_credential_is_rewritten,
        {ROW, What.CERTIFICATE, What.CREDENTIAL},
    ),
    "deleted row: a delivered item": (a_tie_is_deleted, {GONE}),
    "deleted row: the heat of a reel": (a_heat_is_untied, {GONE}),
    "deleted row: a hold": (the_last_hold_is_deleted, {GONE, What.SERIES}),
    "inserted row: a cut": (a_cut_is_put_in, {ADDED, What.SERIES}),
    "inserted row: a cut over another": (
        a_cut_is_put_over_another,
        {ADDED, What.SERIES, What.LEDGER},
    ),
    "inserted row: a piece on an issued paper": (a_piece_is_put_on_a_paper, {ADDED}),
    "inserted row: an administrator": (somebody_is_put_in, {ADDED}),
    "swapped PDF: other bytes in its place": (the_bytes_of_a_paper_are_swapped, {What.FILE}),
    "swapped PDF: another file under the certificate": (
        a_paper_is_given_another_file,
        {ROW, ADDED, What.CERTIFICATE},
    ),
    "lost file: a mill's document": (a_scan_is_deleted, {What.FILE}),
    "number series: numbers are skipped": (
        lambda: NumberSeries.objects.filter(series="R").update(last=77),
        {What.SERIES},
    ),
    "number series: it is set back": (
        lambda: NumberSeries.objects.filter(series="R").update(last=1),
        {What.SERIES},
    ),
}
