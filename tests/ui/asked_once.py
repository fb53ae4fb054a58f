"""What Textual asks of its classes at each message and each value is asked once for all the apps of a test run.

Whether a kind of node handles a kind of message, and whether it works a value out, is written in the classes. To ask
again for each message and each look at a value is a tenth of what a screen test takes.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from textual.message import Message
from textual.message_pump import MessagePump
from textual.reactive import Reactive

_dispatch, _look = MessagePump._get_dispatch_methods, Reactive.__get__
_handled: dict[tuple[type, str, type], bool] = {}
_computed: dict[tuple[type, str], bool] = {}


def ask_once() -> None:
    """Let all apps share what they come to know of the classes."""
    MessagePump._get_dispatch_methods = _shared_dispatch  # type: ignore[method-assign, assignment]
    Reactive.__get__ = _shared_look  # type: ignore[method-assign, assignment]


def _shared_dispatch(node: MessagePump, name: str, message: Message) -> Iterable[Any]:
    key = (type(node), name, type(message))
    if key not in _handled:
        _handled[key] = any(_handles(cls, name, type(message)) for cls in type(node).__mro__)
    return _dispatch(node, name, message) if _handled[key] else ()


def _handles(cls: type, name: str, message: type) -> bool:
    by_name = cls.__dict__.keys() & {name, f"_{name}"}
    return bool(by_name) or not set(message.__mro__).isdisjoint(cls.__dict__.get("_decorated_handlers", ()))


def _shared_look(value: Reactive[Any], node: Any, kind: Any) -> Any:
    held = {} if node is None else node.__dict__
    if "_id" not in held or value.internal_name not in held:
        return _look(value, node, kind)
    key = (type(node), value.compute_name)
    if key not in _computed:
        _computed[key] = hasattr(*key)
    return _look(value, node, kind) if _computed[key] else held[value.internal_name]
