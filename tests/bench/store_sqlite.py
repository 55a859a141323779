"""SQLite for comparison: store_sqlite.py append FILE COUNT prints the median and the 99th in 100 of an append with full
sync, in ms; store_sqlite.py read FILE COUNT prints how long reading and parsing COUNT rows takes, in ms."""

import json
import sqlite3
import sys
import time

what, path, count = sys.argv[1], sys.argv[2], int(sys.argv[3])
row = json.dumps({"id": "0" * 36, "at": "1970-01-01T00:00:00Z", "what": "entry-added", "entry": "0" * 36,
                  "field": "toward", "words": "walk to the boat house with Ondine before work"}).encode()
base = sqlite3.connect(path, isolation_level=None)
base.execute("pragma journal_mode=wal")
base.execute("pragma synchronous=full")
base.execute("create table records(number integer primary key, value blob)")
if what == "append":
    times = []
    for number in range(count):
        start = time.perf_counter()
        base.execute("insert into records values(?, ?)", (number, row))
        times.append((time.perf_counter() - start) * 1000)
    times.sort()
    print(times[len(times) // 2], times[len(times) * 99 // 100])
else:
    base.execute("begin")
    base.executemany("insert into records values(?, ?)", ((number, row) for number in range(count)))
    base.execute("commit")
    start = time.perf_counter()
    events = [json.loads(value) for _, value in base.execute("select number, value from records order by number")]
    assert len(events) == count
    print((time.perf_counter() - start) * 1000)
