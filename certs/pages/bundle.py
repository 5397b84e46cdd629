"""Decides how an auditor's bundle is asked for and handed out: one file, to be saved."""

from tempfile import TemporaryFile

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from certs.pages.acting import for_claim
from certs.pages.forms.bundle import BundleForm
from certs.pages.handing_out import streamed
from certs.pages.rendering import show
from certs.queries.as_known import check_past
from certs.rules.roles import ClaimAct
from certs.services.take_bundle import MOST_BYTES, MOST_ENTRIES, take_bundle
from inventory.pages.acting import deed, initial_from, perform, typed


@for_claim(ClaimAct.TAKE_BUNDLE)
def bundle(request: HttpRequest) -> HttpResponse:
    """Ask for a bundle, or hand it out."""
    form = BundleForm(*typed(request), initial=initial_from(request, "code", "on"))
    answer = perform(request, lambda: _handed_out(request, form), form)
    if answer is not None:
        return answer
    limits = {"most_mib": MOST_BYTES // 1024**2, "most_entries": MOST_ENTRIES}
    return show(request, "certs/bundle.html", area="trace", form=form, **limits)


def _handed_out(request: HttpRequest, form: BundleForm) -> HttpResponse:
    asked = form.asked
    if asked.on is not None:
        check_past(asked.on, today=timezone.localdate())
    file = TemporaryFile()  # noqa: SIM115 -- closed by the answer once it is sent
    try:
        taken = take_bundle(asked=asked, into=file, **deed(request))
    except BaseException:
        file.close()
        raise
    file.seek(0)
    return streamed(file, name=taken.name)
