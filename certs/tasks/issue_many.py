"""Issues many drafts as one background task, each of them whole or not at all.

The task reads the clock, as pages and commands do. A draft that lacks something stays a draft;
its checklist says why, so nothing needs to be remembered here.
"""

import logging

from django.utils import timezone
from django_tasks import task

from certs.models import Certificate
from certs.services.issue import CannotIssue, issue_certificate
from certs.services.print_certificate import CannotSign
from inventory.models import Person

log = logging.getLogger(__name__)


@task()
def issue_many(draft_codes: list[str], username: str) -> dict[str, list[str]]:
    """Issue drafts in the given order; give the numbers issued and the codes that stayed drafts.

    The arguments are plain text because they travel through a queue.
    """
    by = Person.objects.get(username=username)
    issued: list[str] = []
    stayed: list[str] = []
    for code in draft_codes:
        draft = Certificate.objects.filter(draft_code=code, state=Certificate.State.DRAFT).first()
        if draft is None:
            continue
        try:
            done = issue_certificate(certificate=draft, by=by, at=timezone.now())
        except (CannotIssue, CannotSign) as refusal:
            log.info("draft %s stays a draft: %s", code, refusal)
            stayed.append(code)
        else:
            issued.append(str(done.number))
    return {"issued": issued, "stayed": stayed}
