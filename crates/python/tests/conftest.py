"""A small field, so that tests are quick: the demo's, a sixth as long, on wide cells."""

import pytest

import evenfall


@pytest.fixture(scope="session")
def small() -> evenfall.Scenario:
    return evenfall.Scenario.demo().change(
        {"/field/cell": "8 ft", "/season/passes": 4},
    )


@pytest.fixture(scope="session")
def season(small: evenfall.Scenario) -> evenfall.Season:
    return small.season(passes=True)
