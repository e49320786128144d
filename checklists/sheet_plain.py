"""A sheet to plain data and back, in the very keys that a sheet file has.

Only for sheets already checked: `sheet_reading` reads what people write and reports its faults.
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from checklists import places
from checklists.sheet import (
    Caution,
    Closure,
    Fastener,
    ItemSize,
    Limit,
    Line,
    Opening,
    Part,
    Passage,
    Shape,
    Sheet,
    Space,
)


def sheet_to_plain(sheet: Sheet) -> dict[str, Any]:
    """Plain data with sizes as text (25.4 mm stays "25.4"), fit for canonical JSON."""
    return {
        "name": sheet.name,
        "machine": sheet.machine,
        "caution": [{"id": c.id, "text": c.text} for c in sheet.cautions],
        "space": [{"id": s.id, "name": s.name, "harm": s.harm} for s in sheet.spaces],
        "passage": [_passage_to_plain(p) for p in sheet.passages],
        "opening": [_opening_to_plain(o) for o in sheet.openings],
        "closure": [_closure_to_plain(c) for c in sheet.closures],
        "line": [_item_to_plain(i) for i in sheet.items],
    }


def sheet_from_plain(plain: Mapping[str, Any]) -> Sheet:
    """The sheet that `sheet_to_plain` wrote. Raises KeyError or ValueError on anything else."""
    return Sheet(
        name=plain["name"],
        machine=plain["machine"],
        cautions=tuple(Caution(c["id"], c["text"]) for c in plain["caution"]),
        spaces=tuple(Space(s["id"], s["name"], s["harm"]) for s in plain["space"]),
        passages=tuple(_passage_from_plain(p) for p in plain["passage"]),
        openings=tuple(_opening_from_plain(o) for o in plain["opening"]),
        closures=tuple(_closure_from_plain(c) for c in plain["closure"]),
        items=tuple(_item_from_plain(i) for i in plain["line"]),
    )


def _shape_to_plain(shape: Shape) -> dict[str, Any]:
    return {"shape": shape.kind, "mm": [str(size) for size in shape.mm]}


def _shape_from_plain(plain: Mapping[str, Any]) -> Shape:
    return Shape(plain["shape"], tuple(Decimal(size) for size in plain["mm"]))


def size_to_plain(size: ItemSize) -> dict[str, Any]:
    """An item's shape as plain data."""
    return {"kind": size.kind, "mm": [str(each) for each in size.mm]}


def size_from_plain(plain: Mapping[str, Any]) -> ItemSize:
    """The shape that `size_to_plain` wrote."""
    return ItemSize(plain["kind"], tuple(Decimal(size) for size in plain["mm"]))


def _sized(plain: dict[str, Any], size: ItemSize | None) -> dict[str, Any]:
    return plain if size is None else {**plain, "shape": size_to_plain(size)}


def _size_of(plain: Mapping[str, Any]) -> ItemSize | None:
    return size_from_plain(plain["shape"]) if "shape" in plain else None


def _passage_to_plain(passage: Passage) -> dict[str, Any]:
    plain: dict[str, Any] = {"from": passage.source, "to": passage.target, "way": passage.way}
    if passage.clear is not None:
        plain["clear"] = _shape_to_plain(passage.clear)
    return plain


def _passage_from_plain(plain: Mapping[str, Any]) -> Passage:
    clear = _shape_from_plain(plain["clear"]) if "clear" in plain else None
    return Passage(plain["from"], plain["to"], clear, plain["way"])


def _opening_to_plain(opening: Opening) -> dict[str, Any]:
    return {
        "id": opening.id,
        "name": opening.name,
        "space": opening.space,
        "clear": _shape_to_plain(opening.clear),
        "closure": opening.closure,
        "cover": opening.cover,
    }


def _opening_from_plain(plain: Mapping[str, Any]) -> Opening:
    return Opening(
        plain["id"], plain["name"], plain["space"], _shape_from_plain(plain["clear"]), plain["closure"], plain["cover"]
    )


def _closure_to_plain(closure: Closure) -> dict[str, Any]:
    return {
        "id": closure.id,
        "name": closure.name,
        "fastener": [
            _sized({"id": f.id, "spec": f.spec, "quantity": f.quantity}, f.shape) for f in closure.fasteners
        ],
        "part": [_sized({"id": p.id, "name": p.name, "quantity": p.quantity}, p.shape) for p in closure.parts],
        "torque": closure.torque,
        "lies_over": list(closure.lies_over),
        "second_count": closure.second_count,
        **_said_besides(closure),
    }


def _said_besides(closure: Closure) -> dict[str, Any]:
    """What most closures do not say, and older journals do not know."""
    plain: dict[str, Any] = {}
    if closure.limits:
        plain["limit"] = [_limit_to_plain(limit) for limit in closure.limits]
    if closure.positions:
        plain["positions"] = [[str(x), str(y)] for x, y in closure.positions]
    if closure.y_down:
        plain["y_down"] = True
    if closure.passes:
        plain["passes"] = list(closure.passes)
    return plain


def _limit_to_plain(limit: Limit) -> dict[str, str]:
    ends = {key: text for key, text in (("least", limit.least), ("most", limit.most)) if text}
    return {"id": limit.id, "name": limit.name, **ends}


def _closure_from_plain(plain: Mapping[str, Any]) -> Closure:
    return Closure(
        id=plain["id"],
        name=plain["name"],
        fasteners=tuple(Fastener(f["id"], f["spec"], f["quantity"], _size_of(f)) for f in plain["fastener"]),
        parts=tuple(Part(p["id"], p["name"], p["quantity"], _size_of(p)) for p in plain["part"]),
        torque=plain["torque"],
        lies_over=tuple(plain["lies_over"]),
        second_count=plain["second_count"],
        limits=tuple(
            Limit(each["id"], each["name"], each.get("least", ""), each.get("most", ""))
            for each in plain.get("limit", ())
        ),
        positions=tuple((Decimal(x), Decimal(y)) for x, y in plain.get("positions", ())),
        y_down=plain.get("y_down", False),
        passes=tuple(plain.get("passes", ())),
    )


def _item_to_plain(item: Line) -> dict[str, Any]:
    return _sized({"id": item.id, "name": item.name, "kind": item.kind, "quantity": item.quantity}, item.shape)


def _item_from_plain(plain: Mapping[str, Any]) -> Line:
    return Line(plain["id"], plain["name"], plain["kind"], plain["quantity"], places.STORES, _size_of(plain))
