"""Betters a layout of a small cutting job, and proves it best, with an exact solver.

The aims are solved one after the other, each held at its best while the next is sought: what is
unmet, what is left unusable, the number of reels, their age. An aim that a bound proves already is
not solved again.
"""

from dataclasses import dataclass, field

from inventory.rules.cutting_bounds import fewest_reels, least_unmet, least_unusable
from inventory.rules.cutting_job import NOWHERE, Job, Layout, Want
from inventory.rules.whole_number_model import WholeNumberModel

MOST_CHOICES = 600
"""With more pairs of length and slot than this the solver is not asked."""

SECONDS_EACH = 1.0
"""How long each aim may take; the plan found before then stands if it is not enough."""

_PROVED_AIMS = 3


@dataclass(frozen=True, slots=True)
class Proved:
    """A layout with what each aim was proved not to go below; best when all three are met."""

    layout: Layout
    bound: tuple[int, int, int]

    @property
    def is_best(self) -> bool:
        """Tell whether nothing can be better, age apart."""
        return self.layout.score()[:_PROVED_AIMS] == self.bound


@dataclass(slots=True)
class _Model:
    """The model of a job with the numbers of its variables."""

    job: Job
    rows: WholeNumberModel = field(default_factory=WholeNumberModel)
    amount: dict[tuple[int, int], int] = field(default_factory=dict)
    waste: dict[int, int] = field(default_factory=dict)
    opened: dict[int, int] = field(default_factory=dict)

    def aims(self) -> tuple[dict[int, int], ...]:
        """Return the terms of each aim; the first is what is placed, with its sign turned."""
        placed = {at: -self.unit_of(want) for (want, _), at in self.amount.items()}
        return (
            placed,
            dict.fromkeys(self.waste.values(), 1),
            dict.fromkeys(self.opened.values(), 1),
            {at: reel for reel, at in self.opened.items()},
        )

    def unit_of(self, want: int) -> int:
        """Return the length that one of the variable stands for."""
        asked = self.job.wants[want]
        return 1 if asked.is_loose else asked.length

    def layout(self, values: tuple[int, ...]) -> Layout:
        """Return what the solver found as a layout."""
        found = Layout.empty(self.job)
        for (want, slot), at in self.amount.items():
            if self.job.wants[want].is_loose:
                if values[at]:
                    found.put(want, slot, values[at])
            else:
                for _ in range(values[at]):
                    found.put(want, slot, self.job.wants[want].length)
        return found


def choices(job: Job) -> int:
    """Count the pairs of want and slot that the solver would have to decide upon."""
    return sum(
        1 for want in job.wants for slot, room in enumerate(job.slots) if _fits(want, slot, room)
    )


def bounded(layout: Layout) -> Proved:
    """Return the layout with what counting alone proves of it."""
    job = layout.job
    unmet = layout.score()[0]
    return Proved(layout, (least_unmet(job), least_unusable(job), fewest_reels(job, unmet=unmet)))


def proved(start: Layout) -> Proved:
    """Return the best layout, proved as far as time allows; `start` is the best found so far."""
    known = bounded(start)
    model, bound = _model_of(start.job), list(known.bound)
    best = start
    for aim, terms in enumerate(model.aims()):
        value = best.score()[aim]
        if aim < _PROVED_AIMS and value > bound[aim]:
            value, best, bound[aim] = _solved(model, best, aim=aim, least=bound[aim])
            if value > bound[aim]:
                break  # what follows would be proved of a plan that may not be the best
        elif aim == _PROVED_AIMS:
            best = _older(model, best)
        if aim == 0:
            bound[2] = fewest_reels(start.job, unmet=value)
        model.rows.at_most(terms, value - _constant(start.job, aim))
    return Proved(best, (bound[0], bound[1], bound[2]))


def _older(model: _Model, best: Layout) -> Layout:
    """Return the layout with the oldest reels, if that is certain within the time.

    One of several equal plans must not hang on how fast the machine is.
    """
    if best.score()[_PROVED_AIMS] == sum(range(best.score()[2])):
        return best
    solution = model.rows.minimise(model.aims()[_PROVED_AIMS], seconds=SECONDS_EACH)
    if solution is None or not solution.is_optimal:
        return best
    return min(best, model.layout(solution.values), key=Layout.score)


def _solved(model: _Model, best: Layout, *, aim: int, least: int) -> tuple[int, Layout, int]:
    """Solve one aim; return its value, the better layout and what the aim cannot go below."""
    constant = _constant(model.job, aim)
    solution = model.rows.minimise(model.aims()[aim], seconds=SECONDS_EACH)
    if solution is None or not model.rows.holds(solution.values):
        return best.score()[aim], best, least
    best = min(best, model.layout(solution.values), key=Layout.score)
    value = best.score()[aim]
    if solution.bound is not None:
        least = min(max(least, solution.bound + constant), value)
    return value, best, least


def _constant(job: Job, aim: int) -> int:
    return sum(want.total for want in job.wants) if aim == 0 else 0


def _model_of(job: Job) -> _Model:
    model = _Model(job)
    for reel in sorted(set(job.reel_of)):
        model.opened[reel] = model.rows.variable(most=1)
    for number, want in enumerate(job.wants):
        for slot, room in enumerate(job.slots):
            if _fits(want, slot, room):
                most = min(room, want.total) // model.unit_of(number)
                model.amount[number, slot] = model.rows.variable(most=most)
    for number in range(len(job.wants)):
        _ask(model, number)
    for slot in range(len(job.slots)):
        _fill(model, slot)
    return model


def _fits(want: Want, slot: int, room: int) -> bool:
    return want.may_use(slot) and room >= (want.part if want.is_loose else want.length)


def _ask(model: _Model, number: int) -> None:
    """Cut no more of a want than is asked for, or all of it from one group."""
    want = model.job.wants[number]
    columns = {slot: at for (n, slot), at in model.amount.items() if n == number}
    if want.is_loose:
        for slot, at in columns.items():
            used = model.rows.variable(most=1)
            model.rows.at_least({at: 1, used: -want.part}, 0)
            model.rows.at_most({at: 1, used: -min(model.job.slots[slot], want.total)}, 0)
    amount = want.total // model.unit_of(number)
    if want.groups is None:
        model.rows.at_most(dict.fromkeys(columns.values(), 1), amount)
        return
    chosen: dict[int, int] = {}
    for group in sorted({want.groups[slot] for slot in columns} - {NOWHERE}):
        chosen[group] = model.rows.variable(most=1)
        inside = [at for slot, at in columns.items() if want.groups[slot] == group]
        model.rows.equal({**dict.fromkeys(inside, 1), chosen[group]: -amount}, 0)
    model.rows.at_most(dict.fromkeys(chosen.values(), 1), 1)


def _fill(model: _Model, slot: int) -> None:
    """Keep a slot's pieces inside it, open its reel for them, and count what is unusable."""
    job, rows = model.job, model.rows
    room = job.slots[slot]
    used = {at: model.unit_of(want) for (want, s), at in model.amount.items() if s == slot}
    rows.at_most({**used, model.opened[job.reel_of[slot]]: -room}, 0)
    if not job.shortest:
        return
    waste = model.waste[slot] = rows.variable(most=min(room, job.shortest - 1))
    if room < job.shortest:
        rows.equal({**used, waste: 1}, room)
        return
    # Usable: what is left is long enough. If not, all of it is waste.
    usable = rows.variable(most=1)
    rows.at_most({**used, usable: job.shortest}, room)
    rows.at_least({**used, waste: 1, usable: room}, room)
