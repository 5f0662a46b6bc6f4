"""What all values here share: they cannot be written to, and they are the same in every process."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import fields
from threading import RLock
from typing import Any, ClassVar, Generic, TypeVar

import msgspec
from immutabledict import immutabledict

K = TypeVar("K")
V = TypeVar("V")

__all__ = ["Kept", "OnDemand", "as_kind", "immutabledict"]

_IN_TURN = RLock()


def as_kind(data: Any, kind: Any, custom: Callable[[Any, Any], Any] | None = None) -> Any:
    """Plain data as a value of a kind.

    One thread after another: msgspec 0.22 works out what a kind is made of when it is first asked for it, and two
    threads that ask at the same moment may end the process.

    Parameters
    ----------
    data : what stood in a file.
    kind : a type that msgspec knows, or one with fields of other types.
    custom : called with such a type and its data.

    Raises
    ------
    msgspec.ValidationError : the data is none of that kind; a ValueError.
    """
    with _IN_TURN:
        return msgspec.convert(data, kind, dec_hook=custom)


class Kept:
    """A mixin for frozen dataclasses that are costly to hash or from which something costly is derived.

    Its hash is computed once. Its fields alone are pickled and copied, so that neither the hash, which differs from
    process to process, nor what was derived crosses with them. A subclass says ``__hash__ = Kept.__hash__`` in its
    own body, because a dataclass would write its own otherwise. KEY names the fields that tell most of them apart
    and are hashed; all are where it is empty.
    """

    KEY: ClassVar[tuple[str, ...]] = ()

    def __hash__(self) -> int:
        found: int | None = self.__dict__.get("_hash")
        if found is None:
            names = self.KEY or tuple(f.name for f in fields(self) if f.compare)  # type: ignore[arg-type]
            found = hash(tuple(getattr(self, name) for name in names))
            self.__dict__["_hash"] = found
        return found

    def __reduce__(self) -> tuple[Callable[..., Any], tuple[Any, ...]]:
        values = {f.name: getattr(self, f.name) for f in fields(self)}  # type: ignore[arg-type]
        return _made, (type(self), values)


def _made(kind: type[Any], values: Mapping[str, Any]) -> Any:
    return kind(**values)


class OnDemand(Mapping[K, V], Generic[K, V]):
    """A mapping that cannot be written to, each of whose values is computed when first asked for, and kept."""

    def __init__(self, keys: Iterable[K], value: Callable[[K], V]):
        self._keys = dict.fromkeys(keys)
        self._value = value
        self._found: dict[K, V] = {}

    def __getitem__(self, key: K) -> V:
        if key not in self._found:
            if key not in self._keys:
                raise KeyError(key)
            self._found[key] = self._value(key)
        return self._found[key]

    def __iter__(self) -> Iterator[K]:
        return iter(self._keys)

    def __len__(self) -> int:
        return len(self._keys)
