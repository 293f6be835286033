"""The numpy side of the speed comparison: one command a line in, one answer a line out.

Each timed command answers `ok SECONDS`: the mean over the asked number of runs, by its own clock,
so that talking through the pipe is not counted. Numpy keeps to one thread (set by whoever starts
this). Loaded and computed arrays are known by name.
"""

import platform
import sys
import time

import numpy as np

arrays = {}


def load(name, path):
    arrays[name] = np.load(path)


def save(name, path):
    np.save(path, arrays[name])


def overlay():
    """Builds one strip per set, sprinkler by sprinkler, and adds it to the season's grid."""
    footprints = arrays["footprints"]
    first_rows = arrays["first_rows"].tolist()
    cells_across, cells_along, first_column, spacing, sprinklers = arrays["layout"].tolist()
    rows, columns = footprints.shape[1:]
    lefts = [sprinkler * spacing for sprinkler in range(sprinklers)]
    strip = np.empty((rows, lefts[-1] + columns))
    end_column = first_column + strip.shape[1]
    season = np.zeros((cells_across, cells_along))
    for footprint, row in zip(footprints, first_rows):
        strip.fill(0.0)
        for left in lefts:
            strip[:, left : left + columns] += footprint
        season[row : row + rows, first_column:end_column] += strip
    arrays["season"] = season


def quarter():
    """Mean of the grid and of its lowest quarter."""
    depth = arrays["depth"]
    mean = depth.mean()
    cells = depth.size // 4
    low = np.partition(depth, cells - 1, axis=None)[:cells].mean()
    arrays["figures"] = np.array([mean, low / mean])


def all_figures():
    """Every figure that the Rust side computes."""
    quarter()
    depth = arrays["depth"]
    mean, du_lq = arrays["figures"]
    deviation = depth - mean
    arrays["figures"] = np.array(
        [
            mean,
            du_lq,
            1.0 - np.abs(deviation).mean() / mean,
            np.sqrt(np.square(deviation).mean()) / mean,
            depth.min(),
            depth.max(),
            np.count_nonzero(depth < 0.75 * mean) / depth.size,
            np.count_nonzero(depth > 1.25 * mean) / depth.size,
        ]
    )


def timed(work, runs):
    start = time.perf_counter()
    for _ in range(runs):
        work()
    return (time.perf_counter() - start) / runs


def answer(command, words):
    if command == "load":
        load(words[0], " ".join(words[1:]))
        return ""
    if command == "save":
        save(words[0], " ".join(words[1:]))
        return ""
    if command == "versions":
        return f"Python {platform.python_version()}, numpy {np.__version__}"
    works = {"overlay": overlay, "quarter": quarter, "all_figures": all_figures}
    return repr(timed(works[command], int(words[0])))


for line in sys.stdin:
    command, *words = line.split()
    try:
        reply = "ok " + answer(command, words)
    except Exception as error:  # told to the Rust side, which stops
        reply = f"error {type(error).__name__}: {error}"
    print(reply, flush=True)
