"""The small steps that lead to those formulas that are a jump for a reader: one way a formula."""

from sympy import Integer, asin, cos, pi, sin, sqrt, tan

from ..functions import inv, remainder
from ..smallsteps import Small, Way

# A row is read as a row.
# fmt: off
OVERLAP = Way((
    Small("Triangle 1 has its corners at the driver's centre, at its tangent point, and where its outside circle crosses the line of action. Base radius and line meet at a right angle, and the "
          "outside radius is the long side.", lambda q: q.driver_piece, lambda q: sqrt(q.driver_outside_radius**2 - q.driver_base_radius**2), "Where is there a right triangle at the driver?"),
    Small("Triangle 2 is the same at the driven gear.", lambda q: q.driven_piece, lambda q: sqrt(q.driven_outside_radius**2 - q.driven_base_radius**2), "And at the driven gear?"),
    Small("From each tangent point to the pitch point the line is base radius times tangent of the pressure angle: both together are the line between the tangent points.",
          lambda q: q.tangent_point_distance, lambda q: (q.driver_base_radius + q.driven_base_radius) * tan(q.operating_pressure_angle), "How long is the line between the tangent points?"),
    Small("The two pieces overlap. Together they are longer than the line between the tangent points: what is counted twice is the path of contact.",
          lambda q: q.length_of_action, lambda q: q.driver_piece + q.driven_piece - q.tangent_point_distance, "What do the two triangles share?"),
), replaces=("length_of_approach", "length_of_recess"))


def _half_path(side: str, word: str) -> Way:
    def of(q, base):
        return getattr(q, f"{side}_{base}")

    return Way((
        Small("Base radius, outside radius and a piece of the line of action make a right triangle.", lambda q: of(q, "piece"), lambda q: sqrt(of(q, "outside_radius")**2 - of(q, "base_radius")**2),
              "Which right triangle has the outside radius in it?"),
        Small("A second right triangle reaches only to the pitch point; the angle at the centre is the pressure angle.", lambda q: of(q, "line"),
              lambda q: of(q, "base_radius") * tan(q.operating_pressure_angle)),
        Small("What the first has more than the second lies on the far side of the pitch point.", lambda q: getattr(q, word), lambda q: of(q, "piece") - of(q, "line")),
    ))


