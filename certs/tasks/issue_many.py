"""Works on a batch of drafts as one background task, draft by draft, until it is over.

The task reads the clock, as pages and commands do. It may be run again at any time: what is
settled stays settled (`certs.services.issue_batch`).
"""

from django.utils import timezone
from django_tasks import task

from certs.models import IssueBatch
from certs.services.issue_batch import settle_next
from inventory.models import Person


@task()
def issue_many(batch_code: str, username: str) -> None:
    """Issue what waits in a batch, in the name of whoever asked for it.

    The arguments are plain text because they travel through a queue.
    """
    by = Person.objects.get(username=username)
    batch = IssueBatch.objects.get(code=batch_code)
    while settle_next(batch=batch, by=by, at=timezone.now()):
        pass
