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
     "contribution_3": 0.008},
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
     "contribution_3": 0.006},
)