RECESS, APPROACH = _half_path("driver", "length_of_recess"), _half_path("driven", "length_of_approach")
BASE_CIRCLE = Way((
    Small("Centre, tangent point and pitch point are the corners of a right triangle: the pitch radius is its long side, the base radius its near one.",
          lambda q: cos(q.pressure_angle), lambda q: q.base_radius / q.pitch_radius, "Which right triangle has the pressure angle in it?"),
    Small("Both radii are halves of diameters.", lambda q: q.pitch_radius, lambda q: q.pitch_diameter / 2),
    Small("The other one:", lambda q: q.base_radius, lambda q: q.base_diameter / 2),
    Small("The halves cancel.", lambda q: cos(q.pressure_angle), lambda q: q.base_diameter / q.pitch_diameter),
))
BASE_PITCH = Way((
    Small("The pitch circle holds as many circular pitches as there are teeth.", lambda q: q.teeth * q.circular_pitch, lambda q: pi * q.pitch_diameter),
    Small("The base circle holds as many base pitches.", lambda q: q.teeth * q.base_pitch, lambda q: pi * q.base_diameter),
    Small("Divide the second by the first: the teeth cancel.", lambda q: q.base_pitch / q.circular_pitch, lambda q: q.base_diameter / q.pitch_diameter),
    Small("The base circle is the pitch circle times the cosine.", lambda q: q.base_diameter / q.pitch_diameter, lambda q: cos(q.pressure_angle)),
), takes=("teeth",))
POINT = Way((
    Small("The free string is as long as the arc it has left: radius times angle, in radians.", lambda q: q.free_string, lambda q: q.base_radius * q.roll_angle, "How long is the free string?"),
    Small("String and base radius meet at a right angle.", lambda q: q.point_radius**2, lambda q: q.base_radius**2 + q.free_string**2, "Which theorem holds at a right angle?"),
    Small("Substitute the string and take the root.", lambda q: q.point_radius, lambda q: sqrt(q.base_radius**2 + (q.base_radius * q.roll_angle) ** 2)),
))
ROLL_AT_PITCH = Way((
    Small("With its end on the pitch circle, the string is the far side of a right triangle that has the pressure angle at the centre.",
          lambda q: q.tangent_line, lambda q: q.base_radius * tan(q.pressure_angle), "Which triangle has the string in it?"),
    Small("The same string is as long as the arc it has left.", lambda q: q.tangent_line, lambda q: q.base_radius * q.pitch_roll_angle, "And which arc is as long as the string?"),
    Small("Both are equal, and the base radius cancels.", lambda q: q.pitch_roll_angle, lambda q: tan(q.pressure_angle)),
), takes=("base_radius",))
INVOLUTE = Way((
    *ROLL_AT_PITCH.steps,
    Small("The roll angle reaches from where the flank starts to where the string leaves the base circle. The last part of it, from the pitch point on, is the pressure angle; the rest is what we look for.",
          lambda q: q.pitch_roll_angle, lambda q: q.involute_angle + q.pressure_angle, "What lies between the start of the flank and the pitch point?"),
    Small("Tangent less angle, in radians: this difference has a name, the involute function inv.", lambda q: q.involute_angle, lambda q: tan(q.pressure_angle) - q.pressure_angle),
), takes=("base_radius",))
_TANGENT = (
    Small("The tangent point lies this far from the pitch point, along the line of action: the far side of a right triangle whose long side is the pitch radius.",
          lambda q: q.tangent_line, lambda q: q.pitch_radius * sin(q.pressure_angle), "How far is the tangent point from the pitch point?"),
    Small("The line leans by the pressure angle, so the depth below the pitch circle is one sine more: r sin² in all.", lambda q: q.tangent_depth,
          lambda q: q.tangent_line * sin(q.pressure_angle), "How deep is that?"),
)
RACK_LIMIT = Way((
    Small("The tangent point lies this far from the pitch point, along the line of action: the far side of a right triangle whose long side is the pitch radius.",
          lambda q: q.tangent_line, lambda q: q.pinion_radius * sin(q.pressure_angle), "How far is the tangent point from the pitch point?"),
    Small("The line leans by the pressure angle, so the depth below the pitch circle is one sine more: r sin² in all.", lambda q: q.tangent_depth,
          lambda q: q.tangent_line * sin(q.pressure_angle), "How deep is that?"),
    Small("The tip line of a rack, one addendum deep, may just reach it.", lambda q: q.tangent_depth, lambda q: q.addendum_factor * q.module, "How far may the tip line reach?"),
    Small("The pitch radius is half of module times teeth.", lambda q: q.pinion_radius, lambda q: q.module * q.least_teeth_with_rack / 2),
    Small("Put it together; the module cancels.", lambda q: q.least_teeth_with_rack * sin(q.pressure_angle) ** 2 / 2, lambda q: q.addendum_factor),
), takes=("module",))
RACK_SHIFT = Way((
    *_TANGENT,
    Small("Moved outwards by x modules, the tip line is that much less deep, and may just reach the tangent point.", lambda q: q.tangent_depth,
          lambda q: (q.addendum_factor - q.least_shift_for_rack) * q.module, "How deep is the tip line of a rack that is moved out?"),
    Small("The pitch radius is half of module times teeth; the module cancels.", lambda q: q.teeth * sin(q.pressure_angle) ** 2 / 2,
          lambda q: q.addendum_factor - q.least_shift_for_rack),
), takes=("module",))
BACKLASH = Way((
    Small("The operating pitch circles divide the centre distance in the ratio of the teeth.", lambda q: q.driver_operating_pitch_diameter,
          lambda q: 2 * q.centre_distance * q.driver_teeth / (q.driver_teeth + q.driven_teeth), "How large are the circles that roll on each other now?"),
    Small("The same for the driven gear.", lambda q: q.driven_operating_pitch_diameter, lambda q: 2 * q.centre_distance * q.driven_teeth / (q.driver_teeth + q.driven_teeth)),
    Small("There, teeth of both gears follow one another at this pitch.", lambda q: q.operating_circular_pitch, lambda q: 2 * pi * q.centre_distance / (q.driver_teeth + q.driven_teeth)),
    Small("A full tooth takes half a pitch on its pitch circle, which is an angle of pi over the count; going out it loses the difference of the involute functions on each flank.",
          lambda q: q.driver_operating_thickness, lambda q: q.driver_operating_pitch_diameter * (pi / (2 * q.driver_teeth) + inv(q.pressure_angle) - inv(q.operating_pressure_angle)),
          "How thick is a tooth of the driver there?"),
    Small("The same for the driven gear.", lambda q: q.driven_operating_thickness,
          lambda q: q.driven_operating_pitch_diameter * (pi / (2 * q.driven_teeth) + inv(q.pressure_angle) - inv(q.operating_pressure_angle))),
    Small("Add them. The halves make one whole pitch, and both diameters make twice the centre distance.", lambda q: q.both_thicknesses,
          lambda q: q.operating_circular_pitch - 2 * q.centre_distance * (inv(q.operating_pressure_angle) - inv(q.pressure_angle)), "How much of the pitch do both teeth fill?"),
    Small("What they do not fill is the backlash.", lambda q: q.backlash, lambda q: q.operating_circular_pitch - q.both_thicknesses),
), takes=("driver_teeth", "driven_teeth"))
APART = Way((
    Small("At the reference distance both base radii together are the distance times the cosine of the pressure angle.", lambda q: q.both_base_radii,
          lambda q: q.reference_centre_distance * cos(q.pressure_angle), "What does not change when the shafts move apart?"),
    Small("At the new distance the same base circles give the same sum, with the new angle.", lambda q: q.both_base_radii, lambda q: q.centre_distance * cos(q.operating_pressure_angle)),
    Small("Both are equal.", lambda q: q.centre_distance * cos(q.operating_pressure_angle), lambda q: q.reference_centre_distance * cos(q.pressure_angle)),
))
SHIFTED = Way((
    Small("On the operating pitch circles each tooth has lost the difference of the involute functions.", lambda q: q.inv_difference,
          lambda q: inv(q.operating_pressure_angle) - inv(q.pressure_angle)),
    Small("Without backlash both teeth fill one pitch. As an angle times its count, a tooth is half of pi, more by its shift, less by what it has lost; one pitch is pi.",
          lambda q: pi / 2 + 2 * q.driver_profile_shift * tan(q.pressure_angle) - q.driver_teeth * q.inv_difference
          + (pi / 2 + 2 * q.driven_profile_shift * tan(q.pressure_angle) - q.driven_teeth * q.inv_difference), lambda q: pi, "What do both teeth fill when there is no backlash?"),
    Small("Gather the terms.", lambda q: (q.driver_teeth + q.driven_teeth) * q.inv_difference, lambda q: 2 * tan(q.pressure_angle) * (q.driver_profile_shift + q.driven_profile_shift)),
))
QUICK = Way((
    Small("Think of the tooth as a rack's: moved out by the opening, its leaning flank moves back by the opening times the tangent.", lambda q: q.flank_retreat,
          lambda q: q.distance_opening * tan(q.pressure_angle), "By how much does one flank move back?"),
    Small("A tooth has two flanks.", lambda q: q.quick_backlash, lambda q: 2 * q.flank_retreat),
))
CENTRES = Way((
    Small("The pitch circles touch at the pitch point, on the line between the shafts: one radius on each side of it.", lambda q: q.reference_centre_distance,
          lambda q: q.driver_pitch_radius + q.driven_pitch_radius, "What do the two pitch circles do at the pitch point?"),
    Small("A radius is half a diameter.", lambda q: q.driver_pitch_radius, lambda q: q.driver_pitch_diameter / 2),
    Small("So is the other one.", lambda q: q.driven_pitch_radius, lambda q: q.driven_pitch_diameter / 2),
))
MARKS = Way((
    Small("The driver's marked tooth is this far past the line of centres.", lambda q: q.driver_past, lambda q: q.driver_mark_angle - q.line_angle, "How far is the driver turned past the line?"),
    Small("If the driver's tooth pointed along the line, a space of the driven gear would face it, half a turn round; the nearest tooth is half a pitch to one side.",
          lambda q: q.driven_home, lambda q: q.line_angle + q.full_turn / 2 + q.driven_pitch_angle / 2, "Where must a space of the driven gear be?"),
    Small("Turning the driver on turns the driven gear back, by the ratio; whole pitches make no difference.", lambda q: q.driven_mark_angle,
          lambda q: remainder(q.driven_home - q.driver_past / q.ratio, q.driven_pitch_angle)),
))
CONES = Way((
    Small("Both cones have their apex in one point and the same slant length; so the radii are as the sines of the cone angles.", lambda q: sin(q.driven_cone_angle),
          lambda q: q.ratio * sin(q.driver_cone_angle), "What do the two cones share?"),
    Small("Together the cone angles are the shaft angle.", lambda q: sin(q.shaft_angle - q.driver_cone_angle), lambda q: q.ratio * sin(q.driver_cone_angle)),
    Small("Expand the sine of the difference.", lambda q: sin(q.shaft_angle) * cos(q.driver_cone_angle) - cos(q.shaft_angle) * sin(q.driver_cone_angle),
          lambda q: q.ratio * sin(q.driver_cone_angle)),
    Small("Divide by the cosine of the cone angle.", lambda q: tan(q.driver_cone_angle), lambda q: sin(q.shaft_angle) / (q.ratio + cos(q.shaft_angle))),
))
CARRIER = Way((
    Small("Sit down on the carrier: everything else turns by its own speed less yours. The sun:", lambda q: q.sun_seen, lambda q: q.sun_speed - q.carrier_speed, "What do you see from the carrier?"),
    Small("And the ring:", lambda q: q.ring_seen, lambda q: q.ring_speed - q.carrier_speed),
    Small("From there the planets are plain idlers: sun and ring turn opposite ways, with speeds in the inverse ratio of their teeth.", lambda q: q.ring_teeth * q.ring_seen, lambda q: -q.sun_teeth * q.sun_seen,
          "What are the planets, seen from the carrier?"),
    Small("Put the first two in.", lambda q: q.ring_teeth * (q.ring_speed - q.carrier_speed), lambda q: -q.sun_teeth * (q.sun_speed - q.carrier_speed)),
    Small("Gather what has the carrier in it on one side.", lambda q: (q.sun_teeth + q.ring_teeth) * q.carrier_speed, lambda q: q.sun_teeth * q.sun_speed + q.ring_teeth * q.ring_speed),
))
RING = Way((
    Small("Going out from the middle: the ring's pitch radius is the sun's plus one planet's pitch diameter.", lambda q: q.module * q.ring_teeth / 2,
          lambda q: q.module * q.sun_teeth / 2 + q.module * q.planet_teeth, "What is between the middle and the ring?"),
    Small("The module cancels; multiply by two.", lambda q: q.ring_teeth, lambda q: q.sun_teeth + 2 * q.planet_teeth),
), takes=("module",))


