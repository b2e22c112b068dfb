"""What each quantity is in an everyday sentence, for the glossary: what one would say to somebody at the bench.

A quantity that no formula gives stands here, and so does each principal term of the subject. Of the others the
formula's own sentence is told (``Relation.says``), which says what the quantity is made of.
"""

from __future__ import annotations

from functools import cache

from .quantities import QUANTITIES, quantity, split_side
from .relations import ALL

# word | sentence
EVERYDAY_ROWS = """
teeth | How many teeth are counted once round the gear.
pitch_diameter | The gear as a smooth disc: two such discs, rolling on each other, would turn like the gears.
base_diameter | The drum from which the involute unwinds like a taut string; inside it there is no involute.
outside_diameter | What a caliper measures over the tips; the blank is turned to it.
root_diameter | The circle at the bottom of the tooth spaces; below it the rim begins.
pitch_radius | Half the pitch diameter: the gear's part of the centre distance.
base_radius | Half the base diameter: the lever on which the tooth force acts.
outside_radius | From the centre of the gear to a tip.
root_radius | From the centre of the gear to the bottom of a tooth space.
profile_shift | How far the cutter was moved outwards when the gear was cut, in modules; inwards is negative.
tooth_thinning | By how much each tooth was cut thinner, so that the teeth have backlash.
tip_shortening | By how much the tips were turned off, so that they clear the other gear's roots.
speed | Turns a minute; counter-clockwise is positive, seen from the gear side of the plate.
turns | How many times the gear has gone round.
angle | How far the gear has been turned.
angular_speed | The speed as an angle in each second.
span_teeth | How many teeth the jaws of the caliper take between them.
span | What the flat jaws of a caliper read over some teeth; it tells the thickness of the teeth.
pin_diameter | The diameter of the round pin that is laid into a tooth space.
over_pins | What the caliper reads over two pins laid into opposite spaces.
diametral_pitch | Teeth for each inch of pitch diameter: the larger the number, the smaller the teeth.
module | Millimetres of pitch diameter for each tooth: the larger the number, the larger the teeth.
circular_pitch | From a tooth to the next one, measured along the pitch circle.
base_pitch | From a flank to the next one, measured along the line of action; gears mesh only where it is equal.
pressure_angle | How far the flank leans where it crosses the pitch circle; it is cut into the tooth and stays.
addendum | How far a tooth projects beyond the pitch circle.
dedendum | How deep a tooth space goes below the pitch circle.
whole_depth | From the tip of a tooth to the bottom of its space.
working_depth | How deep two gears reach into each other.
clearance | The gap between the tips of one gear and the roots of the other.
tooth_thickness | How thick a tooth is, measured along the pitch circle.
tooth_space | How wide the gap between two teeth is, measured along the pitch circle.
addendum_factor | The addendum in modules, as the tooth system states it: 1 for full-depth teeth.
dedendum_factor | The dedendum in modules, as the tooth system states it: 1.25 for most full-depth teeth.
extra_dedendum | A little more depth that the tooth system adds to fine teeth, so that dirt has room.
rack_tip_radius | How round the tips of the cutter are, in modules; they make the fillets at the tooth roots.
pitches_counted | How many pitches lie within the length that was measured.
mate_diametral_pitch | The diametral pitch of the gear that is tried against this one.
centre_distance | From the centre of one shaft to the centre of the other, as the gears are mounted.
reference_centre_distance | The centre distance at which the two pitch circles just touch.
ratio | How many times the driver turns for one turn of the driven gear.
operating_pressure_angle | The pressure angle at which two gears really run; it opens when the shafts are moved apart.
backlash | How far one gear can be rocked while the other is held, measured along the operating pitch circle.
length_of_action | How long the straight path is on which two teeth touch, from the first contact to the last.
length_of_approach | The part of the path of contact before the pitch point.
length_of_recess | The part of the path of contact after the pitch point.
contact_ratio | How many pairs of teeth touch, on average; below 1 the drive would knock.
hole_pin_1 | The diameter of the gauge pin in the first hole.
hole_pin_2 | The diameter of the gauge pin in the second hole.
hole_spacing | From the centre of one drilled hole to the centre of the other.
duration | How long the gears turn.
pitch_line_speed | How fast the teeth go past: the speed of a point on the pitch circle.
tangential_force | The part of the tooth force that turns the wheel.
separating_force | The part of the tooth force that pushes the shafts apart; it turns nothing.
line_angle | Which way one looks from the driver's shaft to the driven gear's: 0 to the right, 90 degrees upwards.
driver_mark_angle | Where the marked tooth of the driver is: 0 to the right, 90 degrees upwards.
wanted_ratio | The ratio that the task asks for; whole numbers of teeth may miss it a little.
roll_angle | How far the string has been unwound from the base circle when it reaches this point of the flank.
other_pressure_angle | The pressure angle of the tooth system that this gear is compared with.
span_shortfall | By how much the caliper reads less over the teeth than the nominal span.
bore_offset | How far the bore is from the true centre of the gear: half of the run-out.
plate_height | How high the plate is, from its lower edge to its upper one.
edge_margin | How much plate has to be left between the tips of a gear and the edge.
first_stage_module | The module of the two gears nearest to the crank.
second_stage_module | The module of the two gears of the second stage.
shaft_spacing | From the centre of the first shaft to the centre of the last one.
gears_in_row | How many gears are in the row, each in mesh with the next.
mesh_tangential_force | The force that turns, at each of the meshes.
first_torque | How hard the first shaft is twisted.
mesh_efficiency | The share of the power that one mesh hands on; the rest becomes heat.
cut_width | How much the beam or cutter takes away along its line.
drawn_thickness | The thickness of the tooth in the drawing, before the cut takes its share.
drawn_bore | The bore in the drawing, before the cut takes its share.
wanted_backlash | The backlash that the task asks for.
hole_error | How far each hole may be off, towards the other shaft or away from it.
nominal_distance | The centre distance on the drawing, before any tolerance.
design_backlash | The backlash at the nominal sizes, before any tolerance.
profile_angle | The pressure angle of the teeth, in a sum of tolerances.
hole_upper | How much larger than its nominal size the hole may be at most.
hole_lower | How much larger than its nominal size the hole has to be at least; negative if it may be smaller.
shaft_upper | How much larger than its nominal size the shaft may be at most; negative if it has to be smaller.
shaft_lower | The deviation of the thinnest shaft that is still accepted.
expansion | By what share of its length the plate grows for each kelvin.
warming | By how much the plate is warmer than when it was measured.
contribution_1 | What the first cause adds to the backlash, or takes from it.
contribution_2 | What the second cause adds to the backlash, or takes from it.
contribution_3 | What the third cause adds to the backlash, or takes from it.
plate_length | How long the plate is, from its left edge to its right one.
hole_y | How high the first hole is above the lower edge.
hole_diameter | The diameter of the hole in the plate.
edge_distance | From the centre of the hole to the nearest edge of the plate.
check_line | The line on the drawing that is measured on the print to see whether its size is true.
check_line_measured | What the ruler reads on that line of the print.
behind_plate | How much of the shaft projects behind the plate.
plate_thickness | How thick the plate is.
axial_gap | The free space between the plate and the gear, along the shaft.
overall_length | The whole length of the gear along its shaft: teeth and hub.
face_width | How long the teeth are, along the shaft.
end_length | How much of the shaft projects beyond the gear.
stock_step | Shafts are bought or sawn in steps of this length.
other_overall_length | The whole length of the other gear along its shaft.
other_face_width | How long the teeth of the other gear are, along the shaft.
shaft_force | The force with which the teeth press on the shaft.
hub_diameter | The diameter of the collar that holds the gear on its shaft.
bore_diameter | The diameter of the hole through the gear, into which the shaft fits.
hub_room | How much has to stay free between the hub and the roots of the teeth.
keyway_depth | How deep the groove for the key goes into the hub.
flat_depth | How much was filed off the shaft, so that the set screw has a flat to sit on.
screw_diameter | The outside diameter of the set screw's thread.
screw_pitch | How far the screw goes forwards in one turn.
thread_length | How long the thread is where it holds fully.
runout_pitches | How many threads at the end of the tap are not cut fully.
drill_depth | How deep the hole is drilled from the surface of the hub.
shaft_torque | How hard the shaft is twisted.
key_width | How wide the key is.
key_height | How high the key is.
key_length | How long the key is.
holding_force | The force along the shaft's surface at which the set screw begins to slip.
driver_torque | How hard the driver is twisted.
driven_torque | How hard the driven gear twists its shaft.
efficiency | The share of the power that the mesh hands on; the rest becomes heat.
form_factor | How well the shape of the tooth withstands bending; it is small for gears with few teeth.
pitch_speed | How fast the teeth go past, whichever way they turn.
speed_constant | A number in the speed factor that tells how well the gears were cut.
allowable_stress | The stress that the material can withstand for as long as it is used.
size_factor | How many times larger the teeth are made.
pinion_torque | How hard the pinion is twisted.
rack_pitch_height | From the back of the rack up to its pitch line.
spare_teeth | How many teeth of the rack have to be left at each end of its travel.
pinion_side | Whether the pinion is above the rack or below it; that settles which way the rack goes.
shaft_angle | The angle between the two shafts of a bevel pair; mostly a right angle.
sun_teeth | How many teeth the gear in the middle has.
planet_teeth | How many teeth each planet has.
planets | How many planets share the load.
sun_speed | Turns a minute of the gear in the middle.
sun_torque | How hard the gear in the middle is twisted.
rack_travel | How far the rack goes.
vent_pinion_teeth | How many teeth there are on the pinion that pushes the rack of the vent.
crank_speed | How many turns a minute somebody gives the crank.
meshes | How many meshes there are between the crank and the rack.
crank_radius | From the shaft to the handle: the lever of the hand.
joint_distance | From the hinge of the vent to the joint at which the rack pushes.
gust_pressure | How hard a gust presses on each square of the vent panel.
panel_width | How wide the vent panel is, along its hinge.
panel_length | From the hinge of the vent panel to its free edge.
design_force | The rack force for which the drive is made.
first_central_teeth | How many teeth the first of the two central gears has.
first_planet_teeth | How many teeth there are on the planet that meets the first central gear.
inner_planet_teeth | How many teeth the first planet has where it meets the second planet.
outer_planet_teeth | How many teeth the second planet has where it meets the first planet.
last_planet_teeth | How many teeth there are on the planet that meets the last central gear.
last_central_teeth | How many teeth the last of the two central gears has.
first_mesh_sign | Whether the two gears of the first mesh turn the same way, seen from the carrier, or opposite ways.
planet_mesh_sign | Whether two planets in mesh turn the same way, seen from the carrier, or opposite ways.
last_mesh_sign | Whether the two gears of the last mesh turn the same way, seen from the carrier, or opposite ways.
first_central_speed | Turns a minute of the first central gear.
last_outer_torque | How hard the last gear is twisted by what is fastened to it.
first_mesh_module | The module of the two gears of the first mesh.
last_mesh_module | The module of the two gears of the last mesh.
largest_planet_diameter | The outside diameter of the largest planet; neighbours have to clear each other.
shaft_keyway_depth | How deep the groove for the key goes into the shaft.
"""
EVERYDAY: dict[str, str] = {
    word.strip(): sentence.strip()
    for word, _, sentence in (row.partition("|") for row in EVERYDAY_ROWS.strip().splitlines())
}


@cache
def _says() -> dict[str, str]:
    """The sentence of the first relation that gives a quantity, by the word without its side."""
    told: dict[str, str] = {}
    for relation in ALL:
        for word in (relation.left, split_side(relation.left)[1]):
            told.setdefault(word, relation.says)
    return told


def everyday(name: str) -> str:
    """What a quantity is, in one everyday sentence.

    name: its word or, in the inch notation, its symbol.
    ValueError for an unknown name; near names are given.

    >>> everyday("backlash")
    'How far one gear can be rocked while the other is held, measured along the operating pitch circle.'
    >>> everyday("driven_pitch_diameter") == everyday("pitch_diameter")
    True
    """
    word = quantity(name).word
    base = split_side(word)[1]
    return EVERYDAY.get(word) or EVERYDAY.get(base) or _says().get(word) or _says()[base]


def terms() -> tuple[str, ...]:
    """Each quantity once, in the order in which it is taught: a gear's own without the words driver and driven."""
    return tuple(word for word in QUANTITIES if not split_side(word)[0])
