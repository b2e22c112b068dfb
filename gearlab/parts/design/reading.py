"""Reading a design from its TOML file."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from gearlab.toml import tables_of

from .design import Design
from .faults import line_of, text_of


def read_design(source: str | Path) -> Design:
    """A design from a TOML file, or from its text.

    source: a path, or text that holds a line break.
    ValueError for a file that cannot be read or does not fit; each fault is named with its field and what is
        expected.

    >>> read_design(
    ...     "[design]\\nname = 'x'\\n[plate]\\nlength = 100\\nheight = -5\\nthickness = 6\\n"
    ...     "[[shaft]]\\nname = 'A'\\nx = 1\\ny = 1\\ndiameter = 3\\n"
    ... )
    Traceback (most recent call last):
    ValueError: the design does not fit:
      plate: height = -5 mm cannot be used: give a number above 0 and below 1000000 mm
      [[gear]] is missing: give a [[gear]] table for each gear with name, shaft, teeth, face_width, bore
    """
    if not isinstance(source, (str, Path)):
        raise ValueError(
            f"design = {source!r} is no design: give a Design, the path of its file, or its text"
        )
    text = source if isinstance(source, str) and "\n" in source else text_of(source)
    text = text.removeprefix("\ufeff")  # some editors put a mark there
    try:
        data = tables_of(text)
    except ValueError as error:
        raise ValueError(f"the design is no TOML: {error}{line_of(text, str(error))}") from None
    design = design_of(data)
    design._text = text
    return design


def design_of(data: Mapping[str, Any]) -> Design:
    """A design from its tables, as a TOML file holds them.

    data: the tables, by name [unit of the design].
    ValueError for tables that do not fit; each fault is named with its field and what is expected.

    >>> design_of(
    ...     {
    ...         "design": {"name": "x"},
    ...         "plate": {"length": 100, "height": 60, "thickness": 0},
    ...         "shaft": [{"name": "A", "x": 1, "y": 1, "diameter": 3}],
    ...     }
    ... )
    Traceback (most recent call last):
    ValueError: the design does not fit:
      plate: thickness = 0 mm cannot be used: give a number above 0 and below 1000000 mm
      [[gear]] is missing: give a [[gear]] table for each gear with name, shaft, teeth, face_width, bore
    """
    if not isinstance(data, Mapping):
        raise ValueError(f"a design is made of tables by name, not of {data!r}")
    return Design(**data)
