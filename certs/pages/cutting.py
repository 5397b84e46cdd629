"""The page that plans the cuts for an order: proposed, changed by hand, looked at, and booked."""

from collections.abc import Sequence
from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse

from certs.pages.cutting_tables import (
    MOST_DRAWN,
    line_word,
    missing_words,
    reel_drawings,
    table_of_reels,
    table_of_unmet,
    unusable_mm,
)
from certs.pages.forms.cutting import (
    MOST_ROWS,
    USUAL_SHORTEST_MM,
    BookForm,
    CutRow,
    CutRows,
    PlanForm,
)
from certs.pages.rendering import show
from certs.queries.suitable_reels import CuttingOffer, cutting_offer
from inventory.models import CutPiece, Order, Reel
from inventory.pages.acting import deed, done, for_act, found, perform
from inventory.pages.facts import Fact
from inventory.pages.forms.rows import Rows
from inventory.pages.links import href_of
from inventory.pages.reading import shown_metres
from inventory.queries.things import order_of_code
from inventory.rules.cutting_check import CutFault, check_cuts, missing_by_line
from inventory.rules.cutting_places import WishedCut, placed
from inventory.rules.cutting_plan import propose_cuts
from inventory.rules.cutting_terms import CuttingPlan, PlannedCut
from inventory.rules.refusal import Refusal
from inventory.rules.roles import Act
from inventory.rules.units import format_metres
from inventory.services.cut_plan import book_plan

# The button that only asks for the changed cuts to be looked at.
LOOK = "look"


@dataclass(frozen=True, slots=True)
class _Shown:
    """The cuts on the page; `plan` is None once a person changed them.

    `numbers` are those of the rows that the cuts were typed in.
    """

    cuts: Sequence[PlannedCut]
    plan: CuttingPlan | None
    numbers: Sequence[int] = ()


@for_act(Act.CUT_PIECE)
def order_cutting(request: HttpRequest, code: str) -> HttpResponse:
    """Propose cuts for what is missing of an order, and book them as proposed or as changed."""
    order = found(order_of_code(code))
    asked = PlanForm(_asked(request))
    asked.is_valid()
    offer = cutting_offer(order, without=asked.read("without") or ())
    shortest_mm: int = asked.read("shortest_usable_mm") or 0
    form = BookForm(request.POST if request.method == "POST" else None)
    rows = CutRows(request.POST, prefix="cut") if request.method == "POST" else None
    if rows is not None and LOOK not in request.POST:
        booked = perform(request, lambda: _book(request, order, rows, offer), form, rows)
        if booked is not None:
            return done(request, _said(booked), "inventory:order", order.code)
    shown = _shown(offer, rows, form, shortest_mm=shortest_mm)
    return show(
        request,
        "certs/order_cutting.html",
        area="orders",
        order=order,
        asked=asked,
        form=form,
        rows=_rows(rows, shown),
        offer=offer,
        cancel=href_of(order),
        **_told(offer, shown, shortest_mm=shortest_mm),
    )


def _asked(request: HttpRequest) -> dict[str, str]:
    """Return what the address says of the proposal, or the usual where it says nothing."""
    usual = {"shortest_usable_mm": format_metres(USUAL_SHORTEST_MM), "without": ""}
    return {name: request.GET.get(name, text) for name, text in usual.items()}


def _book(request: HttpRequest, order: Order, rows: Rows, offer: CuttingOffer) -> list[CutPiece]:
    cuts = placed(_wishes(rows), offer.stock)
    return book_plan(order=order, cuts=cuts, **deed(request))


def _wishes(rows: Rows) -> list[WishedCut]:
    """Return the pieces typed; one without a reel is left out."""
    typed = [form.values for form in rows.forms if form.values.get("reel")]
    return [WishedCut(row["line"], row["reel"], row["length_mm"], row["from_mm"]) for row in typed]


def _shown(offer: CuttingOffer, rows: Rows | None, form: BookForm, *, shortest_mm: int) -> _Shown:
    if rows is None:
        plan = propose_cuts(offer.demands, offer.stock, shortest_usable_mm=shortest_mm)
        return _Shown(plan.cuts, plan)
    if not rows.is_valid():
        return _Shown((), None)
    try:
        numbers = [n for n, row in enumerate(rows.forms, start=1) if row.values.get("reel")]
        return _Shown(placed(_wishes(rows), offer.stock), None, numbers)
    except Refusal as refusal:
        if not form.errors:
            form.refuse(refusal)
        return _Shown((), None)


