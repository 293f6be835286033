"""JSON pointers (RFC 6901): places in a scenario."""

from __future__ import annotations

from typing import Any

__all__ = ["pointer_to", "put"]


def pointer_to(key: str) -> str:
    """The pointer to a key of the whole."""
    return "/" + key.replace("~", "~0").replace("/", "~1")


def put(whole: Any, pointer: str, value: Any) -> None:
    """Puts ``value`` at ``pointer``, making sections on the way; ``/-`` adds to a list, ``None`` takes away."""
    if not pointer.startswith("/"):
        raise ValueError(f"{pointer!r} is no JSON pointer. Begin with a slash: '/outlets/spacing'")
    parts = [part.replace("~1", "/").replace("~0", "~") for part in pointer[1:].split("/")]
    at = whole
    for part, after in zip(parts, [*parts[1:], None], strict=True):
        is_last = after is None
        if isinstance(at, list):
            if part == "-" and is_last:
                at.append(value)
                return
            if not part.isdecimal() or int(part) >= len(at):
                raise KeyError(f"{pointer}: the list at {part!r} has entries 0 to {len(at) - 1}")
            key: Any = int(part)
        elif isinstance(at, dict):
            key = part
            if not is_last:
                at.setdefault(key, {})
        else:
            raise KeyError(f"{pointer}: nothing lies below {part!r}; there is {at!r}")
        if is_last and value is None:
            at.pop(key, None) if isinstance(at, dict) else at.pop(key)
        elif is_last:
            at[key] = value
        else:
            at = at[key]
