"""Least and median of each benchmark measured since a time: summary.py CRITERION_FOLDER SECONDS"""

import json
import statistics
import sys
from pathlib import Path

folder, since = Path(sys.argv[1]), float(sys.argv[2])
for path in sorted(folder.glob("**/new/sample.json")):
    if path.stat().st_mtime < since:
        continue
    sample = json.loads(path.read_text())
    times = [time / count / 1e3 for time, count in zip(sample["times"], sample["iters"])]
    name = json.loads(path.with_name("benchmark.json").read_text())["full_id"]
    print(f"{name:70} least {min(times):12.3f} us   median {statistics.median(times):12.3f} us")
