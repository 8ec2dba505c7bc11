"""How an immutable value is declared: as a frozen dataclass, at a tenth of its cost.

`dataclasses` compiles each method of each class anew; for the two hundred that a command loads that took a
fifth of its time. Here the constructor alone is compiled, and only once the first value is made: a command
makes values of half the classes that it loads. Comparing, hashing and showing are shared.
mypy refuses an assignment to a field. Nothing does so at run time: a constructor that has to get round a
guard takes twice as long, and a recipe makes two thousand values.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import MISSING, Field, dataclass, field, fields
from operator import attrgetter
from typing import Any, TypeVar, dataclass_transform, overload

T = TypeVar("T")


@overload
def frozen(declared: type[T], /) -> type[T]: ...
@overload
def frozen(*, kw_only: bool = True, slots: bool = True) -> Callable[[type[T]], type[T]]: ...
@dataclass_transform(frozen_default=True, kw_only_default=True, field_specifiers=(field,))
def frozen(declared: type[Any] | None = None, /, *, kw_only: bool = True, slots: bool = True) -> Any:
    """Declares an immutable value: equal to another of its class by its fields, made with their names.

    A class whose properties are worked out once (`functools.cached_property`) has no ``slots``.
    """

    def made(cls: type[Any]) -> Any:
        own = vars(cls).keys() & {"__eq__", "__hash__"}
        new: Any = dataclass(init=False, kw_only=kw_only, slots=slots, eq=False, repr=False)(cls)
        all_fields = fields(new)
        compared = _told([attribute.name for attribute in all_fields if attribute.compare])
        hashed = _told(
            [each.name for each in all_fields if (each.compare if each.hash is None else each.hash)]
        )
        shown = [attribute.name for attribute in all_fields if attribute.repr]

        def first(self: Any, *values: Any, **named: Any) -> None:
            new.__init__ = _constructor(new, all_fields)
            new.__init__(self, *values, **named)

        def is_equal(self: Any, other: object) -> Any:
            return compared(self) == compared(other) if other.__class__ is self.__class__ else NotImplemented

        def text(self: Any) -> str:
            shown_fields = ", ".join(f"{name}={getattr(self, name)!r}" for name in shown)
            return f"{self.__class__.__qualname__}({shown_fields})"

        new.__init__ = first
        new.__repr__ = text
        if "__eq__" not in own:
            new.__eq__ = is_equal
        if "__hash__" not in own:
            new.__hash__ = lambda self: hash(hashed(self))
        return new

    return made if declared is None else made(declared)


def _constructor(cls: type[Any], all_fields: Sequence[Field[Any]]) -> Any:
    """The ``__init__`` of a class, which takes its fields, compiled."""
    values: dict[str, Any] = {"MISSING": MISSING}
    keyword = any(attribute.kw_only for attribute in all_fields)
    taken, done = (["*"] if keyword else []), []
    for attribute in all_fields:
        name, value = attribute.name, attribute.name
        if attribute.default is not MISSING:
            values[f"_{name}"] = attribute.default
            taken.append(f"{name}=_{name}")
        elif attribute.default_factory is not MISSING:
            values[f"_{name}"] = attribute.default_factory
            taken.append(f"{name}=MISSING")
            value = f"_{name}() if {name} is MISSING else {name}"
        else:
            taken.append(name)
        done.append(f"self.{name} = {value}")
    if hasattr(cls, "__post_init__"):
        done.append("self.__post_init__()")
    exec(f"def __init__(self, {', '.join(taken)}): {'; '.join(done) or 'pass'}", values)
    values["__init__"].__qualname__ = f"{cls.__qualname__}.__init__"
    return values["__init__"]


def _told(names: list[str]) -> Callable[[Any], tuple[Any, ...]]:
    """Reads fields of those names as a tuple."""
    return (
        attrgetter(*names) if len(names) > 1 else lambda value: tuple(getattr(value, name) for name in names)
    )
