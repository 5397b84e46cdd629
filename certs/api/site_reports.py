"""Reports from site over the API: sent by anyone at a tag, read and settled by the house."""

from typing import Any

from django.http import Http404, HttpResponse
from django.utils import timezone
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema, extend_schema_field, extend_schema_view
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.parsers import MultiPartParser
from rest_framework.permissions import SAFE_METHODS, IsAuthenticated
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from certs.api.register import ClaimRegister, MayClaim
from certs.models import SiteReport
from certs.queries.site_reports import photo_of, reports, tag_on_site, things_of
from certs.rules.report_advice import do_now
from certs.rules.roles import ClaimAct, may
from certs.services.report_from_site import MAX_PHOTOS, report_from_site
from certs.services.settle_report import close_report, forget_contact, hold_reported
from inventory.api.acting import deed, kept, made, person_of, read
from inventory.api.fields import Code, HeldThing
from inventory.api.holds import HoldAnswer
from inventory.api.rate import Reporting
from inventory.documents.photograph import MAX_PHOTO_BYTES, take_photograph
from inventory.rules.roles import Role


class ReportAsked(serializers.Serializer[Any]):
    """What was seen. Photographs are JPEG or PNG, 8 MB each; their metadata is not kept."""

    kind = serializers.ChoiceField(SiteReport.Kind.choices)
    words = serializers.CharField(max_length=2000)
    contact = serializers.CharField(max_length=200, allow_blank=True, default="")
    photos = serializers.ListField(
        child=serializers.FileField(), max_length=MAX_PHOTOS, required=False
    )


class ReceiptAnswer(serializers.Serializer[Any]):
    """The number of the report, and what to do now."""

    code = serializers.CharField()
    received_at = serializers.DateTimeField()
    do_now = serializers.SerializerMethodField()

    @extend_schema_field(serializers.ListField(child=serializers.CharField()))
    def get_do_now(self, report: SiteReport) -> tuple[str, ...]:
        """Say what to do, the most urgent first."""
        return do_now(report.kind)


class ReportsAsked(serializers.Serializer[Any]):
    """What the list may be narrowed by."""

    kind = serializers.ChoiceField(SiteReport.Kind.choices, required=False)
    is_closed = serializers.BooleanField(
        required=False, allow_null=True, default=None, source="closed_at__isnull"
    )

    def to_internal_value(self, data: Any) -> Any:  # noqa: ANN401 -- the framework's signature
        """Leave out what was not asked; a report that is not closed has no such time."""
        asked = dict(super().to_internal_value(data))
        is_closed = asked.pop("closed_at__isnull", None)
        return asked if is_closed is None else asked | {"closed_at__isnull": not is_closed}


class PhotoAnswer(serializers.Serializer[Any]):
    """A photograph: the hash of the bytes that were sent, and of the picture that is kept."""

    position = serializers.IntegerField()
    original_sha256 = serializers.CharField()
    sha256 = serializers.CharField(source="file.sha256")


class SiteReportAnswer(serializers.ModelSerializer[SiteReport]):
    """A report; `contact` is null for whoever does not settle reports."""

    tag = serializers.CharField(source="tag.code")
    hold = Code(allow_null=True)
    things = serializers.SerializerMethodField()
    contact = serializers.SerializerMethodField()
    photos = PhotoAnswer(many=True)

    class Meta:
        model = SiteReport
        fields = [
            "code",
            "tag",
            "kind",
            "words",
            "contact",
            "things",
            "photos",
            "received_at",
            "hold",
            "closed_at",
            "close_reason",
        ]

    @extend_schema_field(serializers.ListField(child=serializers.CharField()))
    def get_things(self, report: SiteReport) -> list[str]:
        """List the codes that the tag led to when the report came in."""
        return list(things_of(report))

    @extend_schema_field(serializers.CharField(allow_null=True, allow_blank=True))
    def get_contact(self, report: SiteReport) -> str | None:
        """Tell how to reach the reporter, to whoever settles reports."""
        role = Role(person_of(self.context["request"]).role)
        return report.contact if may(role, ClaimAct.SETTLE_REPORT) else None