def _forces(angle: str) -> tuple[Small, ...]:
    return (
        Small("The flanks press along the line of action. Across the line of centres, the part that turns the gear is the near side of a right triangle.", lambda q: q.tangential_force,
              lambda q: q.normal_force * cos(getattr(q, angle)), "Which part of the push turns the gear?"),
        Small("The part along the line of centres is the far side.", lambda q: q.separating_force, lambda q: q.normal_force * sin(getattr(q, angle)), "And which part pushes the shafts apart?"),
        Small("Divide the second by the first: sine over cosine is the tangent.", lambda q: q.separating_force / q.tangential_force, lambda q: tan(getattr(q, angle))),
    )


SEPARATING, NORMAL = Way(_forces("pressure_angle")), Way(_forces("pressure_angle")[:1])
SEPARATING_OPERATING, NORMAL_OPERATING = Way(_forces("operating_pressure_angle")), Way(_forces("operating_pressure_angle")[:1])
BENDING = Way((
    Small("A beam held at one end: bending moment over section modulus. The moment is force times height, the modulus a sixth of width times thickness squared.", lambda q: q.bending_stress,
          lambda q: 6 * q.tangential_force * q.beam_height / (q.face_width * q.beam_thickness**2), "What is the stress in a beam held at one end?"),
    Small("Height and thickness grow with the module; what is left of them is one number of the tooth's shape, the form factor.", lambda q: q.form_factor,
          lambda q: q.beam_thickness**2 / (6 * q.beam_height * q.module)),
    Small("Put it in.", lambda q: q.bending_stress, lambda q: q.tangential_force / (q.face_width * q.module * q.form_factor)),
), takes=("beam_height",))
IDLER_PLACE = Way((
    Small("The idler's shaft is on a circle round the first shaft.", lambda q: q.idler_x**2 + q.idler_y**2, lambda q: q.first_centre_distance**2, "On which circle must the idler be?"),
    Small("And on a circle round the last one.", lambda q: (q.shaft_spacing - q.idler_x) ** 2 + q.idler_y**2, lambda q: q.second_centre_distance**2),
    Small("Take the second from the first: the height cancels.", lambda q: 2 * q.shaft_spacing * q.idler_x - q.shaft_spacing**2,
          lambda q: q.first_centre_distance**2 - q.second_centre_distance**2),
))
IDLER_ANGLE = Way((
    Small("Three shafts, three known sides: the cosine rule for the side opposite the angle.", lambda q: q.second_centre_distance**2,
          lambda q: q.first_centre_distance**2 + q.shaft_spacing**2 - 2 * q.first_centre_distance * q.shaft_spacing * cos(q.idler_angle), "Which rule holds in any triangle?"),
))
REVERTED = Way((
    Small("To come back to the first axis, both stages must have the same centre distance.", lambda q: q.first_stage_module * (q.first_teeth + q.second_teeth) / 2,
          lambda q: q.second_stage_module * (q.third_teeth + q.fourth_teeth) / 2, "What do the two stages share?"),
), takes=("first_stage_module", "second_stage_module"))
SPAN = Way((
    Small("Along the jaws, teeth follow one another at the base pitch.", lambda q: q.base_pitch, lambda q: pi * q.module * cos(q.pressure_angle), "How far apart are flanks along the jaws?"),
    Small("One more tooth is measured, on the base circle: on the pitch circle it is half a pitch, and going in it gains the involute function on each flank.", lambda q: q.base_thickness,
          lambda q: q.module * cos(q.pressure_angle) * (pi / 2 + q.teeth * inv(q.pressure_angle)) + 2 * q.profile_shift * q.module * sin(q.pressure_angle)
          - q.tooth_thinning * cos(q.pressure_angle)),
    Small("k - 1 base pitches, and that tooth.", lambda q: q.span, lambda q: (q.span_teeth - Integer(1)) * q.base_pitch + q.base_thickness, "How many of each are between the jaws?"),
))
VENT = Way((
    Small("The hinge and the two places of the joint are the corners of a triangle with two equal sides. A line from the hinge to the middle of the travel halves it into two right triangles.",
          lambda q: sin(q.opening_angle / 2), lambda q: q.rack_travel / 2 / q.joint_distance, "Which right triangle has half the opening angle in it?"),
    Small("Undo the sine, and take the angle twice.", lambda q: q.opening_angle, lambda q: 2 * asin(q.rack_travel / (2 * q.joint_distance))),
))
# fmt: on
