"""Where the physical record stands in the API; reels stand with the claims that check them."""

from django.urls import URLPattern, URLResolver, path
from rest_framework.routers import SimpleRouter

from inventory.api.assemblies import AssemblyViewSet
from inventory.api.deliveries import DeliveryViewSet
from inventory.api.fittings import FittingLotViewSet
from inventory.api.heats import HeatViewSet
from inventory.api.holds import HoldViewSet
from inventory.api.journal import JournalViewSet
from inventory.api.journal_proofs import CheckpointView, ConsistencyView, InclusionView
from inventory.api.machines import MachineViewSet
from inventory.api.mill_documents import MillDocumentViewSet
from inventory.api.orders import OrderViewSet
from inventory.api.parties import PartyViewSet
from inventory.api.people import PersonViewSet
from inventory.api.pieces import PieceViewSet
from inventory.api.preferences import ReadingView
from inventory.api.signing_in import TokenView
from inventory.api.stock import StockViewSet

router = SimpleRouter()
router.register("parties", PartyViewSet, "parties")
router.register("heats", HeatViewSet, "heats")
router.register("mill-documents", MillDocumentViewSet, "mill-documents")
router.register("stock", StockViewSet, "stock")
router.register("pieces", PieceViewSet, "pieces")
router.register("orders", OrderViewSet, "orders")
router.register("fitting-lots", FittingLotViewSet, "fitting-lots")
router.register("assemblies", AssemblyViewSet, "assemblies")
router.register("deliveries", DeliveryViewSet, "deliveries")
router.register("holds", HoldViewSet, "holds")
router.register("machines", MachineViewSet, "machines")
router.register("journal", JournalViewSet, "journal")
router.register("people", PersonViewSet, "people")

urlpatterns: list[URLPattern | URLResolver] = [
    path("account/reading/", ReadingView.as_view(), name="reading"),
    path("token/", TokenView.as_view(), name="token"),
    path("journal/checkpoint/", CheckpointView.as_view(), name="journal-checkpoint"),
    path("journal/consistency/", ConsistencyView.as_view(), name="journal-consistency"),
    path("journal/<int:number>/inclusion/", InclusionView.as_view(), name="journal-inclusion"),
    *router.urls,
]
