"""Jinja in a sandbox that counts: how often a template goes round, and how large a text it makes in one step.

Jinja's own sandbox keeps a template from files and from Python; it lets it multiply texts and go round for days.
Whatever is over a bound raises SecurityError, which names the template's line.
"""

from __future__ import annotations

import functools
import re
from collections.abc import Callable, Mapping, Sized
from typing import Any

from jinja2 import nodes
from jinja2.exceptions import SecurityError
from jinja2.runtime import Context
from jinja2.sandbox import ImmutableSandboxedEnvironment
from jinja2.visitor import NodeTransformer

from repslate.publish.templates import LARGEST

ROUNDS = 300_000  # of all loops and macros together; the shipped ones take some 5,000 for 120 exercises
_BITS = 4096  # of a whole number
_WIDE = re.compile(r"[0-9]{5}|\*")  # a width in a format: of five digits, or taken from the values
_WIDE_BRACES = re.compile(r"[0-9]{5}|\{[^{}]*\{")


class CountingEnvironment(ImmutableSandboxedEnvironment):
    """An environment for one run: each of its templates draws on the same number of rounds."""

    intercepted_binops = frozenset({"+", "*", "**", "%"})

    def __init__(self, **settings: Any) -> None:
        super().__init__(**settings)
        self.left = ROUNDS
        self.filters = {name: _weighed(each) for name, each in self.filters.items()}
        del self.globals["lipsum"]

    def spend(self) -> str:
        """Count one round of a loop or one call of a macro."""
        self.left -= 1
        if self.left < 0:
            raise SecurityError(f"it goes round more than {ROUNDS:,} times")
        return ""

    def bounded(self, text: str) -> str:
        """Return a text that "~" has joined, if it is no larger than a page can be."""
        _weigh(len(text))
        return text

    def call(self, context: Context, function: Any, /, *args: Any, **named: Any) -> Any:
        """Call a function of the template's, unless what it asks for is too large."""
        owner = getattr(function, "__self__", None)
        if isinstance(owner, str | bytes | list | tuple):
            _weigh_call(owner, args, named)
        return super().call(context, function, *args, **named)

    def wrap_str_format(self, value: Any) -> Callable[..., str] | None:
        """Return what stands for "…".format, unless it may set a width of five digits, or one out of a value."""
        wrapped = super().wrap_str_format(value)
        if wrapped is not None and _WIDE_BRACES.search(str(value.__self__)):
            raise SecurityError("it asks for a width of five digits or more in a format")
        return wrapped

    def call_binop(self, context: Context, operator: str, left: Any, right: Any) -> Any:
        """Calculate, unless the result is too large."""
        if operator in ("*", "**") and isinstance(left, int) and isinstance(right, int):
            bits = left.bit_length() * (right if operator == "**" else 1) + right.bit_length()
            if bits > _BITS:
                raise SecurityError(f"it makes a number of more than {_BITS} bits")
        elif operator == "*":
            _weigh(_size(left) * _size(right))
        elif operator == "+":
            _weigh(max(_size(one) if isinstance(one, Sized) else 0 for one in (left, right)) * 2)
        elif operator == "%" and isinstance(left, str | bytes):
            _weigh_call(left, (right,), {})
        return super().call_binop(context, operator, left, right)

    def _parse(self, source: str, name: str | None, filename: str | None) -> nodes.Template:
        tree = super()._parse(source, name, filename)
        for round_ in tree.find_all((nodes.For, nodes.Macro, nodes.CallBlock)):
            assert isinstance(round_, nodes.For | nodes.Macro | nodes.CallBlock)  # noqa: S101  what was asked for
            count = nodes.Call(nodes.EnvironmentAttribute("spend"), [], [], None, None)
            round_.body.insert(0, nodes.Output([count]).set_lineno(round_.lineno))
        counted = _Joining().visit(tree).set_environment(self)
        assert isinstance(counted, nodes.Template)  # noqa: S101  a transformed tree is still one
        return counted


class _Joining(NodeTransformer):
    """Puts what "~" joins through `bounded`."""

    def visit_Concat(self, node: nodes.Concat) -> nodes.Call:  # noqa: N802  Jinja's naming
        self.generic_visit(node)
        bounded = nodes.Call(nodes.EnvironmentAttribute("bounded"), [node], [], None, None)
        bounded.set_lineno(node.lineno)
        return bounded


def _weighed(function: Callable[..., Any]) -> Callable[..., Any]:
    """Return a filter that first looks at how much it is asked for; Jinja's marks on it are kept."""

    @functools.wraps(function)
    def weighed(*args: Any, **named: Any) -> Any:
        plain = args[1:] if hasattr(function, "jinja_pass_arg") else args
        if plain:
            _weigh_call(plain[0], plain[1:], named)
        return function(*args, **named)

    return weighed


def _weigh_call(subject: Any, args: tuple[Any, ...], named: Mapping[str, Any]) -> None:
    """Refuse a call that could make more than a page of one step: "a".center(n), join, replace and their like."""
    if isinstance(subject, str | bytes) and _WIDE.search(
        subject if isinstance(subject, str) else subject.decode("latin-1")
    ):
        values = [*args, *named.values()]
        if any(isinstance(one, int) for one in values) and "%" in str(subject):
            raise SecurityError("it asks for a width of five digits or more in a format")
    _weigh((_size(subject) + 1) * max(map(_size, (*args, *named.values())), default=1))


def _size(value: Any) -> int:
    """Return how much a value can make of another: its length, for a whole number itself."""
    if isinstance(value, int):
        return max(1, abs(value))
    return max(1, len(value)) if isinstance(value, Sized) else 1


def _weigh(size: int) -> None:
    if size > LARGEST:
        raise SecurityError(f"it makes a text or a list of up to {size:,} in one step, expected at most {LARGEST:,}")
