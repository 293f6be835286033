"""Evenfall: what a rotation of stops does to the water of a moved sprinkler lateral.

>>> import evenfall
>>> demo = evenfall.Scenario.demo()
>>> demo.alternatives
['Fixed', 'Two stops', 'Three stops']
>>> season = demo.change({"/field/cell": "8 ft"}).season()
>>> season.depth_mm("Fixed").shape
(165, 165)

Lengths inside are meters, depths millimeters, rates are fractions or percent as the name says; a
scenario's own text may have any unit that a scenario file may have.
"""

from ._evenfall import __version__
from .catch import CatchTest, catch_test
from .errors import ScenarioError
from .rows import SeasonRows
from .scenario import Scenario
from .season import Season
from .study import Study
from .worth import Worth

__all__ = [
    "CatchTest",
    "Scenario",
    "ScenarioError",
    "Season",
    "SeasonRows",
    "Study",
    "Worth",
    "__version__",
    "catch_test",
]