class HoldReportedAsked(serializers.Serializer[Any]):
    """What to put on hold after a report: the item, or what it was made of."""

    subject = HeldThing()
    reason = serializers.CharField(max_length=300)


class CloseAsked(serializers.Serializer[Any]):
    """What was found out, and what was done."""

    reason = serializers.CharField(max_length=400)


class MayReadReports(MayClaim):
    """A report may name its reporter: not everyone who is signed in reads it."""

    def has_permission(self, request: Request, view: APIView) -> bool:
        """Tell whether to go on. Raises NotAllowed with the sentence of the refusal."""
        method = request.method or ""
        # What the view has no method for is answered so (405).
        if method in SAFE_METHODS and hasattr(view, method.lower()):
            self.require(by=person_of(request), act=ClaimAct.READ_REPORTS)
        return super().has_permission(request, view)


class ReportAtTagView(APIView):
    """A report of damage or failure, from anyone who holds the tag."""

    authentication_classes = ()
    permission_classes = ()
    parser_classes = (MultiPartParser,)
    throttle_classes = (Reporting,)

    @extend_schema(request=ReportAsked, responses={201: ReceiptAnswer})
    def post(self, request: Request, code: str) -> Response:
        """Report damage or failure, with photographs; nobody signs in."""
        tag = tag_on_site(code)
        if tag is None:
            raise Http404
        asked = read(ReportAsked, request)
        sent = [file.read(MAX_PHOTO_BYTES + 1) for file in asked.pop("photos", [])]
        photos = [take_photograph(content) for content in sent]
        report = report_from_site(tag=tag, **asked, photos=photos, at=timezone.now())
        return made(ReceiptAnswer(report))


@extend_schema_view(list=extend_schema(parameters=[ReportsAsked]))
class SiteReportViewSet(ClaimRegister[SiteReport]):
    """What was reported from site."""

    queryset = reports().prefetch_related("photos__file")
    permission_classes = (IsAuthenticated, MayReadReports)
    serializer_class = SiteReportAnswer
    narrowed_by = ReportsAsked
    acts = {
        "hold": ClaimAct.SETTLE_REPORT,
        "close": ClaimAct.SETTLE_REPORT,
        "forget_contact": ClaimAct.SETTLE_REPORT,
    }

    @extend_schema(responses=OpenApiTypes.OBJECT)
    @action(detail=True)
    def trace(self, request: Request, code: str) -> Response:
        """Get the story of the item as it was when the report came in."""
        return Response(self.get_object().trace)

    @extend_schema(responses={(200, "image/jpeg"): OpenApiTypes.BINARY})
    @action(detail=True, url_path="photos/(?P<position>[1-9])")
    def photo(self, request: Request, code: str, position: str) -> HttpResponse:
        """Get a photograph as it is kept: without what the camera wrote into it."""
        photo = photo_of(self.get_object(), position=int(position))
        if photo is None:
            raise Http404
        return kept(photo.file)

    @extend_schema(request=HoldReportedAsked, responses={201: HoldAnswer})
    @action(detail=True, methods=["post"])
    def hold(self, request: Request, code: str) -> Response:
        """Put what was reported, or what it was made of, on hold."""
        report, asked = self.get_object(), read(HoldReportedAsked, request)
        return made(HoldAnswer(hold_reported(report=report, **asked, **deed(request))))

    @extend_schema(request=CloseAsked, responses=SiteReportAnswer)
    @action(detail=True, methods=["post"])
    def close(self, request: Request, code: str) -> Response:
        """Close the report with what was found out."""
        report = self.get_object()
        close_report(report=report, **read(CloseAsked, request), **deed(request))
        return Response(self.get_serializer(self.get_object()).data)

    @extend_schema(request=None, responses=SiteReportAnswer)
    @action(detail=True, methods=["post"], url_path="forget-contact")
    def forget_contact(self, request: Request, code: str) -> Response:
        """Forget how the reporter can be reached."""
        forget_contact(report=self.get_object(), **deed(request))
        return Response(self.get_serializer(self.get_object()).data)
