"""A scene that turns in the browser.

Python describes the picture once (SVG text with one tooth of each gear); the page repeats and turns
it without a message to the kernel. The angle comes back when it has come to rest.
"""

from __future__ import annotations

import base64
import threading
from pathlib import Path
from typing import Any

import anywidget
import traitlets
from IPython.display import publish_display_data
from ipywidgets import Widget

from ..drawing import axes, style, views
from ..drawing.behind import behind as turned_over
from ..drawing.behind import can_turn_over
from ..drawing.scene import Scene, still_html
from ..drawing.svg import living_svg, svg
from .ahead import Ahead
from .still import in_picture

PAGE = Path(__file__).parent / "page"
# plain files; one after the other they are one module
PARTS = (
    "geometry.js",
    "behind.js",
    "dressing.js",
    "sheet.js",
    "picture.js",
    "panels.js",
    "fit.js",
    "ahead.js",
    "living.js",
)


def living(
    part,
    *,
    playing: bool = True,
    driver_speed: float = 4.0,
    width: float | None = None,
    behind: bool = False,
) -> Living:
    """A pair, a train, a gear or a scene as a picture that turns; show it as the last line of a cell.

    playing: whether it starts turning by itself (never where the reader asks for reduced motion).
    driver_speed: signed speed of the driver, counter-clockwise positive, -30 to 30 [rpm].
    width: width the picture is made for [points, 96 to the inch]; the view's own if left out.
    behind: whether it is seen from behind at first; the page has a switch for it.
    Returns the widget.
    ValueError if the thing cannot be shown or the speed is out of range.

    >>> from gearlab.parts import Gear
    >>> living(Gear(18, module=2.5), playing=False)
    Living(18 teeth)
    """
    view = views.pair if hasattr(part, "driven") else views.train if hasattr(part, "meshes") else None
    if view:
        chosen: dict[str, Any] = {} if width is None else {"width": width}
        return Living(
            view(part, turning=1.0 if driver_speed >= 0 else -1.0, **chosen),
            playing=playing,
            driver_speed=driver_speed,
            behind=behind,
            remake=lambda way: view(part, turning=way, **chosen),
        )
    return Living(scene_of(part, width), playing=playing, driver_speed=driver_speed, behind=behind)


def scene_of(part, width: float | None = None) -> Scene:
    """The scene that shows a thing: a Scene stays itself, a Gear becomes a picture of it."""
    if isinstance(part, Scene):
        return part
    if hasattr(part, "pitch_diameter"):
        return views.gear(part) if width is None else views.gear(part, width=width)
    raise ValueError(
        f"a {type(part).__name__} cannot be shown as a living picture: give a Mesh, a Train, a Gear or a"
        " Scene"
    )


