"""Where the worlds of a scope start: numbers of real gears for every quantity that no relation defines.

A world is a set of consistent numbers. Two of them decide which root of an equation is the right one and
whether a letter really cancels; so they must differ in every number, and lie well inside every range.
"""

# Lengths in inches, times in minutes, angles in radians. The drivers are small enough that the largest mate is a number
# of teeth (above some count every mate will do, and the number is negative).
STARTS = (
    {"teeth": 21.0, "driver_teeth": 14.0, "driven_teeth": 49.0, "diametral_pitch": 7.0, "pressure_angle": 0.371, "speed": 83.0, "duration": 0.7,
     "profile_shift": 0.13, "tooth_thinning": 0.002, "tip_shortening": 0.003, "addendum_factor": 0.93, "span_teeth": 3.0, "pin_diameter": 0.25,
     "mate_diametral_pitch": 6.61, "pitches_counted": 11.0, "hole_pin_1": 0.25, "hole_pin_2": 0.31, "hole_spacing": 6.13, "centre_distance": 4.57,
     "tangential_force": 37.0, "line_angle": 0.61, "driver_mark_angle": 0.17, "wanted_ratio": 3.41,
     "roll_angle": 0.52, "other_pressure_angle": 0.43, "span_shortfall": 0.004, "bore_offset": 0.006, "plate_height": 5.3, "edge_margin": 0.41,
     "first_teeth": 17.0, "second_teeth": 29.0, "third_teeth": 19.0, "fourth_teeth": 43.0, "shaft_spacing": 5.2, "gears_in_row": 5.0,
     "first_stage_module": 0.15, "second_stage_module": 0.19, "mesh_tangential_force": 23.0, "first_torque": 61.0, "mesh_efficiency": 0.93,
     "cut_width": 0.007, "drawn_thickness": 0.21, "drawn_bore": 0.39, "wanted_backlash": 0.005, "hole_error": 0.004, "nominal_distance": 3.3,
     "distance_variation": 0.011, "design_backlash": 0.013, "profile_angle": 0.371, "hole_upper": 0.0009, "hole_lower": 0.0001,
     "shaft_upper": -0.0002, "shaft_lower": -0.0011, "expansion": 7.1e-5, "warming": 17.0, "contribution_1": 0.003, "contribution_2": 0.005,
     "contribution_3": 0.008,
     "plate_length": 22.0, "hole_y": 2.3, "edge_distance": 0.9, "hole_diameter": 0.37, "check_line": 4.0, "check_line_measured": 3.9,
     "behind_plate": 0.3, "plate_thickness": 0.26, "axial_gap": 0.06, "overall_length": 1.1, "face_width": 0.5, "end_length": 0.13, "stock_step": 0.25,
     "other_overall_length": 0.9, "other_face_width": 0.4, "shaft_force": 17.0, "hub_diameter": 1.4, "bore_diameter": 0.4, "hub_room": 0.05, "keyway_depth": 0.07,
     "flat_depth": 0.02, "screw_diameter": 0.19, "screw_pitch": 0.031, "thread_length": 0.4, "runout_pitches": 4.0, "drill_depth": 0.6, "shaft_torque": 31.0,
     "key_width": 0.125, "key_height": 0.13, "key_length": 0.7, "holding_force": 240.0, "driver_torque": 27.0, "efficiency": 0.94, "form_factor": 0.31,
     "speed_constant": 14400.0, "pitch_speed": 1900.0, "allowable_stress": 3100.0, "size_factor": 1.3, "pinion_torque": 33.0, "rack_pitch_height": 0.5,
     "spare_teeth": 3.0, "pinion_side": 1.0, "shaft_angle": 1.31, "mean_force": 19.0, "sun_teeth": 24.0, "planet_teeth": 19.0, "planets": 3.0, "sun_speed": 41.0, "ring_speed": 7.0,
     "sun_torque": 12.0, "rack_travel": 15.0, "vent_pinion_teeth": 20.0, "crank_speed": 15.0, "meshes": 3.0, "crank_radius": 4.7, "joint_distance": 22.0,
     "gust_pressure": 0.02, "panel_width": 47.0, "panel_length": 23.0, "design_force": 34.0,
     "first_central_teeth": 25.0, "first_planet_teeth": 33.0, "inner_planet_teeth": 28.0, "outer_planet_teeth": 17.0, "last_planet_teeth": 15.0,
     "last_central_teeth": 73.0, "first_mesh_sign": -1.0, "planet_mesh_sign": -1.0, "last_mesh_sign": 1.0, "first_central_speed": 43.0, "carrier_speed": 9.0,
     "last_outer_torque": -37.0, "first_mesh_module": 0.15, "last_mesh_module": 0.15, "largest_planet_diameter": 5.1, "shaft_keyway_depth": 0.08},
    {"teeth": 34.0, "driver_teeth": 22.0, "driven_teeth": 55.0, "diametral_pitch": 11.0, "pressure_angle": 0.293, "speed": -47.0, "duration": 1.9,
     "profile_shift": 0.27, "tooth_thinning": 0.003, "tip_shortening": 0.001, "addendum_factor": 0.87, "span_teeth": 5.0, "pin_diameter": 0.16,
     "mate_diametral_pitch": 11.7, "pitches_counted": 8.0, "hole_pin_1": 0.41, "hole_pin_2": 0.36, "hole_spacing": 4.02, "centre_distance": 3.56,
     "tangential_force": 71.0, "line_angle": -0.35, "driver_mark_angle": 0.23, "wanted_ratio": 2.63,
     "roll_angle": 0.41, "other_pressure_angle": 0.38, "span_shortfall": 0.007, "bore_offset": 0.009, "plate_height": 6.1, "edge_margin": 0.53,
     "first_teeth": 23.0, "second_teeth": 37.0, "third_teeth": 31.0, "fourth_teeth": 53.0, "shaft_spacing": 4.4, "gears_in_row": 8.0,
     "first_stage_module": 0.11, "second_stage_module": 0.13, "mesh_tangential_force": 41.0, "first_torque": 29.0, "mesh_efficiency": 0.96,
     "cut_width": 0.011, "drawn_thickness": 0.17, "drawn_bore": 0.47, "wanted_backlash": 0.003, "hole_error": 0.006, "nominal_distance": 2.7,
     "distance_variation": 0.008, "design_backlash": 0.017, "profile_angle": 0.293, "hole_upper": 0.0007, "hole_lower": 0.0002,
     "shaft_upper": -0.0003, "shaft_lower": -0.0008, "expansion": 1.9e-5, "warming": 23.0, "contribution_1": 0.004, "contribution_2": 0.007,
     "contribution_3": 0.006,
     "plate_length": 17.0, "hole_y": 3.1, "edge_distance": 1.1, "hole_diameter": 0.51, "check_line": 6.0, "check_line_measured": 6.1,
     "behind_plate": 0.4, "plate_thickness": 0.31, "axial_gap": 0.09, "overall_length": 0.97, "face_width": 0.44, "end_length": 0.11, "stock_step": 0.5,
     "other_overall_length": 0.8, "other_face_width": 0.35, "shaft_force": 23.0, "hub_diameter": 1.2, "bore_diameter": 0.5, "hub_room": 0.07, "keyway_depth": 0.06,
     "flat_depth": 0.03, "screw_diameter": 0.16, "screw_pitch": 0.028, "thread_length": 0.3, "runout_pitches": 3.0, "drill_depth": 0.5, "shaft_torque": 43.0,
     "key_width": 0.15, "key_height": 0.17, "key_length": 0.6, "holding_force": 310.0, "driver_torque": 39.0, "efficiency": 0.91, "form_factor": 0.36,
     "speed_constant": 7200.0, "pitch_speed": 2300.0, "allowable_stress": 2700.0, "size_factor": 1.7, "pinion_torque": 21.0, "rack_pitch_height": 0.6,
     "spare_teeth": 4.0, "pinion_side": -1.0, "shaft_angle": 1.77, "mean_force": 29.0, "sun_teeth": 18.0, "planet_teeth": 23.0, "planets": 4.0, "sun_speed": 53.0, "ring_speed": -11.0,
     "sun_torque": 17.0, "rack_travel": 13.0, "vent_pinion_teeth": 18.0, "crank_speed": 21.0, "meshes": 2.0, "crank_radius": 5.3, "joint_distance": 19.0,
     "gust_pressure": 0.03, "panel_width": 39.0, "panel_length": 21.0, "design_force": 27.0,
     "first_central_teeth": 82.0, "first_planet_teeth": 26.0, "inner_planet_teeth": 31.0, "outer_planet_teeth": 19.0, "last_planet_teeth": 22.0,
     "last_central_teeth": 78.0, "first_mesh_sign": 1.0, "planet_mesh_sign": -1.0, "last_mesh_sign": 1.0, "first_central_speed": -29.0, "carrier_speed": 13.0,
     "last_outer_torque": 23.0, "first_mesh_module": 0.11, "last_mesh_module": 0.11, "largest_planet_diameter": 2.9, "shaft_keyway_depth": 0.06},
)
# Proportions of a tooth system, where a scope leaves them open.
_ROWS = ({"dedendum_factor": 1.23, "rack_tip_radius": 0.31, "extra_dedendum": 0.004}, {"dedendum_factor": 1.17, "rack_tip_radius": 0.26, "extra_dedendum": 0.007})
STARTS = tuple(start | row for start, row in zip(STARTS, _ROWS, strict=True))
