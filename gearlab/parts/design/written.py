"""A design's file as text: changed in place, with the comments and the order of its author."""

from __future__ import annotations

from collections.abc import Mapping, MutableMapping
from typing import Any

#: Tables of which a design has several, and the fields by which one is named.
_NAMED_BY: dict[str, tuple[str, ...]] = {
    "shaft": ("name",),
    "gear": ("name",),
    "rack": ("name",),
    "bevel": ("name",),
    "planetary": ("name",),
    "mesh": ("driver", "driven"),
    "measured": ("part", "quantity"),
}
_BETWEEN = {"mesh": " with ", "measured": " "}
_UNNAMED = {"rack": "rack", "planetary": "planetary set"}  # what they are called that give no name
#: Fields that name a member of another table.
_REFERS = {
    "gear": {"mesh": ("driver", "driven"), "rack": ("pinion",), "measured": ("part",)},
    "shaft": {
        "gear": ("shaft",),
        "load": ("shaft",),
        "bevel": ("driver", "driven"),
        "mitre": ("driver", "driven"),
        "planetary": ("sun_shaft", "carrier_shaft", "ring_shaft"),
        "measured": ("part",),
    },
}


def changed(tables: dict[str, Any], edits: Mapping[str, Any]) -> dict[str, Any]:
    """A copy of a design's tables with edits made, as ``Design.with_`` takes them."""
    after = _copied(tables)
    for kind, edit in edits.items():
        _edit(after, kind, edit)
    return after


def _copied(data: Any) -> Any:
    """A copy of plain data: tables, lists, and what never changes."""
    if isinstance(data, dict):
        return {name: _copied(value) for name, value in data.items()}
    return [_copied(value) for value in data] if isinstance(data, list) else data


def changed_text(text: str, edits: Mapping[str, Any]) -> str:
    """The text of a design's file with edits made; all that is not edited stays as it was written."""
    import tomlkit  # 30 ms to load, and needed only where a file is changed

    document = tomlkit.parse(text)
    for kind, edit in edits.items():
        _edit(document, kind, edit)
    return tomlkit.dumps(document)


def toml_of(tables: Mapping[str, Any]) -> str:
    """The text of a file for a design that was not read from one."""
    import tomlkit

    document = tomlkit.document()
    for kind, table in tables.items():
        if isinstance(table, Mapping):
            document.add(kind, _table(table))
        elif table:
            several = tomlkit.aot()
            for member in table:
                several.append(_table(member))
            document.add(kind, several)
    return tomlkit.dumps(document)


def _table(fields: Mapping[str, Any]) -> Any:
    import tomlkit

    table = tomlkit.table()
    for field, value in fields.items():
        if value is not None:
            table.add(field, _plain(value))
    return table


def _plain(value: Any) -> Any:
    """A value as a person would write it: 220, not 220.0."""
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return int(value)
    return list(value) if isinstance(value, tuple) else value


def _edit(tables: MutableMapping[str, Any], kind: str, edit: Any) -> None:
    """Make the edit of one kind of table."""
    if edit is None:
        tables.pop(kind, None)
        return
    if isinstance(edit, (list, tuple)):
        tables.pop(kind, None)
        for member in edit:
            _append(tables, kind, member)
        return
    if not isinstance(edit, Mapping):
        raise ValueError(
            f"{kind} = {edit!r} is no edit: give fields and their values, such as {{'length': 240}}"
        )
    if kind not in _NAMED_BY:
        if kind not in tables:
            tables[kind] = _new(tables, {})
        _put(tables[kind], edit)
        return
    if isinstance(tables.get(kind), Mapping):  # one table where several could stand
        own = tables[kind].get("name", _UNNAMED.get(kind))
        inner = edit[own] if set(edit) == {own} else None if own in edit else edit
        if inner is None and own in edit and edit[own] is None:
            del tables[kind]
        elif inner is not None and not any(isinstance(value, Mapping) for value in inner.values()):
            _put(tables[kind], inner)
        else:
            raise ValueError(
                f"{kind}: there is one, {own!r}; write [[{kind}]], with two brackets, in its file to add"
                " another"
            )
        return
    members = tables.get(kind, ())
    if len(members) == 1 and not any(value is None or isinstance(value, Mapping) for value in edit.values()):
        _put(members[0], edit)  # there is no other
        return
    for name, fields in edit.items():
        _edit_member(tables, kind, name, fields)


def _edit_member(tables: MutableMapping[str, Any], kind: str, name: str, fields: Any) -> None:
    members = tables.get(kind, [])
    place = next((i for i, member in enumerate(members) if _name_of(kind, member) == name), None)
    if fields is None:
        if place is None:
            raise ValueError(f"{kind}: {name!r} is not there, so it cannot be taken out")
        del members[place]
        if not members:
            del tables[kind]
        return
    if not isinstance(fields, Mapping):
        raise ValueError(f"{kind} {name!r} = {fields!r} is no edit: give fields and their values")
    if place is None:
        parts = name.split(_BETWEEN.get(kind, "\n"), 1)
        if len(parts) != len(_NAMED_BY[kind]):
            raise ValueError(f"{kind}: {name!r} names none; write {_BETWEEN[kind].join(_NAMED_BY[kind])!r}")
        _append(tables, kind, dict(zip(_NAMED_BY[kind], parts)) | dict(fields))
        return
    _put(members[place], fields)
    if fields.get("name", name) != name:
        _follow(tables, kind, name, fields["name"])


def _name_of(kind: str, member: Mapping[str, Any]) -> str:
    parts = [str(member.get(field, _UNNAMED.get(kind, ""))) for field in _NAMED_BY[kind]]
    return _BETWEEN.get(kind, "").join(parts)


def _put(table: MutableMapping[str, Any], fields: Mapping[str, Any]) -> None:
    for field, value in fields.items():
        if value is None:
            table.pop(field, None)
        else:
            table[field] = _plain(value)


def _append(tables: MutableMapping[str, Any], kind: str, fields: Mapping[str, Any]) -> None:
    member = _new(tables, fields)
    if kind not in tables:
        if type(tables) is dict:
            tables[kind] = [member]
            return
        _space(tables)
        tables[kind] = _several()
    tables[kind].append(member)


def _space(document: Any) -> None:
    """An empty line before what is added to a file."""
    import tomlkit

    if not tomlkit.dumps(document).endswith("\n\n"):
        document.add(tomlkit.nl())


def _several() -> Any:
    import tomlkit

    return tomlkit.aot()


def _new(tables: MutableMapping[str, Any], fields: Mapping[str, Any]) -> Any:
    """A table of the same sort as those it is put beside: plain, or of a file's text."""
    if type(tables) is dict:
        return {field: _plain(value) for field, value in fields.items() if value is not None}
    return _table(fields)


def _follow(tables: MutableMapping[str, Any], kind: str, before: str, after: str) -> None:
    """A member has a new name: whatever refers to it follows."""
    for other, fields in _REFERS.get(kind, {}).items():
        there: Any = tables.get(other, [])
        members: list[Any] = [there] if isinstance(there, Mapping) else list(there)
        for member in members:
            for field in fields:
                named = str(member.get(field, ""))
                if named == before:
                    member[field] = after
                elif other == "measured" and " with " in named:
                    pair = [after if name == before else name for name in named.split(" with ", 1)]
                    member[field] = " with ".join(pair)
