"""Papers drafted in one step and issued together: chosen, handed over, watched, told one by one."""

import zipfile
from io import BytesIO

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from certs.models import Certificate, IssueBatch
from certs.pages.mending import FIELDS, FORMS, PAGES
from certs.services.issue_batch import settle_next, start_batch
from inventory.rules.roles import Role
from tests.certs.claims import given_breaking_test
from tests.certs.papers import (
    given_assembly_draft,
    given_certifiable_assembly,
    given_certifiable_piece,
    given_cut_length_draft,
    given_documented_reel,
    issued,
)
from tests.clients import client_of
from tests.factories import MOMENT, given_person, given_piece, given_reel, given_sample

pytestmark = pytest.mark.usefixtures("tables", "plain_paper")


def given_waiting(count, *, at=None):
    reel = given_documented_reel()
    drafts = [given_cut_length_draft(given_piece(reel=reel)) for _ in range(count)]
    codes = [draft.draft_code for draft in drafts]
    return start_batch(draft_codes=codes, by=given_person(), at=at or timezone.now())


def told(client, batch, **query):
    return client.get(reverse("certs:batch_progress", args=[batch.code]), query)


def test_one_certificate_takes_two_actions_from_its_piece(as_quality):
    piece = given_certifiable_piece()
    own = reverse("certs:own_paper", args=[piece.code])
    assert f'action="{own}"' in as_quality.get(f"/pieces/{piece.code}/").text
    page = as_quality.post(own, follow=True)
    issue = reverse("certs:issue", args=[Certificate.objects.get().draft_code])
    assert f'action="{issue}"' in page.text
    assert "Nothing is lacking" in page.text
    as_quality.post(issue)
    paper = Certificate.objects.get()
    assert paper.state == "issued"
    assert f"Its certificate {paper.number}" in as_quality.get(f"/pieces/{piece.code}/").text


def test_the_report_of_a_break_takes_two_actions_from_its_test(as_quality):
    test = given_breaking_test(sample=given_sample(reel=given_documented_reel()), peak_n=99_000)
    own = reverse("certs:own_paper", args=[test.code])
    assert f'action="{own}"' in as_quality.get(f"/tests/breaking/{test.code}/").text
    as_quality.post(own)
    as_quality.post(reverse("certs:issue", args=[Certificate.objects.get().draft_code]))
    paper = Certificate.objects.get()
    assert (paper.state, paper.kind) == ("issued", "breaking")
    page = as_quality.get(f"/tests/breaking/{test.code}/").text
    assert f"Its certificate {paper.number}" in page
    assert own not in page


def test_what_a_draft_lacks_leads_to_where_it_is_put_right(as_quality):
    reel = given_reel()
    page = as_quality.get(
        f"/certificates/{given_cut_length_draft(given_piece(reel=reel)).draft_code}/"
    )
    # The mill's document goes with the reel; filing another one would mend nothing.
    assert "/mill-documents/file/" not in page.text.split('class="lacking"')[1].split("</ul>")[0]
    assert f'Look at <span class="whole">{reel.code}</span>' in page.text
    for name in ("check_reel", "reel_strength"):
        assert f'href="{reverse(f"certs:{name}", args=[reel.code])}"' in page.text
    draft = given_assembly_draft(given_certifiable_assembly())
    wording = reverse("certs:reword", args=[draft.draft_code])
    page = as_quality.get(f"/certificates/{draft.draft_code}/")
    for field in ("document_kind", "first_validator"):
        assert f'href="{wording}#id_{field}"' in page.text
        assert f'id="id_{field}"' in as_quality.get(wording).text
    assert f"?assembly={draft.assembly.code}" in page.text


def test_no_line_is_put_right_in_two_places():
    assert not set(FIELDS) & set(PAGES)
    assert not (set(FIELDS) | set(PAGES)) & set(FORMS)


