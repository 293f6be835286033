"""Scenarios: read, changed, refused."""

from __future__ import annotations

import pickle
from pathlib import Path

import pytest

import evenfall
from evenfall import Scenario, ScenarioError


def test_entries_change_by_pointer_by_section_and_by_name(small: Scenario) -> None:
    other = small.change({"/wheel": {"travel_per_turn": "20 ft"}}, season={"set_time": "8 h"}, seed=5)
    written = other.to_dict()
    assert (written["wheel"], written["season"]["set_time"]) == ({"travel_per_turn": "20 ft"}, "8 h")
    assert other.seed == 5
    assert small.to_dict()["season"]["set_time"] != "8 h", "the first one stays as it is"


def test_none_takes_an_entry_away(small: Scenario) -> None:
    wheel = {"size": None, "outside_diameter": "6 ft"}
    fixed = [{"name": "Fixed", "rotation": ["0 ft"]}]
    other = small.change({"/worth/doubts": None}, wheel=wheel, alternatives=fixed).to_dict()
    assert "size" not in other["wheel"] and other["wheel"]["outside_diameter"] == "6 ft"
    assert "doubts" not in other["worth"]
    assert small.change(alternatives=small.to_dict()["alternatives"]).digest == small.digest
    ways = small.change({"/alternatives/2": None}).to_dict()["alternatives"]
    assert ways == small.to_dict()["alternatives"][:2]


def test_the_seed_is_part_of_the_digest(small: Scenario) -> None:
    again = Scenario(small.to_dict(), seed=small.seed)
    other = Scenario(small.to_dict(), seed=small.seed + 1)
    assert again.digest == small.digest != other.digest


def test_all_problems_come_at_once_each_with_line_and_hint(small: Scenario) -> None:
    wrong = {"/outlets/spacing": "6 ft", "/season/set_time": "many", "/field/cel": "1 m"}
    with pytest.raises(ScenarioError) as raised:
        small.change(wrong)
    problems = raised.value.problems
    assert {problem["pointer"] for problem in problems} >= {"/season/set_time", "/field/cel"}
    assert all(problem["line"] > 0 and problem["problem"] for problem in problems)
    assert "set_time" in str(raised.value)
    assert isinstance(raised.value, ValueError)
    assert pickle.loads(pickle.dumps(raised.value)).problems == problems


def test_a_pointer_to_nowhere_says_so(small: Scenario) -> None:
    with pytest.raises(ValueError, match="Begin with a slash"):
        small.change({"outlets": 1})
    with pytest.raises(KeyError, match="entries 0 to 2"):
        small.change({"/alternatives/7/name": "x"})


def test_files_are_read_from_beside_the_scenario(tmp_path: Path, small: Scenario) -> None:
    path = tmp_path / "field.json"
    small.write(path)
    assert Scenario.read(path).digest == small.digest
    with pytest.raises(FileExistsError):
        small.write(path)
    without = small.to_dict() | {"field": small.to_dict()["field"] | {"boundary": {"file": "edge.geojson"}}}
    with pytest.raises(ScenarioError, match=r"edge\.geojson"):
        Scenario(without, folder=tmp_path)


def test_stops_clock_and_check_are_dictionaries(small: Scenario) -> None:
    stands = small.stops()["alternatives"][2]
    assert stands["name"] == "Three stops" and len(stands["rotation"]) == 3
    assert any(stop["can_stand"] for stop in stands["wheel"]["stops"])
    sets = small.sets()
    assert len(sets) == sum(len(one["sets"]) for way in small.clock()["alternatives"] for one in way["passes"])
    assert {"alternative", "pass", "outlet", "place_across_m", "start", "end"} <= set(sets[0])
    assert small.check()["plan"]["alternatives"][0]["name"] == "Fixed"
    drag = next(one for one in small.methods()["methods"] if one["title"] == "Drag in wind")
    assert {value["symbol"] for value in drag["values"]} >= {"K1", "K2"} and drag["source"]
    assert {"key", "value", "reason"} == set(small.starting_values[0])


def test_a_catch_test_gives_cans_and_figures(data: Path) -> None:
    found = evenfall.catch_test(data / "catch" / "between-laterals.csv")
    assert found.depth_mm.shape == found.x_m.shape and len(found.depth_mm) > 8
    assert found.cu_percent is not None and found.cu_interval_percent is not None
    low, high = found.cu_interval_percent
    assert low < found.cu_percent < high
    alone = evenfall.catch_test(data / "catch" / "one-sprinkler-wind.csv")
    assert alone.cu_percent is None and alone.mean_wind_m_s is not None


@pytest.fixture
def data() -> Path:
    return Path(__file__).parents[3] / "data"
