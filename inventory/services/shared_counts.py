"""Counts in the database for several processes at once: none is lost, none forgotten early.

Django's own cache in the database reads a number, adds one and writes it back, so two processes
may both write the same number; and it then keeps the number for five minutes, whatever was asked.
"""

import base64
import pickle

from django.core.cache.backends.db import DatabaseCache
from django.db import connections, router, transaction


class SharedCounts(DatabaseCache):
    """A cache in a table of the database whose `incr` is one step. `createcachetable` makes it."""

    def incr(self, key: str, delta: int = 1, version: int | None = None) -> int:
        """Add to a count, which goes on to end when it would have; return the new count.

        Raises:
            ValueError: there is no such count, or it has ended.
        """
        name = self.make_and_validate_key(key, version=version)
        using = router.db_for_write(self.cache_model_class)
        connection = connections[using]
        table = connection.ops.quote_name(self._table)  # type: ignore[attr-defined] # Django types it nowhere
        with transaction.atomic(using=using), connection.cursor() as cursor:
            # Written as it is, the row is ours until we are done. The name of the table is ours.
            cursor.execute(f"UPDATE {table} SET expires = expires WHERE cache_key = %s", [name])  # noqa: S608
            count = self.get(key, version=version)
            if count is None:
                message = f"there is no count {key!r}"
                raise ValueError(message)
            packed = base64.b64encode(pickle.dumps(count + delta, self.pickle_protocol)).decode()
            cursor.execute(f"UPDATE {table} SET value = %s WHERE cache_key = %s", [packed, name])  # noqa: S608
        return int(count + delta)
