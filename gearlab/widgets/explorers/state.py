"""What an explorer shows at one setting of its controls."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from ...drawing.scene import Scene
from .inputs import Inputs


@dataclass
class State:
    """What an explorer shows at one setting of its controls; ``subject`` is what the numbers are of."""

    inputs: Inputs
    scene: Scene
    heading: str
    readout: list[dict] = field(default_factory=list)
    remarks: list[dict] = field(default_factory=list)
    subject: Any = None
