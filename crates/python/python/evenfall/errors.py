"""What can be wrong with what you give."""

from __future__ import annotations

import json
from typing import Any

__all__ = ["ScenarioError"]


class ScenarioError(ValueError):
    """A scenario or table that does not hold: all of its problems at once.

    ``str(error)`` shows each with its line, what is allowed there and how to mend it;
    ``error.problems`` has them one by one, as dictionaries with ``line``, ``pointer`` (RFC 6901),
    ``problem``, ``allowed`` and ``hint``.
    """

    problems: list[dict[str, Any]]

    def __init__(self, message: str, problems_json: str = "[]") -> None:
        super().__init__(message)
        self.problems = json.loads(problems_json)

    def __reduce__(self) -> tuple[Any, ...]:
        return (type(self), (str(self), json.dumps(self.problems)))
