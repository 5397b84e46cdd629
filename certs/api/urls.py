"""Where the whole API stands: the claims here, the physical record beside them."""

from django.urls import URLPattern, URLResolver, include, path, re_path
from drf_spectacular.views import SpectacularAPIView
from rest_framework.routers import SimpleRouter

from certs.api.affected_papers import AffectedPapersView
from certs.api.assembly_strength import AssemblyStrengthViewSet
from certs.api.breaking_tests import BreakingTestViewSet
from certs.api.bundles import BundleViewSet
from certs.api.certificates import CertificateViewSet
from certs.api.check import CheckView
from certs.api.cutting import OrderCuttingViewSet
from certs.api.decision_rules import DecisionRuleViewSet
from certs.api.derive import DeriveView
from certs.api.issue_batches import IssueBatchViewSet
from certs.api.letterheads import LetterheadViewSet
from certs.api.maker_records import MakerRecordViewSet
from certs.api.nothing_here import nothing_here
from certs.api.order_weight import OrderWeightViewSet, PieceWeightViewSet
from certs.api.own_papers import OwnPaperViewSet
from certs.api.proof_tests import ProofTestViewSet
from certs.api.recall_notices import RecallNoticeViewSet
from certs.api.receiving import ReceivedReelViewSet, ReelCheckViewSet
from certs.api.reel_readings import ReelReadingViewSet
from certs.api.reel_strength import ReelStrengthViewSet
from certs.api.representatives import RepresentativeViewSet
from certs.api.site_reports import ReportAtTagView, SiteReportViewSet
from certs.api.specifications import AgreedViewSet, SpecificationViewSet
from certs.api.tags import PublicTagView, TagViewSet
from certs.api.tracing import RecallView, TraceView
from certs.api.wire_tests import WireTestViewSet

app_name = "api"
router = SimpleRouter()
router.register("reels", ReceivedReelViewSet, "reels")
router.register("reels", ReelCheckViewSet, "reel-checks")
router.register("reels", ReelStrengthViewSet, "reel-strength")
router.register("reels", ReelReadingViewSet, "reel-readings")
router.register("orders", OrderWeightViewSet, "order-weight")
router.register("pieces", PieceWeightViewSet, "piece-weight")
router.register("assemblies", AssemblyStrengthViewSet, "assembly-strength")
router.register("orders", OrderCuttingViewSet, "order-cutting")
router.register("specifications", SpecificationViewSet, "specifications")
router.register("agreed-specifications", AgreedViewSet, "agreed-specifications")
router.register("bundles", BundleViewSet, "bundles")
router.register("breaking-tests", BreakingTestViewSet, "breaking-tests")
router.register("proof-tests", ProofTestViewSet, "proof-tests")
router.register("decision-rules", DecisionRuleViewSet, "decision-rules")
router.register("maker-records", MakerRecordViewSet, "maker-records")
router.register("wire-tests", WireTestViewSet, "wire-tests")
router.register("representatives", RepresentativeViewSet, "representatives")
router.register("letterheads", LetterheadViewSet, "letterheads")
router.register("certificates/batches", IssueBatchViewSet, "issue-batches")
router.register("certificates", OwnPaperViewSet, "own-papers")
router.register("certificates", CertificateViewSet, "certificates")
router.register("tags", TagViewSet, "tags")
router.register("recall-notices", RecallNoticeViewSet, "recall-notices")
router.register("site-reports", SiteReportViewSet, "site-reports")

urlpatterns: list[URLPattern | URLResolver] = [
    path("schema/", SpectacularAPIView.as_view(), name="schema"),
    path("check/", CheckView.as_view(), name="check"),
    path("derive/", DeriveView.as_view(), name="derive"),
    path("trace/", TraceView.as_view(), name="trace"),
    path("recall/", RecallView.as_view(), name="recall"),
    path("affected-papers/", AffectedPapersView.as_view(), name="affected-papers"),
    path("tags/<str:code>/public/", PublicTagView.as_view(), name="public-tag"),
    path("tags/<str:code>/reports/", ReportAtTagView.as_view(), name="report-at-tag"),
    *router.urls,
    path("", include("inventory.api.urls")),
    # An address without its last slash is left over, to be sent on to the one that has it.
    re_path(r"^[\s\S]*/$", nothing_here),
]
