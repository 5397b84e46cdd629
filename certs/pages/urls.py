"""Addresses of the pages about what is claimed, and of the public page behind a tag."""

from django.urls import path

from certs.pages import (
    affected_papers,
    assembly_strengths,
    breaking_tests,
    certificates,
    cutting,
    decision_rules,
    drafting,
    force_logs,
    force_to_show,
    healthz,
    issuing,
    journal,
    labels,
    maker_records,
    proof_tests,
    public_keys,
    recall,
    receiving,
    receiving_checks,
    reel_readings,
    reel_strength,
    report_at_tag,
    representatives,
    reversing,
    site_reports,
    specifications,
    tag,
    tests,
    today,
    trace,
    what_if,
    wire_tests,
)

app_name = "certs"

urlpatterns = [
    path("", today.today, name="today"),
    path(".well-known/did.json", public_keys.did, name="did"),
    path(".well-known/jwks.json", public_keys.jwks, name="jwks"),
    path("healthz", healthz.healthz, name="healthz"),
    # Specification tables and what a reel's strength rests on.
    path("tables/", specifications.specifications, name="specifications"),
    path("tables/agreed/add/", specifications.add_agreed, name="add_agreed"),
    path("tables/<slug:slug>/", specifications.specification, name="specification"),
    # Before the page of a reel: "receive" is no code.
    path("reels/receive/", receiving.receive_reel, name="receive_reel"),
    path("reels/<str:code>/check/", receiving_checks.check_reel, name="check_reel"),
    path(
        "receiving-checks/<str:code>/",
        receiving_checks.receiving_check,
        name="receiving_check",
    ),
    path("reels/<str:code>/strength/", reel_strength.reel_strength, name="reel_strength"),
    path("reels/<str:code>/readings/", reel_readings.read_reel, name="read_reel"),
    path(
        "assemblies/<str:code>/strength/",
        assembly_strengths.strength_of_assembly,
        name="assembly_strength",
    ),
    # Tests.
    path("tests/", tests.tests, name="tests"),
    path("tests/proof/", tests.proof_test_list, name="proof_tests"),
    path("tests/breaking/record/", breaking_tests.record_breaking, name="record_breaking"),
    path("tests/proof/record/", proof_tests.record_proof, name="record_proof"),
    path("tests/breaking/<str:code>/", breaking_tests.breaking_test, name="breaking_test"),
    path("tests/proof/force/", force_to_show.force_to_show, name="force_to_show"),
    path("tests/proof/<str:code>/", proof_tests.proof_test, name="proof_test"),
    path("tests/wires/", wire_tests.wire_test_list, name="wire_tests"),
    path("tests/wires/record/", wire_tests.record_wires, name="record_wires"),
    path("tests/wires/<str:code>/", wire_tests.wire_test, name="wire_test"),
    path("tests/<str:code>/reverse/", reversing.reverse_a_test, name="reverse_test"),
    path("tests/<str:code>/log/", force_logs.force_log, name="force_log"),
    # How the uncertainty of a force counts.
    path("decision-rules/", decision_rules.decision_rules, name="decision_rules"),
    path("decision-rules/choose/", decision_rules.choose_decision_rule, name="choose_rule"),
    path("decision-rules/what-if/", what_if.what_if_measured, name="what_if"),
    # What the tests say of each maker's rope; a size in inches has a stroke in it.
    path("makers/", maker_records.records, name="maker_records"),
    path("makers/<str:code>/<path:designation>/", maker_records.record, name="maker_record"),
    # Which reels to cut for an order.
    path("orders/<str:code>/cutting/", cutting.order_cutting, name="order_cutting"),
    # Certificates.
    path("certificates/", certificates.certificates, name="certificates"),
    path("certificates/draft/cut-length/", drafting.draft_cut_length, name="draft_cut_length"),
    path("certificates/draft/assembly/", drafting.draft_assembly, name="draft_assembly"),
    path("certificates/draft/breaking/", drafting.draft_breaking, name="draft_breaking"),
    path("certificates/stating-too-much/", affected_papers.affected_papers, name="affected_papers"),
    path("certificates/issue-ready/", issuing.issue_ready, name="issue_ready"),
    path("certificates/<str:code>/", certificates.certificate, name="certificate"),
    path("certificates/<str:code>/issue/", issuing.issue, name="issue"),
    path("certificates/<str:code>/discard/", issuing.discard, name="discard"),
    path("certificates/<str:code>/correct/", drafting.correct, name="correct"),
    path("certificates/<str:code>/withdraw/", issuing.withdraw, name="withdraw"),
    path("certificates/<str:number>/pdf/", certificates.certificate_pdf, name="certificate_pdf"),
    path("certificates/<str:number>/json/", certificates.certificate_json, name="certificate_json"),
    path(
        "certificates/<str:number>/proof/", journal.certificate_proof, name="certificate_proof"
    ),
    # The journal; its last checkpoint is for anyone.
    path("journal/", journal.journal, name="journal"),
    path("journal/<int:entry>/", journal.entry, name="journal_entry"),
    path("journal/<int:entry>/proof/", journal.entry_proof, name="entry_proof"),
    path("log/checkpoint", journal.checkpoint, name="log_checkpoint"),
    path("representatives/", representatives.representatives, name="representatives"),
    path("representatives/add/", representatives.add_representative, name="add_representative"),
    path(
        "representatives/<int:pk>/end/",
        representatives.end_representative,
        name="end_representative",
    ),
    # Trace and recall.
    path("trace/", trace.trace, name="trace"),
    path("trace/recall/", recall.recall, name="recall"),
    path("trace/around/", recall.around, name="around"),
    # Tags: a QR holds its address in capitals.
    path("labels/", labels.labels, name="labels"),
    path("labels/<str:code>/revoke/", labels.revoke, name="revoke_tag"),
    path("t/", tag.tag_typed, name="tag_typed"),
    path("T/<str:text>", tag.tag, name="tag_scanned"),
    path("t/<str:text>", tag.tag, name="tag"),
    path("t/<str:text>/paper/<str:number>.pdf", tag.site_copy, name="site_copy"),
    path("t/<str:text>/report/", report_at_tag.report_at_tag, name="report_at_tag"),
    path("t/<str:text>/report/<str:code>/", report_at_tag.report_receipt, name="report_receipt"),
    # What was reported from site, for the house.
    path("reports/", site_reports.site_reports, name="site_reports"),
    path("reports/<str:code>/", site_reports.site_report, name="site_report"),
    path("reports/<str:code>/hold/", site_reports.hold, name="hold_reported"),
    path("reports/<str:code>/close/", site_reports.close, name="close_report"),
    path("reports/<str:code>/forget-contact/", site_reports.forget, name="forget_contact"),
    path(
        "reports/<str:code>/photographs/<int:position>/",
        site_reports.photograph,
        name="site_photograph",
    ),
]
