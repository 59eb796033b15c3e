"""Plain data as JSON and back, for what our processes say to each other.

JSON is data and nothing else: whatever comes through the pipe, only classes of ours that hold data are made of it.
Days, plans and findings are frozen dataclasses and models, so each is written as its class and its fields.
"""

import base64
import datetime as dt
import json
import re
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any

from pydantic import BaseModel

_KIND, _VALUE = "is", "of"
_OURS = re.compile(r"planner(?:\.[a-z_0-9]+)+:[A-Za-z_0-9]+")


class NotPlainError(TypeError):
    """Something is no plain data of ours; the text says what."""


def to_json(value: Any) -> str:
    """Plain data as JSON. Raises `NotPlainError` when there is something in it that is none."""
    return json.dumps(_plain(value), ensure_ascii=False)


def from_json(text: str | bytes) -> Any:
    """What `to_json` wrote.

    Raises `ValueError` or `NotPlainError` when it is no JSON, or names what is no data of ours.
    """
    return _made(json.loads(text))


def _plain(value: Any) -> Any:
    if value is None or isinstance(value, bool | str) or type(value) in (int, float):
        return value
    if type(value) is tuple:
        return [_plain(item) for item in value]
    if isinstance(value, Enum):
        return {_KIND: _name_of(type(value)), _VALUE: _plain(value.value)}
    if is_dataclass(value) and not isinstance(value, type):
        told = {field.name: _plain(getattr(value, field.name)) for field in fields(value) if field.init}
        return {_KIND: _name_of(type(value)), _VALUE: told}
    if isinstance(value, BaseModel):
        told = {name: _plain(getattr(value, name)) for name in type(value).model_fields}
        return {_KIND: _name_of(type(value)), _VALUE: told}
    for kind, (cls, write, _) in _OTHERS.items():
        if isinstance(value, cls):
            return {_KIND: kind, _VALUE: write(value)}
    if isinstance(value, int | float):  # numbers of other libraries that are numbers all the same
        return float(value) if isinstance(value, float) else int(value)
    raise NotPlainError(f"{type(value).__module__}.{type(value).__qualname__} is no plain data")


def _made(value: Any) -> Any:
    if isinstance(value, list):
        return tuple(_made(item) for item in value)
    if not isinstance(value, dict):
        return value
    kind, inner = value[_KIND], value[_VALUE]
    if kind in _OTHERS:
        return _OTHERS[kind][2](inner)
    cls = _class_of(kind)
    if issubclass(cls, Enum):
        return cls(_made(inner))
    told = {name: _made(item) for name, item in inner.items()}
    return cls.model_construct(**told) if issubclass(cls, BaseModel) else cls(**told)


_OTHERS: dict[str, tuple[Any, Any, Any]] = {
    "list": (list, lambda v: [_plain(x) for x in v], lambda v: [_made(x) for x in v]),
    "table": (
        dict,
        lambda v: [[_plain(k), _plain(x)] for k, x in v.items()],
        lambda v: {_made(k): _made(x) for k, x in v},
    ),
    "tuple": (tuple, lambda v: [_plain(x) for x in v], lambda v: tuple(_made(x) for x in v)),
    "set": (frozenset, lambda v: [_plain(x) for x in v], lambda v: frozenset(_made(x) for x in v)),
    "bytes": (bytes, lambda v: base64.b64encode(v).decode("ascii"), base64.b64decode),
    "path": (Path, str, Path),
    "moment": (dt.datetime, dt.datetime.isoformat, dt.datetime.fromisoformat),
    "date": (dt.date, dt.date.isoformat, dt.date.fromisoformat),
    "time": (dt.time, dt.time.isoformat, dt.time.fromisoformat),
}
"""What is neither ours nor JSON's own: how it is known, written and read."""


def _name_of(cls: type) -> str:
    name = f"{cls.__module__}:{cls.__qualname__}"
    if not _OURS.fullmatch(name):
        raise NotPlainError(f"{name} is no class of ours")
    return name


@cache
def _class_of(name: str) -> Any:
    if not _OURS.fullmatch(name):
        raise NotPlainError(f"'{name[:60]}' is no class of ours")
    module, _, cls_name = name.partition(":")
    cls = getattr(import_module(module), cls_name, None)
    if not isinstance(cls, type) or cls.__module__ != module:
        raise NotPlainError(f"'{name}' is no class of ours")
    if not (is_dataclass(cls) or issubclass(cls, Enum | BaseModel)):
        raise NotPlainError(f"'{name}' holds no data")
    return cls
