"""The cutting bench: scan a reel, type a length, print its label, and the next.

Cutting and labelling are decided by their services; this page keeps the reel and the focus.
"""

from collections.abc import Mapping
from datetime import datetime, time
from urllib.parse import urlencode

from csp.constants import SELF
from csp.decorators import csp_update
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST

from certs.pages.acting import for_claim
from certs.pages.forms.cutting_bench import STAYS, BenchForm, ReelForm, StockForm
from certs.pages.handing_out import shown_within
from certs.pages.rendering import show
from certs.pages.scan import strange_to
from certs.queries.claimable import things_to_label
from certs.queries.own_cuts import OwnCut, own_cuts
from certs.queries.reel_scanned import names_a_reel, reel_scanned
from certs.rules.roles import ClaimAct
from certs.services.label_sheet import print_labels
from inventory.models import CutPiece, Reel
from inventory.pages.acting import deed, for_act, initial_from, perform, person_of, typed
from inventory.pages.facts import Fact, told
from inventory.pages.forms.lines import named_line
from inventory.pages.holds_table import table_of_holds
from inventory.pages.undo import tell_with_undo
from inventory.queries.holds import holds_on_reel
from inventory.queries.stock import clear_on_reel, stock_of
from inventory.rules.refusal import Refusal
from inventory.rules.roles import Act
from inventory.rules.units import format_metres
from inventory.services.cut import cut_piece

# Under which the session keeps the stock that was printed on last.
_STOCK = "label_stock"


@csp_update({"frame-src": [SELF]})
@for_act(Act.CUT_PIECE)
def cutting_bench(request: HttpRequest) -> HttpResponse:
    """Cut one length after another from the reel that was scanned."""
    scanned = ReelForm(request.GET if "reel" in request.GET else None)
    reel = _reel_on_bench(request, scanned)
    if reel is None:
        return _shown(request, scanned=scanned, form=scanned)
    another = request.POST.get("length_mm", "")
    if names_a_reel(another):
        return _to_reel(another.strip(), {})
    form = BenchForm(*typed(request), reel=reel, initial=initial_from(request, *STAYS))
    piece = perform(
        request,
        lambda: cut_piece(reel=reel, from_mm=None, **form.values, **deed(request)),
        form,
    )
    if piece is not None:
        tell_with_undo(request, _said(piece), undo="inventory:undo_cut", code=piece.code)
        return _to_reel(reel.code, {**_staying(form), "cut": piece.code})
    return _shown(request, scanned=scanned, form=form, reel=reel)


@require_POST
@for_claim(ClaimAct.ISSUE_TAG)
def bench_label(request: HttpRequest) -> HttpResponse:
    """One label as PDF, to be printed from the bench or from a page of its own."""
    form = StockForm(*typed(request))
    pdf = perform(request, lambda: _label(request, form), form)
    if pdf is None:
        answer = render(request, "certs/label_refused.html", {"form": form}, status=409)
        return shown_within(answer)
    request.session[_STOCK] = form.cleaned_data["sheet"]
    answer = HttpResponse(pdf, content_type="application/pdf")
    answer["Content-Disposition"] = 'inline; filename="label.pdf"'
    return shown_within(answer)


def _reel_on_bench(request: HttpRequest, scanned: ReelForm) -> Reel | None:
    """Return the reel that was scanned; None where none was, or the form says what is wrong."""
    if not scanned.is_bound or not scanned.is_valid():
        return None
    text = scanned.cleaned_data["reel"]
    strange = strange_to(request, text)
    if strange:
        scanned.add_error("reel", strange)
        return None
    try:
        return reel_scanned(text)
    except Refusal as refusal:
        scanned.refuse(refusal)
        return None


def _shown(
    request: HttpRequest, *, scanned: ReelForm, form: ReelForm | BenchForm, reel: Reel | None = None
) -> HttpResponse:
    cuts = own_cuts(by=person_of(request), since=_today(), at=timezone.now())
    holds = holds_on_reel(reel) if reel else ()
    return show(
        request,
        "certs/cutting_bench.html",
        area="cutting",
        scanned=scanned,
        form=form,
        reel=reel,
        facts=_facts(reel) if reel else [],
        can_be_cut=reel is not None and bool(clear_on_reel(reel)),
        holds=table_of_holds(holds) if holds else None,
        cuts=cuts,
        just_cut=_just_cut(request, cuts),
        stock=StockForm(initial={"sheet": request.session.get(_STOCK, "roll-50")}),
    )


def _just_cut(request: HttpRequest, cuts: list[OwnCut]) -> OwnCut | None:
    code = request.GET.get("cut", "")
    found = [cut for cut in cuts if cut.piece.code == code and not cut.piece.is_reversed]
    return found[0] if found else None


def _facts(reel: Reel) -> list[Fact]:
    stock, clear = stock_of([reel])[0], clear_on_reel(reel)
    return told(
        Fact("Next free metre", format_metres(clear[0].from_mm) if clear else "none"),
        Fact("Longest single length", format_metres(stock.longest_clear_mm)),
        Fact("Left on the reel", format_metres(stock.remaining_mm)),
        Fact("Stands at", reel.location or "not said"),
    )


def _label(request: HttpRequest, form: StockForm) -> bytes:
    asked = {**form.values, "things": things_to_label(form.values["things"])}
    return print_labels(**asked, skip=0, **deed(request))


def _to_reel(reel: str, staying: Mapping[str, str]) -> HttpResponseRedirect:
    query = urlencode({"reel": reel, **staying})
    return redirect(f"{reverse('certs:cutting_bench')}?{query}")


def _staying(form: BenchForm) -> dict[str, str]:
    values = {name: form.cleaned_data[name] for name in STAYS}
    line = values["order_line"]
    values["order_line"] = named_line(line) if line else ""
    return {name: str(value) for name, value in values.items() if value}


def _today() -> datetime:
    """Give when the house's day began."""
    zone = timezone.get_default_timezone()
    return datetime.combine(timezone.localdate(timezone=zone), time.min, tzinfo=zone)


def _said(piece: CutPiece) -> str:
    ends = f"{format_metres(piece.from_mm)} to {format_metres(piece.to_mm)}"
    return f"{piece.code} is cut: {format_metres(piece.length_mm)}, {ends} of {piece.reel.code}."
