"""Settings of the API and of its description, which `settings.py` takes in."""

import environ

env = environ.Env()

REST_FRAMEWORK = {
    "DEFAULT_AUTHENTICATION_CLASSES": [
        "inventory.api.verified_token.VerifiedToken",
        "rest_framework.authentication.SessionAuthentication",
    ],
    "DEFAULT_PERMISSION_CLASSES": ["rest_framework.permissions.IsAuthenticated"],
    "DEFAULT_RENDERER_CLASSES": ["rest_framework.renderers.JSONRenderer"],
    "DEFAULT_PARSER_CLASSES": [
        "rest_framework.parsers.JSONParser",
        "rest_framework.parsers.MultiPartParser",
    ],
    "DEFAULT_CONTENT_NEGOTIATION_CLASS": "inventory.api.negotiation.JsonAlways",
    "DEFAULT_SCHEMA_CLASS": "drf_spectacular.openapi.AutoSchema",
    "DEFAULT_PAGINATION_CLASS": "rest_framework.pagination.LimitOffsetPagination",
    "PAGE_SIZE": 50,
    "DEFAULT_THROTTLE_CLASSES": ["inventory.api.rate.Limited"],
    "EXCEPTION_HANDLER": "inventory.api.refusals.answer_refusal",
    # A client may write what it likes into X-Forwarded-For; only a proxy of ours is believed.
    "NUM_PROXIES": 1 if env.bool("BEHIND_PROXY", default=False) else 0,
}
SPECTACULAR_SETTINGS = {
    "TITLE": "Rope records",
    "DESCRIPTION": "Heats, reels, cut pieces, tests and certificates of wire rope.",
    "VERSION": "0.1.0",
    "SERVE_INCLUDE_SCHEMA": False,
    "COMPONENT_SPLIT_REQUEST": True,
    "POSTPROCESSING_HOOKS": [
        "drf_spectacular.hooks.postprocess_schema_enums",
        "inventory.api.schema.add_problems",
    ],
    # Without names of their own, choices of fields that share a name are told apart by a hash.
    "ENUM_NAME_OVERRIDES": {
        "PartyKind": "inventory.models.Party.Kind",
        "MillDocumentKind": "inventory.models.MillDocument.Kind",
        "FittingKind": "inventory.models.FittingLot.Kind",
        "TerminationKind": "inventory.models.Termination.Kind",
        "AssemblyKind": "inventory.models.Assembly.Kind",
        "EndFinish": "inventory.models.CutPiece.EndFinish",
        "CutPurpose": "inventory.models.CutPiece.Purpose",
        "OrderedDocumentKind": "inventory.models.OrderLine.DocumentKind",
        "StrengthBasisKind": "certs.models.StrengthBasis.Kind",
        "CertificateKind": "certs.models.Certificate.Kind",
        "CertificateDocumentKind": "certs.models.Certificate.DocumentKind",
        "ReelReadingKind": "certs.models.ReelReading.Kind",
        "DecisionRuleKind": "certs.models.DecisionRule.Kind",
        "BreakingTestOutcome": "certs.models.BreakingTest.Outcome",
        "ProofTestOutcome": "certs.models.ProofTest.Outcome",
        "SiteReportKind": "certs.models.SiteReport.Kind",
        "WireTestOutcome": "certs.models.WireTest.Outcome",
        "WireTestMethod": "certs.models.WireTest.Method",
        "StretchKind": "inventory.documents.reel_stretches.MapKind",
        "CutFor": "inventory.api.reel_words.CUT_FOR",
    },
}
