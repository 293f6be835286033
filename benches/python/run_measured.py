"""Runs a command and prints its wall time (s) and peak memory (MB), the latter `-` if unknown.

Must stay small and free of numpy: on Linux the peak of a child counts what its parent held when it
was started.
"""

import subprocess
import sys
import time

start = time.perf_counter()
subprocess.run(sys.argv[1:], check=True, stdout=subprocess.DEVNULL)
seconds = time.perf_counter() - start
try:
    import resource

    peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss
    # Bytes on macOS, 1024 bytes elsewhere.
    peak = peak / 1e6 if sys.platform == "darwin" else peak * 1024 / 1e6
except ImportError:
    peak = "-"
print(repr(seconds), peak)
