"""What quantities are called in books and on drawings: each is answered with the word used here.

A quantity has one word here (see ``quantities``); a name that is not that word is never taken, but told.
"""

from __future__ import annotations

import re
from functools import cache

# name elsewhere, several with commas | words here; none where no formula here tells it
OTHER_NAMES_ROWS = """
number_of_teeth, tooth_count, tooth_number, no_of_teeth, num_teeth | teeth driver_teeth driven_teeth
tip_diameter, tip_circle, tip_circle_diameter, addendum_circle, addendum_circle_diameter, addendum_diameter, outer_diameter, outside_dia, major_diameter, blank_diameter, od | outside_diameter
tip_radius, addendum_radius, outer_radius | outside_radius
root_circle, root_circle_diameter, dedendum_circle, dedendum_circle_diameter, dedendum_diameter, minor_diameter, bottom_diameter | root_diameter
pitch_circle, pitch_circle_diameter, reference_diameter, reference_circle, reference_circle_diameter, pcd, pd | pitch_diameter
diameter, dia, diam | pitch_diameter outside_diameter base_diameter root_diameter
base_circle, base_circle_diameter | base_diameter
working_diameter, working_pitch_diameter, rolling_diameter, operating_diameter | driver_operating_pitch_diameter driven_operating_pitch_diameter
shaft_distance, axis_distance, distance_between_centres, centres, centre_to_centre, working_centre_distance, operating_centre_distance, distance | centre_distance
standard_centre_distance, nominal_centre_distance, theoretical_centre_distance | reference_centre_distance
m_g, gear_ratio, speed_ratio, transmission_ratio, teeth_ratio, tooth_ratio, drive_ratio | ratio
overall_ratio, total_ratio, train_gear_ratio | train_ratio
stage_ratio | first_stage_ratio second_stage_ratio
reduction_ratio, gear_reduction, speed_reduction | ratio train_ratio reduction
rpm, revolutions_per_minute, rev_per_min, rotational_speed, shaft_speed | speed driver_speed driven_speed
input_speed, motor_speed | driver_speed first_speed sun_speed
revolutions, revs, rotations, number_of_turns | turns
torque, moment, twisting_moment | driver_torque driven_torque shaft_torque first_torque pinion_torque sun_torque
input_torque, motor_torque | driver_torque first_torque sun_torque
output_torque, gear_torque, wheel_torque | driven_torque last_torque carrier_torque
horsepower, hp, kw, watts, input_power, motor_power, transmitted_power | power
output_power, power_loss, loss, losses, heat | power efficiency
overall_efficiency, total_efficiency, gear_efficiency, mechanical_efficiency | efficiency mesh_efficiency
force, tooth_force, tooth_load, gear_force, contact_force, flank_force, total_force, resultant_force | normal_force tangential_force separating_force
tangential_load, transmitted_load, transmitted_force, tangential_component, circumferential_force, peripheral_force, pitch_line_force, useful_force | tangential_force
radial_force, radial_load, radial_component, separating_load | separating_force driver_cone_radial_force
axial_force, axial_load, thrust, thrust_force | driver_thrust driven_thrust
v, pitch_line_velocity, pitch_velocity, peripheral_speed, circumferential_speed, tangential_speed, surface_speed, linear_speed, speed_of_the_pitch_line | pitch_line_speed pitch_speed
rack_velocity | rack_speed
sliding_speed, slide_speed, slip_speed | sliding_speed_at_start sliding_speed_at_end
slide_roll_ratio, slide_to_roll_ratio, sliding_ratio, specific_slip | driver_specific_sliding driven_specific_sliding
speed_in_radians, omega | angular_speed
speed_factor_kv, velocity_factor, dynamic_factor, barth_factor, kv | speed_factor
lewis_factor, lewis_form_factor, tooth_form_factor, shape_factor | form_factor
lewis_stress, tooth_stress, root_stress, tooth_root_stress, tooth_bending_stress | bending_stress
permissible_stress, permitted_stress, strength, yield_strength | allowable_stress
safety_factor, factor_of_safety | utilisation holding_safety
circular_thickness, arc_thickness, circular_tooth_thickness, tooth_width, thickness_of_tooth | tooth_thickness
chordal_tooth_thickness, chord_thickness, straight_thickness | chordal_thickness
corrected_addendum, chordal_height | chordal_addendum
space_width, tooth_space_width, width_of_space, tooth_gap | tooth_space
top_land, top_land_thickness, tip_width, crest_width | tip_thickness
tooth_height, tooth_depth, total_depth, full_depth, cutting_depth, depth_of_cut, depth | whole_depth
bottom_clearance, tip_clearance, root_clearance, radial_clearance, top_clearance | clearance
p_c | circular_pitch
p_d, p_t | diametral_pitch
pitch, linear_pitch, rack_pitch, axial_pitch | circular_pitch diametral_pitch module base_pitch
dp, diametrical_pitch | diametral_pitch
mod, modul, normal_module, metric_module | module
profile_shift_coefficient, shift, addendum_modification, addendum_modification_coefficient, profile_displacement, correction, shift_coefficient | profile_shift
tooth_thickness_allowance, thinning | tooth_thinning
addendum_shortening, tip_relief, topping | tip_shortening
working_pressure_angle, mesh_angle, operating_angle, angle_at_work | operating_pressure_angle
angle_of_action, contact_angle, arc_of_action | driver_contact_angle driven_contact_angle arc_of_contact
path_of_contact, line_of_contact, contact_length, line_of_action, line_of_action_length, contact_path | length_of_action
approach, path_of_approach | length_of_approach
recess, path_of_recess | length_of_recess
epsilon_alpha, m_p, m_f, transverse_contact_ratio, overlap, profile_contact_ratio, degree_of_overlap | contact_ratio
play, lash, gear_play, tooth_play, circumferential_backlash, lost_motion | backlash
angular_backlash, backlash_angle, angular_play | driver_play_angle driven_play_angle
normal_backlash, backlash_normal | backlash_along_action
minimum_teeth, min_teeth, smallest_pinion, undercut, undercut_limit, undercut_teeth, minimum_number_of_teeth | least_teeth least_teeth_with_rack least_teeth_with_equal least_teeth_for_ratio
minimum_shift, undercut_shift, min_shift | least_shift
interference, interference_limit | driver_interference_margin driven_interference_margin largest_mate_teeth
maximum_teeth, largest_gear, max_gear_teeth | largest_mate_teeth
hunting_tooth, hunting_ratio, gcd, highest_common_factor, common_divisor, greatest_common_divisor | common_factor spaces_met driver_turns_to_repeat
measurement_over_pins, measurement_over_wires, dimension_over_pins, over_wires, over_rolls, over_balls, size_over_pins | over_pins
wire_diameter, ball_diameter, roll_diameter | pin_diameter
span_measurement, w_k, base_tangent, base_tangent_length, measurement_over_teeth, span_over_teeth | span
spanned_teeth, teeth_spanned, number_of_teeth_spanned | span_teeth
involute, inv, involute_function | involute_angle
fillet_radius, root_fillet | rack_tip_radius
eccentricity, runout, run_out | bore_offset indicator_swing
centre_distance_error, hole_spacing_error | spacing_miss
circumference | pitch_circumference
meshing_frequency, tooth_frequency, frequency, gear_mesh_frequency | mesh_frequency
time, running_time | duration
face, facewidth, width, tooth_length, gear_width | face_width
bore, bore_size, shaft_diameter, shaft_size | bore_diameter
hub, hub_size, boss_diameter | hub_diameter
keyway, key_depth, keyseat_depth | keyway_depth shaft_keyway_depth
key_stress, shear_stress | key_shear shaft_shear
bearing_stress, crushing_stress, key_crushing | key_bearing
shaft_stress, torsional_stress, torsion_stress | shaft_shear
bending_moment | overhung_moment
screw_force, clamping_force, holding_power, axial_holding_power, set_screw_force | holding_force
setscrew_torque, set_screw_torque, slip_torque | holding_torque
drill_size, tapping_drill, tap_size | tap_drill
thermal_expansion, expansion_coefficient, coefficient_of_expansion | expansion
temperature, temperature_rise, temperature_change | warming
fit, clearance_fit, max_clearance, maximum_clearance | largest_clearance least_clearance
min_clearance, minimum_clearance | least_clearance clearance
pitch_cone_angle, pitch_angle_of_cone, cone_angle, bevel_angle | driver_cone_angle driven_cone_angle
face_angle, face_cone_angle, tip_angle | driver_tip_cone_angle driven_tip_cone_angle
root_angle, root_cone_angle | driver_root_cone_angle driven_root_cone_angle
outer_cone_distance, slant_height, pitch_cone_distance, back_cone, back_cone_distance | cone_distance
virtual_number_of_teeth, virtual_teeth, formative_teeth, formative_number_of_teeth, equivalent_teeth | driver_virtual_teeth driven_virtual_teeth
crown_height, crown_to_apex, apex_to_crown, pitch_apex_to_crown | driver_crown_distance driven_crown_distance
mounting_distance | mounting_height driver_apex_distance
sun, sun_gear_teeth | sun_teeth sun_speed sun_torque
ring, annulus, annulus_teeth, ring_gear_teeth, internal_gear_teeth | ring_teeth ring_speed ring_torque
planet_gear_teeth, pinion_planet_teeth | planet_teeth
carrier, arm, arm_speed, spider_speed, planet_carrier_speed | carrier_speed carrier_torque
annulus_speed | ring_speed
arm_torque | carrier_torque
number_of_planets, planet_count | planets
idler_teeth | second_teeth
idler_diameter | second_pitch_diameter
idler_force, idler_load, idler_shaft_force | idler_tangential_push idler_force_one_way
crank_force, handle_force | hand_force
rack_distance, rack_displacement, stroke | travel rack_travel
mass, weight, inertia, moment_of_inertia, density, volume |
deflection, bending_of_shaft, stiffness, critical_speed, twist_angle |
contact_stress, hertz_stress, hertzian_stress, surface_stress, pitting_stress, wear_load |
helix_angle, lead, lead_angle, normal_pressure_angle, spiral_angle, worm_lead |
service_factor, application_factor, overload_factor, geometry_factor, life, fatigue_life, bearing_life |
"""


@cache
def _table() -> dict[str, tuple[str, ...]]:
    table: dict[str, tuple[str, ...]] = {}
    for row in OTHER_NAMES_ROWS.strip().splitlines():
        names, _, words = row.partition("|")
        for name in names.split(","):
            table[name.strip()] = tuple(words.split())
    return table


def word_like(name: str) -> str:
    """A name as the words here are written: small letters, underscores, British, speed for velocity.

    >>> word_like("Center-Distance"), word_like("pitch line velocity")
    ('centre_distance', 'pitch_line_speed')
    """
    name = re.sub(r"[\W_]+", "_", name.strip().lower()).strip("_")
    return name.replace("center", "centre").replace("velocity", "speed")


def called_here(name: str) -> tuple[str, ...] | None:
    """The words that stand here for what is called otherwise elsewhere.

    Returns none of them (an empty tuple) where no formula here tells it, None for a name that nobody uses.

    >>> called_here("tip_diameter"), called_here("velocity_ratio"), called_here("mass"), called_here("xyz")
    (('outside_diameter',), ('ratio',), (), None)
    """
    table = _table()
    return table.get(name, table.get(word_like(name)))
