"""One season and many: arrays, rows, labeled grids, progress and interruption."""

from __future__ import annotations

import os
import signal
import threading
import time

import numpy as np
import pytest

from evenfall import Scenario, Season


def test_passes_add_up_to_the_season(season: Season) -> None:
    for name in season.alternatives:
        depth_mm = season.depth_mm(name)
        assert depth_mm.dtype == np.float64 and depth_mm.min() >= 0.0
        np.testing.assert_allclose(season.pass_depth_mm(name).sum(axis=0), depth_mm, rtol=1e-12)


def test_figures_are_those_of_the_cells(season: Season) -> None:
    depth_mm = season.depth_mm("Fixed")
    mean_mm = depth_mm.mean()
    cu_percent = 100 * (1 - np.abs(depth_mm - mean_mm).mean() / mean_mm)
    whole = season.figures("whole")[0]
    assert whole["alternative"] == "Fixed"
    assert whole["cu_percent"] == pytest.approx(cu_percent, rel=1e-12)
    assert whole["mean_depth_mm"] == pytest.approx(mean_mm, rel=1e-12)


def test_rows_make_a_table(season: Season) -> None:
    pandas = pytest.importorskip("pandas")
    table = pandas.DataFrame(season.passes())
    assert len(table) == 4 * len(season.alternatives)
    last = table[table["pass"] == 4].set_index("alternative")["cu_percent"]
    assert last["Fixed"] == season.figures()[0]["cu_percent"]
    with pytest.raises(ValueError, match="Expected one of"):
        season.passes(region="middle")


def test_labeled_grids_carry_units(season: Season) -> None:
    pytest.importorskip("xarray")
    grids = season.to_xarray()
    assert grids.dims == ("alternative", "y", "x") and grids.attrs["units"] == "mm"
    assert float(grids.x[1] - grids.x[0]) == pytest.approx(8 * 0.3048)
    by_pass = season.passes_to_xarray()
    assert by_pass.sizes["pass"] == 4
    assert float(abs(by_pass.sum("pass") - grids).max()) < 1e-9


def test_grids_have_no_number_outside_the_boundary(small: Scenario) -> None:
    """The figures are those of the cells that have one."""
    corners = [["0 ft", "0 ft"], ["600 ft", "0 ft"], ["600 ft", "1000 ft"], ["0 ft", "1000 ft"]]
    part = small.change({"/field/boundary": {"corners": corners}}).season(passes=True)
    depth_mm, pass_mm = part.depth_mm(0), part.pass_depth_mm(0)
    outside = np.isnan(depth_mm)
    assert 0 < outside.sum() < outside.size
    assert (np.isnan(pass_mm) == outside).all()
    assert not np.isnan(small.season().depth_mm(0)).any()
    whole = part.figures("whole")[0]
    assert whole["mean_depth_mm"] == pytest.approx(np.nanmean(depth_mm), rel=1e-12)


def test_passes_are_kept_only_when_asked_for(small: Scenario) -> None:
    with pytest.raises(ValueError, match="passes=True"):
        small.season().pass_depth_mm()


def test_alternatives_go_by_name_or_number(season: Season) -> None:
    assert season.depth_mm(2) is season.depth_mm("Three stops"), "handed over, not copied"
    with pytest.raises(KeyError, match="There are: Fixed"):
        season.depth_mm("Four stops")
    with pytest.raises(IndexError):
        season.depth_mm(3)


def test_seasons_have_a_worth_and_the_same_digits_again(small: Scenario) -> None:
    steps: list[tuple[int, int]] = []
    found = small.worth(seasons=6, progress=lambda done, total: steps.append((done, total)))
    assert found.summary == small.worth(seasons=6).summary
    assert found.summary["seasons_finished"] == 6 and found.answer
    assert steps and steps[-1] == (6, 6)
    assert found.yield_fraction().max() <= 1.0
    pytest.importorskip("xarray")
    maps = found.to_xarray()
    assert set(maps) == {"yield_fraction", "percolation"}


def test_too_few_seasons_are_refused(small: Scenario) -> None:
    with pytest.raises(ValueError, match="Expected 2 or more"):
        small.worth(seasons=1)


def test_what_progress_raises_stops_the_run(small: Scenario) -> None:
    def full(_done: int, _total: int) -> None:
        raise RuntimeError("enough")

    with pytest.raises(RuntimeError, match="enough"):
        small.worth(seasons=5000, progress=full)


def test_ctrl_c_stops_a_run(small: Scenario) -> None:
    pressed = threading.Timer(0.5, os.kill, (os.getpid(), signal.SIGINT))
    pressed.start()
    since = time.monotonic()
    with pytest.raises(KeyboardInterrupt):
        small.worth(seasons=3000)
    assert time.monotonic() - since < 20, "3000 seasons take longer than that"


def test_other_threads_go_on_meanwhile(small: Scenario) -> None:
    counted = 0
    over = threading.Event()

    def count() -> None:
        nonlocal counted
        while not over.is_set():
            counted += 1

    other = threading.Thread(target=count)
    other.start()
    before = counted
    small.worth(seasons=8)
    during = counted - before
    over.set()
    other.join()
    assert during > 1000
