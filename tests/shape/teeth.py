"""Teeth to try: the tooth systems as racks, other pressure angles, and random gears and rings that exist."""

import math

from hypothesis import assume
from hypothesis import strategies as st

from gearlab.shape import Rack, ToothForm
from gearlab.shape.internal import InternalToothForm

# Source of the proportions: ISO 53:1998 profile A (full depth 20); stub and 25 degrees after AGMA and
# common practice; 14.5 degrees after the Brown & Sharpe system (from memory).
SYSTEMS = {
    "full depth 20": Rack(math.radians(20), 1.0, 1.25, 0.38),
    "full depth 14.5": Rack(math.radians(14.5), 1.0, 1.157, 0.209),
    "full depth 25": Rack(math.radians(25), 1.0, 1.25, 0.30),
    "stub 20": Rack(math.radians(20), 0.8, 1.0, 0.30),
    "full round 20": Rack(math.radians(20), 1.0, 1.4, Rack(math.radians(20), 1.0, 1.4, 0.0).full_round()),
    "sharp tool 20": Rack(math.radians(20), 1.0, 1.25, 0.0),
}
STANDARD = SYSTEMS["full depth 20"]
RACKS = list(SYSTEMS.values())
USUAL = RACKS[:4]  # the systems in use, without the two extremes of the tip round


def at_angle(degrees, roundness=1.0):
    """A full-depth rack at any pressure angle [deg], its tip round a share [-] of 0.38 or the full round,
    whichever is smaller.
    """
    angle = math.radians(degrees)
    return Rack(angle, 1.0, 1.25, roundness * min(0.38, Rack(angle, 1.0, 1.25, 0.0).full_round()))


counts = st.one_of(st.integers(6, 40), st.integers(6, 500))
racks = st.sampled_from(RACKS)
any_racks = st.one_of(racks, st.builds(at_angle, st.floats(14.5, 30.0), st.floats(0.3, 1.0)))
shifts = st.floats(-0.6, 1.0)


def existing(kind, *given):
    """A tooth form, or another example where no tooth is left."""
    try:
        return kind(*given)
    except ValueError:
        assume(False)


@st.composite
def forms(draw, teeth=counts, rack=any_racks, shift=shifts):
    """Teeth that exist, over counts, systems, angles, shifts, thinning and tip shortening."""
    return existing(
        ToothForm,
        draw(teeth),
        draw(rack),
        draw(shift),
        draw(st.sampled_from((0.0, 0.05))),
        draw(st.sampled_from((0.0, 0.1))),
    )


@st.composite
def rings(draw, teeth=st.integers(20, 300), rack=any_racks, shift=st.floats(-0.3, 0.6)):
    """Rings that exist, over counts, systems, angles, shifts, thinning and tip shortening."""
    return existing(
        InternalToothForm,
        draw(teeth),
        draw(rack),
        draw(shift),
        draw(st.sampled_from((0.0, 0.05))),
        draw(st.sampled_from((0.0, 0.2))),
    )
