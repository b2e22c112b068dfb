"""How the teeth of two gears hand over: contact, tips on flanks, and their phase with the keys in place."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..design import Design
from .advice import Way
from .finding import Held, Outcome, said
from .ledger import Checks
from .pair import meshes
from .refit import longer_or_more_teeth, more_teeth, set_apart, shifted, stands_far
from .sentences import finding, unmade
from .standings import Standing

LEAST_CONTACT, WANTED_CONTACT = 1.0, 1.2  # Mott, section 8-4: at least 1.2 (from memory)
#: How far tips on fillets may push the teeth of a ring out of mesh [modules]: less than the usual play.
OFF_FLANKS = 0.02
CHECKS = Checks()


@CHECKS.row(
    "contact",
    "Does a pair of teeth take hold before the last lets go?",
    "little-contact",
    of=meshes("contact"),
)
def _contact(design: Design, standing: Standing) -> Outcome:
    mesh, where = standing.mesh, standing.where
    assert mesh is not None
    ratio = mesh.contact_ratio
    if ratio >= WANTED_CONTACT:
        by = "measured on the cut teeth" if "contact_ratio" in mesh.measured else "by formula"
        what = f"contact ratio, {by}, spacing {standing.spacing.by},"
        return Held(where, what, ratio, WANTED_CONTACT)
    row, limit = ("little-contact", LEAST_CONTACT)
    if ratio >= LEAST_CONTACT:
        row, limit = "little-contact, hardly enough", WANTED_CONTACT
    return finding(row, design, where, lambda: _more_contact(standing), compared=(ratio, limit), unit="")


def _more_contact(standing: Standing) -> Iterator[Iterator[Way] | list[Way]]:
    if stands_far(standing):
        yield set_apart(standing)
    yield longer_or_more_teeth(standing)


@CHECKS.row("interference", "Do the tips stay on the flanks?", "interference", of=meshes("interference"))
def _interference(design: Design, standing: Standing) -> Outcome:
    mesh, where = standing.mesh, standing.where
    assert mesh is not None
    if standing.internal:
        depth, least = mesh.rolling.interference() * standing.scale, OFF_FLANKS * standing.scale
        if depth <= least:
            what = "what tips on the ring's fillets push the teeth out of mesh, rolled on the cut teeth,"
            return Held(where, what, depth, least, standing.unit, least=False)
    elif not mesh.interference:
        return Held(where, "the tips stay on the flanks of the mate")
    pinion = min(standing.gears, key=lambda gear: gear.teeth)
    larger, smaller = ("ring", "pinion") if standing.internal else ("larger gear", "smaller one")
    return finding(
        "interference, undercut" if pinion.undercut else "interference",
        design,
        where,
        lambda: _no_interference(standing),
        larger=larger,
        smaller=smaller,
    )


def _no_interference(standing: Standing) -> Iterator[Iterator[Way]]:
    yield shifted(standing, min(range(2), key=lambda side: standing.gears[side].teeth))
    yield more_teeth(standing)


# -- phase of the keys -------------------------------------------------------------------------------------
@CHECKS.row(
    "phase of keys",
    "Do the teeth line up with the keys in place?",
    "keys-do-not-line-up",
    of=meshes("how the keys line up"),
)
def _phase(design: Design, standing: Standing) -> Outcome | None:
    where, mesh = standing.where, standing.mesh
    assert mesh is not None
    tables = [design.of(name) for name in standing.pair.gears]
    keyed = [table.keyway_depth > 0 or bool(table.keyway_on) for table in tables]
    if not any(keyed):
        return None  # gears on screws are turned as they have to be
    unsaid = [table.name for table in tables if table.keyway_depth > 0 and table.keyway_on is None]
    if unsaid and all(keyed):
        return unmade("keyway_on", design, where, names=" and ".join(unsaid))
    if any(table.keyway_on is None for table in tables):
        return Held(where, "one of the two is held without a key, and turned as it has to be")
    # tooth 0 stands over the keyway, or half a pitch beside it
    angles = [
        design.shaft_of(table.name).key_angle + (0.0 if table.keyway_on == "tooth" else 180.0 / table.teeth)
        for table in (design.of(name) for name in standing.names)
    ]
    wanted = mesh.alignment(angles[0], design.line_angle(*standing.names))
    off, free = math.remainder(angles[1] - wanted, 360.0 / mesh.driven.teeth), mesh.free_window() / 2
    if abs(off) <= free + 1e-6:
        what = "with both keys in place the teeth are off by"
        return Held(where, what, abs(off), free, "deg", least=False)
    return finding(
        "keys-do-not-line-up",
        design,
        where,
        lambda: _other_keyways(standing, off),
        compared=(abs(off), free),
        unit="deg",
        driven=standing.pair.driven,
    )


def _other_keyways(standing: Standing, off: float) -> Iterator[list[Way]]:
    """The driven gear's keyway elsewhere, or the shaft's turned by what the teeth are off [deg]."""
    design, driven = standing.design, standing.pair.driven
    other = "space" if design.of(driven).keyway_on == "tooth" else "tooth"
    yield [Way(f"Cut the keyway of {driven} over a {other}", {"gear": {driven: {"keyway_on": other}}})]
    shaft = design.shaft_of(standing.names[1])
    turned = round((shaft.key_angle - off) % 360, 2)
    says = f"Put the keyway of shaft {shaft.name} at {said(turned, 'deg')}"
    yield [Way(says, {"shaft": {shaft.name: {"key_angle": turned}}})]
