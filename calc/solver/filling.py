"""Boards filled to the end, one after the other.

Each board takes the longest piece left and then the best subset of the others that a
bounded search finds. Source: minimum bin slack (Gupta and Ho 1999; Fleszar and Hindi 2002),
from memory.
"""

from .model import WHOLE, Model
from .units import BIG

TYPE_CHECKING = False
if TYPE_CHECKING:
    Piece = tuple[int, int, int]  # run, node of its left end, item
    Filled = tuple[int, int, list[Piece]]  # store, weight cut from the board, what


_NODES = 300  # of the search for one filling
_DEAR = 1 << 40  # a board that is not to be had, beside any that is


class Filler:
    """Fills boards of one model's stores, those that cost least by length first."""

    def __init__(self, model: Model) -> None:
        self.model = model
        self.stores = model.stores
        self.rates = rates = [s.cost / s.cap for s in self.stores]
        self.order = sorted(range(len(rates)), key=lambda t: (rates[t], t))
        free = [t for t in self.order if self.stores[t].count is None]
        main = free[0] if free else self.order[-1]
        self.board = float(self.stores[main].cost)  # what a usual board costs
        self.rate = rates[main]  # for each unit of its length

    def pack(self, pieces: "list[Piece]", used: list[int]) -> "list[Filled] | None":
        """Boards that hold all the pieces, or None where none holds some piece.

        used: how many boards of each store are in use; it is raised. Where a store's
        count is all used and nothing else holds a piece, a board of it is taken all the same.
        """
        weight, kind = self.model.weight, self.model.kind
        held: dict[int, list[Piece]] = {}
        for piece in pieces:
            key = weight[piece[2]] * 4 + kind[piece[2]]
            if key in held:
                held[key].append(piece)
            else:
                held[key] = [piece]
        keys = sorted(held)[::-1]
        left = [len(held[key]) for key in keys]
        pool = Pool(keys, left)
        out = []
        for first in range(len(keys)):
            while left[first]:
                left[first] -= 1
                found = self._board(pool, first, used)
                if found is None:
                    return None
                store, cut, chosen = found
                used[store] += 1
                row = [held[keys[first]].pop()]
                for k in chosen:
                    left[k] -= 1
                    row.append(held[keys[k]].pop())
                out.append((store, cut, row))
        return out

    def _board(
        self, pool: "Pool", first: int, used: list[int]
    ) -> tuple[int, int, list[int]] | None:
        """(store, weight cut from it, places of the others) of the cheapest board by length."""
        weight, kind = pool.weights[first], pool.kinds[first]
        best, found = BIG, None
        chosen: list[int]
        for t in self.order:
            if best <= self.rates[t]:
                break
            s = self.stores[t]
            if kind == WHOLE:
                if s.whole < 0 or s.cap != weight:
                    continue
                room, chosen = 0, []
            elif s.cap < weight or s.gone & kind:
                continue
            else:
                chosen, room = pool.fullest(first, s.cap - weight, s.gone | kind)
            cost = s.cost
            if s.count is not None and used[t] >= s.count:
                cost += _DEAR
            rate = cost / (s.cap - room)
            if rate < best:
                best, found = rate, (t, s.cap - room, chosen)
        return found

    def over(self, used: list[int]) -> int:
        """How many boards of these are more than there are."""
        n = 0
        for t in range(len(used)):
            count = self.stores[t].count
            if count is not None and used[t] > count:
                n += used[t] - count
        return n


class Pool:
    """Pieces to be cut: their weights * 4 + kinds, the greatest first, and how many are left."""

    def __init__(self, keys: list[int], left: list[int]) -> None:
        self.weights = [key >> 2 for key in keys]
        self.kinds = [key & 3 for key in keys]
        self.left = left
        self.place = {keys[k]: k for k in range(len(keys))}

    def fullest(self, i: int, room: int, ends: int) -> tuple[list[int], int]:
        """The best filling of the room from place i on: (places, room that is left).

        ends: those of the board that are in use, as bits.
        """
        ws, kinds, left, place = self.weights, self.kinds, self.left, self.place
        n = len(ws)
        small = ws[-1]
        chosen: list[int] = []
        best: list[int] = []
        least = room
        nodes = _NODES
        while nodes:
            k = place.get(room * 4, -1)
            if k >= i and left[k]:
                best = chosen + [k]
                least = 0
                break
            if room >= small:
                while i < n and (ws[i] > room or not left[i] or kinds[i] & ends):
                    i += 1
            else:
                i = n
            if i < n:
                room -= ws[i]
                ends |= kinds[i]
                left[i] -= 1
                chosen.append(i)
                nodes -= 1
                if room < least:
                    least = room
                    best = list(chosen)
                    if not room:
                        break
            elif chosen:
                i = chosen.pop()
                room += ws[i]
                ends &= ~kinds[i]
                left[i] += 1
                i += 1
            else:
                break
        for k in chosen:
            left[k] += 1
        return best, least
