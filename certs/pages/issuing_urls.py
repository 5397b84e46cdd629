"""Addresses of drafting, looking at and issuing papers, one or many."""

from django.urls import path

from certs.pages import draft_shown, issue_batches, issue_several

# Before the page of a certificate: "issue", "several" and "batches" are no codes.
ISSUING = [
    path("certificates/issue/", issue_several.issue_several, name="issue_several"),
    path("certificates/draft/several/", issue_several.draft_several, name="draft_several"),
    path("certificates/of/<str:code>/", draft_shown.own_paper, name="own_paper"),
    path("certificates/batches/", issue_batches.issue_batches, name="issue_batches"),
    path("certificates/batches/<str:code>/", issue_batches.issue_batch, name="issue_batch"),
    path(
        "certificates/batches/<str:code>/progress/",
        issue_batches.batch_progress,
        name="batch_progress",
    ),
    path("certificates/batches/<str:code>/stop/", issue_batches.stop, name="stop_batch"),
    path("certificates/batches/<str:code>/go-on/", issue_batches.go_on, name="go_on_batch"),
    path(
        "certificates/batches/<str:code>/papers/",
        issue_batches.batch_papers,
        name="batch_papers",
    ),
    path("certificates/<str:code>/preview/", draft_shown.draft_preview, name="draft_preview"),
    path("certificates/<str:code>/wording/", draft_shown.reword, name="reword"),
]