def _rows(rows: Rows | None, shown: _Shown) -> Rows:
    """Return the rows to fill in, each with its fields named for whoever does not see the table."""
    if rows is None:
        rows = CutRows(
            prefix="cut",
            initial=[
                {
                    "line": cut.line,
                    "length_mm": cut.stretch.length_mm,
                    "reel": cut.reel,
                    "from_mm": cut.stretch.from_mm,
                }
                for cut in shown.cuts[:MOST_ROWS]
            ],
        )
    for number, row in enumerate(rows.forms, start=1):
        if isinstance(row, CutRow):
            row.label_fields(number)
            word = line_word(str(row["line"].value() or ""))
            row.line_word = word.replace(" ", "\N{NO-BREAK SPACE}")
    return rows


def _told(offer: CuttingOffer, shown: _Shown, *, shortest_mm: int) -> dict[str, object]:
    """Return what the page says of the cuts."""
    cuts, plan = shown.cuts, shown.plan
    codes = list(dict.fromkeys(cut.reel for cut in cuts))
    reels = Reel.objects.filter(code__in=codes[:MOST_DRAWN]).order_by("received_at", "id")
    missing = missing_by_line(cuts, demands=offer.demands)
    faults = [] if plan else check_cuts(cuts, demands=offer.demands, stock=offer.stock)
    return {
        "is_changed": plan is None,
        "facts": _facts(cuts, plan, offer, shortest_mm=shortest_mm) if cuts else [],
        "by_reel": table_of_reels(
            cuts, stock=offer.stock, words=offer.words, shortest_mm=shortest_mm
        ),
        "unmet": table_of_unmet(plan.unmet) if plan and plan.unmet else None,
        "missing": missing_words(missing, offer.demands) if plan is None and cuts else [],
        "faults": [_fault(fault, shown) for fault in faults],
        "is_grave": any(fault.is_grave for fault in faults),
        "drawings": list(reel_drawings(list(reels), cuts)),
        "undrawn": max(len(codes) - MOST_DRAWN, 0),
        "left_for_later": max(len(cuts) - MOST_ROWS, 0) if plan else 0,
        "codes": sorted({part.reel for part in offer.stock}),
    }


def _fault(fault: CutFault, shown: _Shown) -> str:
    return fault.text if fault.cut is None else f"Piece {shown.numbers[fault.cut]}: {fault.text}"


def _facts(
    cuts: Sequence[PlannedCut],
    plan: CuttingPlan | None,
    offer: CuttingOffer,
    *,
    shortest_mm: int,
) -> list[Fact]:
    reels = len({cut.reel for cut in cuts})
    scrap_mm = unusable_mm(cuts, offer.stock, shortest_mm=shortest_mm)
    return [
        Fact("Pieces", str(len(cuts)), note=f"from {reels} {'reel' if reels == 1 else 'reels'}"),
        Fact(
            "Unusable remnant left",
            shown_metres(scrap_mm),
            note=f"in lengths below {shown_metres(shortest_mm)}" if shortest_mm else "",
        ),
        _judged(plan),
    ]


def _judged(plan: CuttingPlan | None) -> Fact:
    if plan is None:
        return Fact("How good it is", "changed by hand", note="not compared with other ways")
    if plan.is_proved_best:
        note = "no other way leaves less uncut, then less unusable, then opens fewer reels"
        return Fact("How good it is", "proved best", note=note)
    bound = plan.bound
    note = (
        f"not proved: no way can open fewer than {bound.reels} reels or leave less than"
        f" {shown_metres(bound.unusable_mm)} unusable on the stock offered"
    )
    return Fact("How good it is", "best found", note=note)


def _said(pieces: Sequence[CutPiece]) -> str:
    if len(pieces) == 1:
        return f"Piece {pieces[0].code} is cut."
    return f"{len(pieces)} pieces are cut: {pieces[0].code} to {pieces[-1].code}."