def test_a_draft_is_worded_anew(as_quality):
    draft = given_cut_length_draft()
    page = reverse("certs:reword", args=[draft.draft_code])
    as_quality.post(
        page, {"document_kind": "statement", "remarks": "Ends painted.", "language": "de"}
    )
    draft.refresh_from_db()
    assert (draft.remarks, draft.language, draft.customer) == ("Ends painted.", "de", None)


@pytest.mark.parametrize("name", ["reword", "draft_preview"])
def test_what_is_issued_is_looked_at_as_a_certificate(name, as_quality):
    paper = issued(given_cut_length_draft())
    answer = as_quality.get(reverse(f"certs:{name}", args=[paper.draft_code]))
    assert answer["Location"] == reverse("certs:certificate", args=[paper.number])


def test_a_preview_without_a_force_says_what_to_do(as_quality):
    draft = given_cut_length_draft(given_piece(reel=given_reel()))
    page = as_quality.get(reverse("certs:draft_preview", args=[draft.draft_code]), follow=True)
    assert "No basis of strength is named" in page.text


def test_the_pieces_of_a_reel_get_a_paper_each_and_are_issued_together(as_quality):
    reel = given_documented_reel()
    pieces = [given_piece(reel=reel) for _ in range(3)]
    several = f"{reverse('certs:draft_several')}?of={reel.code}"
    assert all(piece.code in as_quality.get(several).text for piece in pieces)
    page = as_quality.post(several, {"things": [piece.code for piece in pieces[:2]]}, follow=True)
    assert page.redirect_chain[-1][0] == f"{reverse('certs:issue_several')}?of={reel.code}"
    codes = [draft.draft_code for draft in Certificate.objects.order_by("id")]
    assert all(f'value="{code}" id="draft-{code}" checked' in page.text for code in codes)
    over = as_quality.post(page.redirect_chain[-1][0], {"drafts": codes}, follow=True)
    assert "2 of 2 drafts settled" in over.text
    assert "2 issued." in over.text
    assert "hx-get" not in over.text


def test_failures_are_told_one_by_one_and_the_rest_is_issued(as_quality):
    given_cut_length_draft(given_certifiable_piece())
    lacking = given_cut_length_draft(given_piece())
    page = as_quality.post(reverse("certs:issue_several"), {"all": "1"}, follow=True)
    assert "1 issued, 1 stayed a draft." in page.text
    assert f'<h3><a href="/certificates/{lacking.draft_code}/">' in page.text
    assert "Receiving check: " in page.text


@pytest.mark.parametrize(
    ("sent", "words"),
    [({}, "Choose at least one draft"), ({"drafts": ["CD-99999"]}, "Please correct this first")],
)
def test_a_wrong_choice_is_refused_in_words(sent, words, as_quality):
    given_cut_length_draft()
    page = as_quality.post(reverse("certs:issue_several"), sent)
    assert "error-summary" in page.text
    assert words in page.text
    assert not IssueBatch.objects.exists()


@pytest.mark.parametrize("name", ["issue_several", "draft_several"])
def test_a_code_of_nothing_is_told(name, as_quality):
    assert "no order, delivery" in as_quality.get(f"{reverse(f'certs:{name}')}?of=Z-9").text


def test_a_page_that_is_open_is_told_how_far_it_is_until_it_is_over(as_quality):
    batch = given_waiting(4)
    part = told(as_quality, batch, told=0)
    assert "0 of 4 drafts settled" in part.text
    assert 'hx-trigger="every 2s"' in part.text
    assert "batch-said" not in part.text
    settle_next(batch=batch, by=given_person(), at=timezone.now())
    part = told(as_quality, batch, told=0)
    assert "A quarter is done." in part.text
    assert "?told=1" in part.text
    while settle_next(batch=batch, by=given_person(), at=timezone.now()):
        pass
    part = told(as_quality, batch, told=3)
    assert part["HX-Refresh"] == "true"
    assert "hx-get" not in part.text


def test_a_reload_and_a_page_without_script_find_it_as_it_is(as_auditor):
    batch = given_waiting(2)
    settle_next(batch=batch, by=given_person(), at=timezone.now())
    page = as_auditor.get(reverse("certs:issue_batch", args=[batch.code]))
    assert "1 of 2 drafts settled" in page.text
    assert f'<noscript><p><a href="/certificates/batches/{batch.code}/">' in page.text
    assert "Stop after" not in page.text


