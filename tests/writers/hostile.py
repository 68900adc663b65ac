"""A takeoff in which every text that can come from outside is hostile.

``spoiled`` walks through the dataclasses of a takeoff. Whatever is a text by its annotation is
replaced, but for what the tool names itself (``OURS``) and settings whose check lets only certain
words pass. So a new field is hostile by itself, and a writer that forgets to escape it fails.
"""

from __future__ import annotations

import dataclasses
import functools
import types
import typing

from laid_out import laid_out

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.config.job import with_settings
from dxf2veneer.model import Alternate, StartOption, StartTable, Takeoff
from dxf2veneer.order import order

SITE = "http://127.0.0.1:{port}"
PAYLOADS = {
    "formula": "=cmd|' /C calc'!A0",
    "formula_plus": "+1+1",
    "formula_at": "@SUM(1)",
    "formula_minus": "-2+3",
    "formula_later": "x;'=1+1",
    "formula_quoted": 'x","=1+1',
    "formula_tab": "x\t=1+1\n=2",
    "formula_wide": "＝1+1",
    "markup": "</title></style></script><script>document.title='owned'</script>",
    "attribute": "\"><img src=http://127.0.0.1:9/x onerror=document.title='owned'>",
    "attribute_plain": "' onmouseover=alert(1) x='",
    "comment": "--><![CDATA[]]>&lt;&#0;<!--",
    "address": "javascript:alert(1)//url(http://127.0.0.1:9/x)",
    "escape": "\x1b[2J\x1b]0;title\x07\x9b31m\r\x08",
    "direction": "a\u202egpj.exe\u2066b\u200f",
    "hidden": "a\u200b\u2060\ufeff\u00adb\U000e0041",
    "halves": "half \ud83d, byte \udc81, \ufffe\uffff\x00",
    "line_ends": "a\r\n  0\r\nEOF\n\u2028\u2029\x85\x0b\x0c",
    "dxf_codes": r"%%u50%%%^J^M\U+0041\M+1828E\P{\fArial;x}",
    "templates": '{0}{key}%s$x`${1}`_x0041_&P&"Arial"',
    "long": "m" * 33_000,
    "path": "../../etc/passwd",
    "empty": " ",
}

OURS = {
    # numbered by the tool
    "Wall.id", "Opening.id", "Corner.id", "StockUnit.id", "Piece.stock", "PieceRef.wall",
    "WallCourses.wall", "WallCount.wall", "RuleBreak.wall", "Conflict.opening", "Edge.corner",
    "Corner.edges", "StartTable.walls", "OrderSource.ref",
    # names of rules, codes, items, settings
    "RuleBreak.rule", "Notice.code", "OrderLine.key", "LabourLine.key", "Assumption.key",
    "BidSum.missing",
    "Product.generic", "Drawing.units", "Drawing.sha256",  # settings, a known unit, a digest
}  # fmt: skip
"""Texts that no drawing, job, product or price file can choose."""


@functools.cache
def whole() -> Takeoff:
    """A takeoff with everything in it: plan, order, an alternate, starts."""
    base = laid_out()
    job = with_settings(base.job, bid__exclude=("painting",))
    first = order(base.walls, base.corners, base.plan, job, base.product)
    both = dataclasses.replace(
        first,
        alternates=(
            Alternate(
                "Other",
                message("alternate-with", product="another panel"),
                first,
                tuple(w.wall.id for w in base.walls),
                base.product,
            ),
        ),
    )
    present, best = (
        StartOption(0.0, 0.0, 2, 4, 3, 14, is_present=True),
        StartOption(1.5, 1.5, 0, 3, 2, 14, is_best=True),
    )
    return dataclasses.replace(
        base, job=job, order=both, starts=(StartTable(("W1", "W2"), (present, best)),)
    )


def spoiled(payload: str, value: typing.Any = None) -> typing.Any:
    """The takeoff of ``whole``, or another value, with every text from outside replaced by
    ``payload``.
    """
    return _walk(whole() if value is None else value, payload)


def _walk(value: typing.Any, payload: str) -> typing.Any:
    if isinstance(value, Message):  # its code is ours, its texts are not
        values = {k: payload if isinstance(v, str) else _walk(v, payload) for k, v in value}
        return message(value.code, **values)
    if dataclasses.is_dataclass(value):
        hints = typing.get_type_hints(type(value))
        changes = {
            f.name: _field(value, f, hints[f.name], payload)
            for f in dataclasses.fields(value)
            if f.init
        }
        return dataclasses.replace(value, **changes)
    if isinstance(value, tuple) and hasattr(value, "_fields"):
        hints = typing.get_type_hints(type(value))
        return type(value)(
            **{n: _text(value, n, getattr(value, n), hints[n], payload) for n in value._fields}
        )
    if isinstance(value, tuple):
        return tuple(_walk(item, payload) for item in value)
    return value


def _field(
    owner: typing.Any, field: dataclasses.Field, hint: typing.Any, payload: str
) -> typing.Any:
    value = getattr(owner, field.name)
    setting = field.metadata.get("setting")
    if setting is None:
        return _text(owner, field.name, value, hint, payload)
    for wanted in (payload, (payload, f"{payload} 2")):
        if isinstance(value, str | tuple | None) and _passes(
            setting.check, wanted, '"\n<', ('"\n<',)
        ):
            return wanted
    return _walk(value, payload)


def _passes(
    check: typing.Callable[[typing.Any], typing.Any], wanted: typing.Any, *free: typing.Any
) -> bool:
    """Whether a setting's own check lets the hostile text be, and any text besides:
    layer prefixes are letters only.
    """
    for value in (wanted, free[isinstance(wanted, tuple)]):
        try:
            if check(value) != value:
                return False
        except ValueError:
            return False
    return True


def _text(
    owner: typing.Any, name: str, value: typing.Any, hint: typing.Any, payload: str
) -> typing.Any:
    if f"{type(owner).__name__}.{name}" in OURS:
        return value
    if hint is str or (
        isinstance(hint, types.UnionType) and str in hint.__args__ and isinstance(value, str)
    ):
        return payload
    if hint == tuple[str, ...]:
        return tuple(f"{payload} {n}" for n, _ in enumerate(value))
    if hint == tuple[tuple[str, str], ...]:
        return tuple((key, payload) for key, _ in value)
    return _walk(value, payload)
