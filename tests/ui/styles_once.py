"""The style sheet is read and matched once for all the apps of a test run: that is a fifth of what a screen test takes.

A node whose path, with the classes and states that its rules ask for, was styled before comes to the same styles.
Textual keeps the same memory, but only for as long as it styles one group of nodes.
"""

from __future__ import annotations

from typing import Any

from attrs import define, field, frozen
from textual.css.model import RuleSet
from textual.css.styles import RulesMap
from textual.css.stylesheet import Stylesheet
from textual.dom import DOMNode

MOST = 20_000
"""So many paths are remembered at most."""
_parse, _apply = Stylesheet.parse, Stylesheet.apply


@frozen(eq=False)
class Candidates:
    """The rules that may hold for nodes of some names, and the states that they ask for."""

    states: frozenset[str]
    hover: bool
    focus_within: bool
    order: bool
    odd_or_even: bool

    @property
    def alone(self) -> bool:
        """Whether the path says it all, and no sibling or child."""
        return self.states.isdisjoint(Stylesheet._EXCLUDE_PSEUDO_CLASSES_FROM_CACHE)


@frozen(eq=False)
class Found:
    """What a path comes to: the rules that hold, and how a node keeps them."""

    rules: RulesMap | None
    kept: dict[str, Any] | None
    """None where a change of styles may take its time."""


@define(eq=False)
class Known:
    """What is known of one list of rules."""

    rules: list[RuleSet]
    by_name: dict[str, list[RuleSet]]
    candidates: dict[frozenset[str], Candidates] = field(factory=dict)
    found: dict[Any, Found] = field(factory=dict)

    def of(self, names: frozenset[str]) -> Candidates:
        """Give the candidates for a node of these names."""
        if names not in self.candidates:
            rules = [rule for name in self.by_name.keys() & names for rule in self.by_name[name]]
            states = frozenset[str]().union(*(rule.pseudo_classes for rule in rules))
            order = {"first-of-type", "last-of-type", "first-child", "last-child", "empty"}
            self.candidates[names] = Candidates(
                states,
                "hover" in states,
                "focus-within" in states,
                not states.isdisjoint(order),
                "odd" in states or "even" in states,
            )
        return self.candidates[names]


_read: dict[Any, list[RuleSet]] = {}
_known: dict[int, Known] = {}


def style_once() -> None:
    """Let all apps share what they come to know of style sheets."""
    Stylesheet.parse = _shared_parse  # type: ignore[method-assign, assignment]
    Stylesheet.apply = _shared_apply  # type: ignore[method-assign, assignment]


def _shared_parse(sheet: Stylesheet) -> None:
    key = (tuple(sheet.source.items()), tuple(sheet._variables.items()))
    if key not in _read:
        _parse(sheet)
        _read[key] = sheet._rules
        _known[id(sheet._rules)] = Known(sheet._rules, sheet.rules_map)
    sheet._rules, sheet._require_parse, sheet._rules_map = _read[key], False, None


def _shared_apply(sheet: Stylesheet, node: DOMNode, *, animate: bool = False, cache: Any = None) -> None:
    known = _known.get(id(sheet.rules))
    names = frozenset(node._selector_names)
    candidates = known.of(names) if known else None
    if known is None or candidates is None or not candidates.alone:
        _apply(sheet, node, animate=animate, cache=cache)
        return
    node._has_hover_style, node._has_focus_within = candidates.hover, candidates.focus_within
    node._has_order_style, node._has_odd_or_even = candidates.order, candidates.odd_or_even
    path = (names, *_looks(node, candidates.states, cache))
    found = known.found.get(path)
    if found is None:
        if len(known.found) >= MOST:
            known.found.clear()
        fresh = (names, *_looks(node, candidates.states, None))
        known.found[fresh] = _find(sheet, node, animate)
        return
    if found.rules is not None:
        _put(sheet, node, found, animate)
    sheet._process_component_classes(node)


def _looks(node: DOMNode, states: frozenset[str], cache: Any) -> tuple[tuple[object, ...], ...]:
    """Each node from the one to the app; what stands above nodes of one group is looked at once for all of them."""
    above = node._parent
    if cache is None or not isinstance(above, DOMNode):
        return tuple(_look(one, states) for one in reversed(node.css_path_nodes))
    key = (_looks, above, states)
    if key not in cache:
        cache[key] = _looks(above, states, cache)
    return (_look(node, states), *cache[key])


def _look(node: DOMNode, states: frozenset[str]) -> tuple[object, ...]:
    """Everything of a node on the path that a rule can ask for."""
    held = tuple(state for state in states if node.has_pseudo_classes({state}))
    return (type(node), node._id, node.classes, held)


def _find(sheet: Stylesheet, node: DOMNode, animate: bool) -> Found:
    before = node.styles.base._rules.copy()
    mine: dict[tuple[Any, ...], RulesMap] = {}
    _apply(sheet, node, animate=animate, cache=mine)
    kept = _kept(node)
    at_once = "transitions" not in before and "transitions" not in kept
    return Found(next(iter(mine.values()), None), kept if at_once else None)


def _put(sheet: Stylesheet, node: DOMNode, found: Found, animate: bool) -> None:
    assert found.rules is not None
    base = node.styles.base
    if found.kept is not None and _kept(node) == found.kept:
        node.notify_style_update()
    elif found.kept is not None and "layout" not in found.kept and type(node) is DOMNode and not base._rules:
        base._rules.update(found.kept)  # type: ignore[typeddict-item]
        base._updates += 1
    else:
        sheet.replace_rules(node, found.rules, animate=animate)


def _kept(node: DOMNode) -> dict[str, Any]:
    """The rules that a node keeps; its layout, which is its own, by name."""
    rules: dict[str, Any] = dict(node.styles.base._rules)
    if "layout" in rules:
        rules["layout"] = rules["layout"].name
    return rules
