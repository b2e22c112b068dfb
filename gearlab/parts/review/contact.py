"""How the teeth of two gears hand over: contact, tips on flanks, and their phase with the keys in place."""

from __future__ import annotations

import math
from collections.abc import Iterator

from .advice import Advised, Way
from .finding import Held, Outcome, Unmade, both, said
from .ledger import Check
from .pair import of_meshes
from .refit import driver_first, longer_or_more_teeth, more_teeth, set_apart, shifted, stands_far
from .standings import Standing

LEAST_CONTACT, WANTED_CONTACT = 1.0, 1.2  # Mott, section 8-4: at least 1.2 (from memory)
#: How far tips on fillets may push the teeth of a ring out of mesh [modules]: less than the usual play.
OFF_FLANKS = 0.02
_MORE_TEETH = "Use more teeth, or longer ones: full depth in place of stub, a smaller pressure angle."


def _contact(standing: Standing) -> Iterator[Outcome]:
    mesh = standing.mesh
    assert mesh is not None
    ratio = mesh.contact_ratio
    if ratio >= WANTED_CONTACT:
        by = "measured on the cut teeth" if "contact_ratio" in mesh.measured else "by formula"
        yield Held(
            standing.where, f"contact ratio, {by}, spacing {standing.spacing.by},", ratio, WANTED_CONTACT
        )
        return
    hardly = ratio >= LEAST_CONTACT
    value, limit = both(ratio, WANTED_CONTACT if hardly else LEAST_CONTACT)
    yield Advised(
        "little-contact",
        "will trouble" if hardly else "will not work",
        standing.where,
        f"the contact ratio is {value}.",
        f"It should be at least {limit}." if hardly else f"It must be above {limit}.",
        "There is hardly anything in reserve when one pair hands over to the next: the motion stutters."
        if hardly
        else "One pair of teeth lets go before the next has taken hold.",
        "Mott, section 8-4 (from memory)" if hardly else "ISO 21771:2007",
        design=standing.design,
        ways=lambda: _more_contact(standing),
        otherwise=_MORE_TEETH,
    )


def _more_contact(standing: Standing) -> Iterator[Iterator[Way] | list[Way]]:
    if stands_far(standing):
        yield set_apart(standing)
    yield longer_or_more_teeth(standing)


def _interference(standing: Standing) -> Iterator[Outcome]:
    mesh = standing.mesh
    assert mesh is not None
    if standing.internal:
        depth, least = mesh.rolling.interference() * standing.scale, OFF_FLANKS * standing.scale
        if depth <= least:
            what = "what tips on the ring's fillets push the teeth out of mesh, rolled on the cut teeth,"
            yield Held(standing.where, what, depth, least, standing.unit, least=False)
            return
    elif not mesh.interference:
        yield Held(standing.where, "the tips stay on the flanks of the mate")
        return
    pinion = min(standing.gears, key=lambda gear: gear.teeth)
    larger, smaller = ("ring", "pinion") if standing.internal else ("larger gear", "smaller one")
    yield Advised(
        "interference",
        "will not work" if not pinion.undercut else "will trouble",
        standing.where,
        f"the tips of the {larger} reach below the {smaller}'s flanks.",
        "Contact must end before the line of action touches the base circle.",
        "The tips dig into the roots and the gears bind.",
        "Shigley, section 13-7",
        design=standing.design,
        ways=lambda: _no_interference(standing),
        otherwise="Use more teeth on the pinion, fewer on the wheel, a larger pressure angle, or a shift.",
    )


def _no_interference(standing: Standing) -> Iterator[Iterator[Way]]:
    yield shifted(standing, min(range(2), key=lambda side: standing.gears[side].teeth))
    yield more_teeth(standing)


# -- phase of the keys ---
def _phase(standing: Standing) -> Iterator[Outcome]:
    design = standing.design
    tables = [design.of(name) for name in driver_first(standing)]
    if not any(table.keyway_depth > 0 or table.keyway_on for table in tables):
        return  # gears on screws are turned as they have to be
    unsaid = [table.name for table in tables if table.keyway_depth > 0 and table.keyway_on is None]
    if unsaid and all(table.keyway_depth > 0 or table.keyway_on for table in tables):
        yield Unmade(
            standing.where,
            "how the keys line up",
            f"the file does not say over what the keyway of {' and '.join(unsaid)} is cut",
            'give keyway_on = "tooth" or "space"',
        )
    elif any(table.keyway_on is None for table in tables):
        yield Held(standing.where, "one of the two is held without a key, and turned as it has to be")
    else:
        yield _keyed(standing)


def _keyed(standing: Standing) -> Outcome:
    """Both on keys: how far the teeth stand off, and whether the play lets them."""
    design, mesh = standing.design, standing.mesh
    assert mesh is not None
    # tooth 0 stands over the keyway, or half a pitch beside it
    angles = [
        design.shaft_of(table.name).key_angle + (0.0 if table.keyway_on == "tooth" else 180.0 / table.teeth)
        for table in (design.of(name) for name in standing.names)
    ]
    wanted = mesh.alignment(angles[0], design.line_angle(*standing.names))
    off, free = math.remainder(angles[1] - wanted, 360.0 / mesh.driven.teeth), mesh.free_window() / 2
    if abs(off) <= free + 1e-6:
        what = "with both keys in place the teeth stand off by"
        return Held(standing.where, what, abs(off), free, "deg", least=False)
    value, limit = both(abs(off), free, "deg")
    return Advised(
        "keys-do-not-line-up",
        "will not work",
        standing.where,
        f"with both keys in place the teeth stand {value} off.",
        f"They are free within {limit}.",
        "Tooth meets tooth: the second gear cannot be pushed on.",
        "geometry of the tooth counts",
        design=design,
        ways=lambda: _other_keyways(standing, off),
        otherwise=f"Cut the keyway of {standing.pair.driven} elsewhere, or leave one gear on a set screw.",
    )


def _other_keyways(standing: Standing, off: float) -> Iterator[list[Way]]:
    """The driven gear's keyway elsewhere, or the shaft's turned by what the teeth are off [deg]."""
    design, driven = standing.design, standing.pair.driven
    space = "space" if design.of(driven).keyway_on == "tooth" else "tooth"
    yield [Way(f"Cut the keyway of {driven} over a {space}", {"gear": {driven: {"keyway_on": space}}})]
    shaft = design.shaft_of(standing.names[1])
    turned = round((shaft.key_angle - off) % 360, 2)
    says = f"Put the keyway of shaft {shaft.name} at {said(turned, 'deg')}"
    yield [Way(says, {"shaft": {shaft.name: {"key_angle": turned}}})]


CHECKS = (
    Check(
        "contact",
        "Does a pair of teeth take hold before the last lets go?",
        ("little-contact",),
        of_meshes("contact", _contact),
    ),
    Check(
        "interference",
        "Do the tips stay on the flanks?",
        ("interference",),
        of_meshes("interference", _interference),
    ),
    Check(
        "phase of keys",
        "Do the teeth line up with the keys in place?",
        ("keys-do-not-line-up",),
        of_meshes("how the keys line up", _phase),
    ),
)
