"""Decides how decision rules are listed and chosen."""

from collections.abc import Iterable

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from certs.models import DecisionRule
from certs.pages.acting import for_claim
from certs.pages.forms.decision_rules import ChooseRuleForm
from certs.pages.rendering import allowed_acts, show
from certs.queries.decision_rules import decision_rules as register
from certs.queries.decision_rules import rule_of
from certs.rules.roles import ClaimAct
from certs.services.decision_rules import choose_rule
from inventory.pages.acting import deed, done, perform, signed_in, typed
from inventory.pages.reading import moment
from inventory.pages.rendering import show_list
from inventory.pages.sorting import Sorts
from inventory.pages.table import Cell, Line, Table, build_table

_SORTS: Sorts = {
    "Rule": ("id",),
    "Name": ("name",),
    "Chosen": ("chosen_at",),
}


@signed_in
def decision_rules(request: HttpRequest) -> HttpResponse:
    """The rules that a test may be decided under, the latest first."""
    return show_list(
        request,
        "certs/decision_rules.html",
        rows=register(),
        table=_table,
        area="tests",
        noun="rules",
        sorts=_SORTS,
        allowed=allowed_acts(request),
    )


@for_claim(ClaimAct.CHOOSE_DECISION_RULE)
def choose_decision_rule(request: HttpRequest) -> HttpResponse:
    """Enter a rule before anything is measured under it."""
    form = ChooseRuleForm(*typed(request))
    chosen = perform(request, lambda: choose_rule(**form.values, **deed(request)), form)
    if chosen is not None:
        said = f"{chosen.code} is chosen and may be named with tests from now on."
        return done(request, said, "certs:decision_rules")
    return show(request, "certs/choose_decision_rule.html", area="tests", form=form)


def _table(rows: Iterable[DecisionRule]) -> Table:
    return build_table(
        columns=("Rule", "Name", "How it decides", "Agreed with", "Laid down in", "Chosen"),
        lines=(
            Line(
                (
                    Cell(row.code, href=f"{reverse('certs:what_if')}?decision_rule={row.code}"),
                    row.name,
                    rule_of(row).words,
                    str(row.agreed_with or "rule of the house"),
                    row.paper,
                    f"{moment(row.chosen_at)}, {row.chosen_by}",
                )
            )
            for row in rows
        ),
        folds=True,
    )