class Living(anywidget.AnyWidget):
    """A living picture of a scene.

    scene: what to show.
    playing, driver_speed: as for ``living``.
    remake: gives the scene for turning counter-clockwise (+1) or clockwise (-1), if that changes it.
    behind: whether it is seen from behind.
    angle: driver's angle when it last came to rest [deg]; set it to turn the picture.
    text: the sentence that says what is shown.
    """

    _esm = "\n".join((PAGE / part).read_text(encoding="utf-8") for part in PARTS)
    _css = "\n".join(
        [
            style.theme_css(".gl"),
            (PAGE / "living.css").read_text(encoding="utf-8"),
            style.living_css(".gl-picture"),
        ]
    )

    picture = traitlets.Unicode().tag(sync=True)
    text = traitlets.Unicode().tag(sync=True)
    heading = traitlets.Unicode().tag(sync=True)
    angle = traitlets.Float(0.0).tag(sync=True)
    playing = traitlets.Bool(True).tag(sync=True)
    driver_speed = traitlets.Float(4.0).tag(sync=True)
    counts = traitlets.Bool(False).tag(sync=True)  # says turns instead of degrees
    wide = traitlets.Bool(False).tag(sync=True)  # the readout stands under the picture, not beside it
    reviewed = traitlets.Bool(False).tag(sync=True)  # the remarks are a panel beside the controls
    controls: traitlets.List = traitlets.List().tag(sync=True)
    readout: traitlets.List = traitlets.List().tag(sync=True)
    behind = traitlets.Bool(False).tag(sync=True)  # whether the picture is turned over
    disclosed = traitlets.Unicode("").tag(sync=True)  # what is open of "controls readout", beyond the stage
    warnings: traitlets.List = traitlets.List().tag(sync=True)
    seen = traitlets.Int(0).tag(sync=True)  # counts the answers to changed controls
    turn = traitlets.Dict().tag(
        sync=True, echo_update=False
    )  # the page's last change: its number, and that of a state it held
    answer = traitlets.Dict().tag(sync=True)  # of the change, and of the state, that were answered last
    asked = traitlets.Unicode().tag(sync=True)
    explanation = traitlets.Dict().tag(sync=True)
    designed = traitlets.Bool(False).tag(sync=True)  # shows a part of a design, which can take its numbers
    used = traitlets.Unicode().tag(sync=True)  # what they moved in it when it took them last

    ahead: Ahead | None = None  # where states are pure, the likely next ones are worked out
    _guard: threading.RLock

    def __init__(
        self, scene: Scene, *, playing: bool = True, driver_speed: float = 4.0, remake=None, **traits
    ):
        # messages from the page run in a thread of their own beside the cells: one change at a time
        if not hasattr(self, "_guard"):
            self._guard = threading.RLock()
        self.scene = scene
        super().__init__(
            picture=living_svg(scene), text=scene.text, playing=playing, driver_speed=driver_speed, **traits
        )
        self.on_msg(self._hear)
        if remake:
            self.observe(
                lambda change: (
                    self.show(remake(1.0 if change.new > 0 else -1.0))
                    if change.new * change.old <= 0 and change.new
                    else None
                ),
                names=["driver_speed"],
            )

    @traitlets.validate("driver_speed")
    def _checked_speed(self, proposal):
        if not -30 <= proposal.value <= 30:
            raise ValueError(
                f"driver_speed is {proposal.value:g} rpm; a picture turns at -30 to 30 rpm (faster, the teeth"
                " cannot be followed on a screen): give a speed in these limits"
            )
        return proposal.value

    def show(self, scene: Scene) -> None:
        """Show another scene; the angle stays."""
        with self._guard, self.hold_sync():
            self.scene = scene
            self.picture = living_svg(scene)
            self.text = scene.text

    def set_state(self, sync_data: dict[str, Any]) -> None:
        with self._guard:
            if self.ahead:
                self.ahead.receive(sync_data, super().set_state)
            else:
                super().set_state(sync_data)

    def notify_change(self, change: Any) -> None:
        # what an answer changes is told at its end, and not at all where the page has drawn it already
        if self.ahead and change["name"] in self.keys and self.ahead.mutes(change["name"]):
            super(Widget, self).notify_change(change)
        else:
            super().notify_change(change)

    def _hear(self, _widget: Any, content: dict[str, Any], _buffers: Any) -> None:
        with self._guard:
            if content.get("kind") == "use":
                self._use()
            elif self.ahead:
                self.ahead.message(content)

    def _use(self) -> None:
        """The button of the page: the design takes the numbers that are shown."""

    def value(self, word: str) -> float:
        """The number that the readout shows for a quantity, by its word [its unit in the readout]."""
        cells = {cell["word"]: cell for cell in self._numbers()}
        if word not in cells:
            raise ValueError(f"the readout has no quantity {word!r}; it has: {', '.join(cells) or 'none'}")
        return cells[word]["value"]

    @property
    def seen_scene(self) -> Scene:
        """The scene from the side from which it is seen, as the still picture shows it."""
        return turned_over(self.scene) if self.behind and can_turn_over(self.scene) else self.scene

    def _numbers(self) -> list[dict]:
        return [cell for group in self.readout for row in group["rows"] for cell in row["cells"]]

    def __repr__(self) -> str:
        return f"{type(self).__name__}({self.scene.title})"

    def _ipython_display_(self, **_):
        """A still picture first, as an output of its own (for readers without a kernel), then the living one.

        The still picture becomes complete (PNG beside SVG, for places that show no SVG) only after the living
        one is there, so nobody waits for it.
        """
        scene = self.seen_scene
        still = {
            "text/html": still_html(in_picture(svg(scene)), scene.text, scene.width),
            "text/plain": f"[picture] {scene.text}",
        }
        place = {"display_id": f"gearlab-still-{self.model_id}"}
        publish_display_data(still, transient=place)
        data, metadata = self._repr_mimebundle_()  # type: ignore[misc]
        publish_display_data(data, metadata)
        still["image/png"] = base64.b64encode(axes.png(scene)).decode()
        publish_display_data(
            still,
            {"image/png": {"alt": scene.text, "width": int(scene.width)}},
            transient=place,
            update=True,
        )
        self._warm()

    def _warm(self) -> None:
        """What may be worked out once the picture is alive, so that a first touch need not wait for it."""
