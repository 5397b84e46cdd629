"""What former receipts offer to the next one: mill and place of the last, and heats on record."""

from inventory.models import Heat, Party, Person, Reel

OFFERED = 100


def is_any_reel_on_record() -> bool:
    """Say whether the house has received anything yet."""
    return Reel.objects.exists()


def last_receipt_by(person: Person) -> Reel | None:
    """Return the mill's reel that a person received last; None before the first."""
    received = Reel.objects.filter(origin=Reel.Origin.MILL, received_by=person)
    return received.select_related("mill").order_by("-id").first()


def latest_heats(mill: Party) -> list[Heat]:
    """Return the newest heats of a mill, as many as a list to choose from can bear."""
    return list(Heat.objects.filter(mill=mill).order_by("-id")[:OFFERED])


def heats_named(mill: Party, numbers: set[str]) -> dict[str, Heat]:
    """Return the heats of a mill that are on record among these, by number."""
    found = Heat.objects.filter(mill=mill, number__in=numbers)
    return {heat.number: heat for heat in found.order_by("id")}
