"""The label of a reel: a QR for those of the house, who sign in; it is no tag and tells no load."""

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone

from certs.documents.label_pdf import label_pdf
from certs.pages.forms.cutting_bench import ReelStockForm
from certs.pages.handing_out import shown_within
from certs.pages.rendering import show
from inventory.documents.tag_label import Label
from inventory.models import Reel
from inventory.pages.acting import found, signed_in
from inventory.queries.things import reel_of_code
from inventory.rules.refusal import Refusal
from inventory.rules.units import format_metres

_CAUTION = "Label of the house, for cutting from. It is no certificate."


@signed_in
def reel_label(request: HttpRequest, code: str) -> HttpResponse:
    """Ask what to print on, or give the label as PDF. Nothing is recorded: it bears no tag."""
    reel = found(reel_of_code(code))
    form = ReelStockForm(request.GET if "sheet" in request.GET else None)
    if form.is_bound and form.is_valid():
        try:
            return _printed(reel, sheet=form.cleaned_data["sheet"])
        except Refusal as refusal:
            form.refuse(refusal)
    return show(request, "certs/reel_label.html", area="reels", reel=reel, form=form)


@signed_in
def reel_scanned(_request: HttpRequest, code: str) -> HttpResponse:
    """Lead from the address on a reel's label, which is in capitals, to the reel."""
    return redirect("inventory:reel", found(reel_of_code(code.upper())).code)


def _printed(reel: Reel, *, sheet: str) -> HttpResponse:
    lines = [reel.designation, f"{format_metres(reel.length_mm)} as received"]
    if reel.mill_reel_number:
        lines.append(f"Mill’s reel {reel.mill_reel_number}")
    label = Label(reel.code, reel.code, tuple(lines), path="reels", caution=_CAUTION)
    pdf = label_pdf([label], sheet=sheet, origin=settings.PUBLIC_ORIGIN, made_at=timezone.now())
    answer = HttpResponse(pdf, content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="{reel.code}.pdf"'
    return shown_within(answer)
