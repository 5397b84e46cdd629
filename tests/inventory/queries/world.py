"""A small world of rope whose every millimetre remembers where it was, to compare answers with.

A cell is one millimetre of rope. Winding moves cells, in order or turned round; nothing here adds
or subtracts metres, so it cannot share a mistake with the interval arithmetic under test.
"""

from dataclasses import dataclass, field

from hypothesis import strategies as st

from inventory.models import CutPiece, Reel
from tests.inventory.queries import rope


@dataclass(eq=False)
class Cell:
    """One millimetre: the reels and pieces it was in, oldest first, as ("reel", id, position)."""

    past: list[tuple[str, int, int]] = field(default_factory=list)

    def before(self, kind: str, pk: int) -> list[tuple[str, int, int]]:
        """Its past up to and including this reel or piece."""
        at = next(i for i, event in enumerate(self.past) if event[:2] == (kind, pk))
        return self.past[: at + 1]

    def after(self, kind: str, pk: int) -> list[tuple[str, int, int]]:
        at = next(i for i, event in enumerate(self.past) if event[:2] == (kind, pk))
        return self.past[at:]


@dataclass(eq=False)
class Package:
    """A reel with the cells it held when it came to be, and the piece that each went to."""

    reel: Reel
    cells: list[Cell]
    gone: list[int | None]

    def free_runs(self) -> list[list[int]]:
        runs: list[list[int]] = []
        for position, piece in enumerate(self.gone):
            if piece is not None:
                continue
            if runs and runs[-1][-1] == position - 1:
                runs[-1].append(position)
            else:
                runs.append([position])
        return runs


class World:
    """Reels, rewinds, cuts, returns and reversals, in the database and in cells alike."""

    def __init__(self, lengths: list[int], deeds: list[tuple[str, int, int, int, int]]) -> None:
        self.packages: dict[int, Package] = {}
        self.pieces: dict[int, CutPiece] = {}
        self.in_piece: dict[int, list[Cell]] = {}
        self.mill_reels = [rope.mill_reel(length) for length in lengths]
        for reel in self.mill_reels:
            self._put_on(reel, [Cell() for _ in range(reel.length_mm)])
        for deed, *picks in deeds:
            getattr(self, f"_{deed}")(*picks)

    def _put_on(self, reel: Reel, cells: list[Cell]) -> None:
        for position, cell in enumerate(cells):
            cell.past.append(("reel", reel.pk, position))
        self.packages[reel.pk] = Package(reel, cells, [None] * len(cells))

    def _cut(self, which: int, run: int, start: int, size: int, purpose: str = "") -> int | None:
        package = list(self.packages.values())[which % len(self.packages)]
        runs = package.free_runs()
        if not runs:
            return None
        free = runs[run % len(runs)]
        first = start % len(free)
        positions = free[first : first + 1 + size % (len(free) - first)]
        purpose = purpose or ("supply", "sample", "scrap")[size % 3]
        piece = rope.cut(package.reel, positions[0], positions[-1] + 1, purpose)
        self.pieces[piece.pk] = piece
        self.in_piece[piece.pk] = [package.cells[position] for position in positions]
        for position in positions:
            package.gone[position] = piece.pk
            package.cells[position].past.append(("piece", piece.pk, position))
        return piece.pk

    def _rewind(self, which: int, run: int, start: int, size: int) -> None:
        pk = self._cut(which, run, start, size, "rewind")
        if pk is not None:
            self._wind(pk, self.in_piece[pk], is_turned=bool((which + size) % 2))

    def _take_back(self, which: int, start: int, size: int, turn: int) -> None:
        """A part of a supplied piece comes back."""
        supplied = [pk for pk in self._unused() if self.pieces[pk].purpose == "supply"]
        if supplied:
            pk = supplied[which % len(supplied)]
            cells = self.in_piece[pk]
            first = start % len(cells)
            back = cells[first : first + 1 + size % (len(cells) - first)]
            self._wind(pk, back, is_turned=bool(turn % 2))

    def _wind(self, pk: int, cells: list[Cell], *, is_turned: bool) -> None:
        places = [cell.past[-1][2] for cell in cells]
        reel = rope.wind(
            self.pieces[pk], is_turned=is_turned, from_mm=min(places), to_mm=max(places) + 1
        )
        self._put_on(reel, cells[::-1] if is_turned else cells)

    def _reverse(self, which: int, *_rest: int) -> None:
        unused = self._unused()
        if unused:
            pk = unused[which % len(unused)]
            piece = self.pieces.pop(pk)
            rope.reverse(piece)
            for cell in self.in_piece.pop(pk):
                _, _, position = cell.past.pop()
                self.packages[piece.reel_id].gone[position] = None

    def _unused(self) -> list[int]:
        """Pieces that no reel was wound from."""
        used = {p.reel.wound_from_id for p in self.packages.values()}
        return [pk for pk in self.pieces if pk not in used and self.pieces[pk].purpose != "rewind"]

    def windows(self) -> list[tuple[Package, int, int]]:
        """Each reel whole, and its middle."""
        found = []
        for package in self.packages.values():
            length = len(package.cells)
            found.append((package, 0, length))
            found.append((package, length // 3, length - length // 3))
        return found


_pick = st.integers(min_value=0, max_value=60)

plans = st.tuples(
    st.lists(st.integers(min_value=1, max_value=40), min_size=1, max_size=2),
    st.lists(
        st.tuples(
            st.sampled_from(["cut", "rewind", "rewind", "take_back", "reverse"]),
            _pick,
            _pick,
            _pick,
            _pick,
        ),
        min_size=1,
        max_size=14,
    ),
)
