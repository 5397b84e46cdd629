"""The tests that can be recorded, in one place for pages, the API and commands."""

from certs.services.record_breaking import record_breaking_test
from certs.services.record_proof import record_proof_test
from certs.services.record_wires import record_wire_test
from certs.services.test_evidence import CannotRecord

__all__ = ["CannotRecord", "record_breaking_test", "record_proof_test", "record_wire_test"]