def test_it_is_stopped_and_says_what_was_not_begun(as_quality):
    batch = given_waiting(2)
    page = as_quality.post(reverse("certs:stop_batch", args=[batch.code]), follow=True)
    assert "stopping" in page.text
    settle_next(batch=batch, by=given_person(), at=timezone.now())
    page = as_quality.get(reverse("certs:issue_batch", args=[batch.code]))
    assert "2 not begun." in page.text
    page = as_quality.post(reverse("certs:stop_batch", args=[batch.code]), follow=True)
    assert "is over already" in page.text


def test_what_nobody_works_on_says_so_and_goes_on_when_told(as_quality):
    batch = given_waiting(2, at=MOMENT)
    page = as_quality.get(reverse("certs:issue_batch", args=[batch.code]))
    assert "Nobody has worked on it for a minute" in page.text
    page = as_quality.post(reverse("certs:go_on_batch", args=[batch.code]), follow=True)
    assert "2 issued." in page.text
    page = as_quality.post(reverse("certs:go_on_batch", args=[batch.code]), follow=True)
    assert "is over already" in page.text


def test_all_papers_are_saved_as_one_archive_and_the_list_as_csv(as_auditor, as_quality):
    batch = given_waiting(3)
    page = reverse("certs:issue_batch", args=[batch.code])
    papers = reverse("certs:batch_papers", args=[batch.code])
    assert as_auditor.get(papers).status_code == 404
    while settle_next(batch=batch, by=given_person(), at=timezone.now()):
        pass
    archive = zipfile.ZipFile(BytesIO(as_auditor.get(papers).getvalue()))
    numbers = list(Certificate.objects.order_by("number").values_list("number", flat=True))
    assert archive.namelist() == [f"{number}.pdf" for number in numbers]
    assert archive.read(archive.namelist()[0]).startswith(b"%PDF")
    listed = b"".join(as_quality.get(f"{page}?format=csv")).decode()
    assert all(number in listed for number in numbers)


@pytest.mark.parametrize("count", [1, 3])
def test_a_batch_is_read_in_a_fixed_number_of_queries(
    count, as_quality, django_assert_max_num_queries
):
    batch = given_waiting(count)
    with django_assert_max_num_queries(12):
        as_quality.get(reverse("certs:issue_batch", args=[batch.code]))
    with django_assert_max_num_queries(8):
        as_quality.get(reverse("certs:issue_batches"))
    with django_assert_max_num_queries(5):
        told(as_quality, batch)


def test_a_further_draft_of_a_reel_asks_little_more_and_is_listed_by_one_question(
    as_quality,
):
    reel, page = given_documented_reel(), reverse("certs:issue_several")
    drafts = [given_cut_length_draft(given_piece(reel=reel), given_piece(reel=reel))]
    as_quality.get(page)
    with CaptureQueriesContext(connection) as one:
        as_quality.get(page)
    drafts += [given_cut_length_draft(given_piece(reel=reel)) for _ in range(3)]
    with CaptureQueriesContext(connection) as four:
        text = as_quality.get(page).text
    # Thirty-six each before what speaks of the reel alone was asked for once.
    assert len(four) - len(one) <= 3 * 10
    assert sum("certs_certificatepiece" in asked["sql"] for asked in four) == len(drafts) + 1
    assert "2 pieces from " in text
    assert all(f">{draft.draft_code}<" in text for draft in drafts)


@pytest.mark.parametrize("role", [role for role in Role if role != Role.QA_OFFICER])
def test_only_who_issues_is_offered_to(role):
    batch = given_waiting(1)
    client = client_of(role)
    assert client.get(reverse("certs:issue_several")).status_code == 403
    assert "Stop after" not in client.get(reverse("certs:issue_batch", args=[batch.code])).text
    assert client.post(reverse("certs:stop_batch", args=[batch.code])).status_code == 403
