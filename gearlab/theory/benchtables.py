"""The rows of the quantities of the bench: one line each, read by ``quantities``.

word | meaning | dimension | inch symbol | ISO symbol (if it differs) | range (if unusual)
"""

#: What there is on the bench; each has a table of quantities below and relations that hold for it.
BENCH = (
    "workshop",
    "plate",
    "stack",
    "hub",
    "load",
    "rack",
    "bevel",
    "planetary",
    "drive",
    "epicyclic",
    "key",
)

# The workshop: cutting, fits, tolerances, warmth.
WORKSHOP_ROWS = """
cut_width                 | width of the cut                     | length | k_c   |       | 0..1e9
drawn_thickness           | tooth thickness as drawn             | length | t_d   | s_d
cut_thickness             | tooth thickness as cut               | length | t_k   | s_k
drawn_bore                | bore as drawn                        | length | b_d   |
cut_bore                  | bore as cut                          | length | b_k   |
backlash_from_cut         | backlash from the cut of both gears  | length | j_k   |
wanted_backlash           | wanted backlash                      | length | j_w   |       | 0..1e9
closing_distance          | distance by which the shafts must come closer | length | Delta_cl | Delta_cl | -inf..inf
hole_error                | error of each hole along the line of centres | length | e_h |       | 0..1e9
nominal_distance          | nominal centre distance              | length | C     | a
largest_centre_distance   | maximum centre distance              | length | C_max | a_max
least_centre_distance     | minimum centre distance              | length | C_min | a_min
distance_variation        | variation of the centre distance, to either side | length | e_C | e_a | 0..1e9
design_backlash           | design backlash                      | length | j_0   |
least_backlash            | minimum backlash                     | length | j_min |       | -inf..inf
greatest_backlash         | maximum backlash                     | length | j_max |
profile_angle             | pressure angle                       | angle  | phi   | alpha | 0.07..0.87
hole_upper                | upper deviation of the hole          | length | E_u   | ES    | -inf..inf
hole_lower                | lower deviation of the hole          | length | E_l   | EI    | -inf..inf
shaft_upper               | upper deviation of the shaft         | length | e_u   | es    | -inf..inf
shaft_lower               | lower deviation of the shaft         | length | e_l   | ei    | -inf..inf
largest_clearance         | largest clearance of bore and shaft  | length | c_max |       | -inf..inf
least_clearance           | minimum clearance of bore and shaft | length | c_min |       | -inf..inf
expansion                 | thermal expansion of the plate       | expansion | alpha_T |
warming                   | warming                              | temperature | Delta T | | -inf..inf
distance_growth           | growth of the centre distance        | length | g_C   | g_a   | -inf..inf
growth_backlash           | backlash added by the growth         | length | j_T   |       | -inf..inf
contribution_1            | first contribution                   | length | t_1   |
contribution_2            | second contribution                  | length | t_2   |
contribution_3            | third contribution                   | length | t_3   |
worst_case                | worst-case variation                 | length | t_w   |
likely_variation          | likely variation                     | length | t_l   |
worst_over_likely         | worst case over likely variation     | number | q_t   |
"""

# A pair on a plate.
PLATE_ROWS = """
plate_length              | length of the plate                  | length | L_p   |
end_margin                | margin from the tips to the end of the plate | length | w | | -1e9..1e9
hole_x                    | first hole, from the left edge       | length | x_1   |
hole_y                    | first hole, from the lower edge      | length | y_1   |
other_hole_x              | second hole, from the left edge      | length | x_2   |       | -1e9..1e9
other_hole_y              | second hole, from the lower edge     | length | y_2   |       | -1e9..1e9
hole_diameter             | diameter of the hole                 | length | b_h   |
edge_distance             | distance from the hole's centre to the edge | length | e |
material_left             | material left between hole and edge  | length | e_m   |       | -1e9..1e9
material_ratio            | material left, in hole diameters     | number | q_e   |       | -1e9..1e9
check_line                | check line as drawn                  | length | L_0   |
check_line_measured       | check line as measured on the print  | length | L_1   |
print_scale               | print scale that makes the sheet true | number | k_L  |
"""

# Plate, washers, gear and end on one shaft.
STACK_ROWS = """
behind_plate              | shaft behind the plate               | length | L_b   |       | 0..1e9
plate_thickness           | thickness of the plate               | length | t_p   |
axial_gap                 | gap between plate and gear           | length | g     |       | 0..1e9
overall_length            | overall length of the gear, face and hub   | length | L_h |
face_width                | face width                           | length | F     | b
end_length                | shaft end beyond the gear            | length | e_s   |       | 0..1e9
shaft_length              | length of the shaft                  | length | L_s   |
stock_step                | step of the stock lengths            | length | k_s   |
stock_length              | next stock length                    | length | L_x   |
hub_projection            | hub projection beyond the face       | length | L_n   |
face_height               | height of the middle of the face above the plate, hub towards the plate | length | z_f |
outward_face_height       | height of the middle of the face above the plate, hub outwards | length | z_o |
other_gap                 | gap between plate and other gear     | length | g_2   |       | -1e9..1e9
other_overall_length      | overall length of the other gear       | length | L_h2  |
other_face_width          | face width of the other gear         | length | F_2   | b_2
shaft_force               | force on the shaft                   | force  | W     | F_s
overhung_moment           | bending moment at the plate, hub towards the plate | torque | M |
moment_drop               | share by which the moment falls with the hub outwards | number | s_M |
"""

# Hub, bore, key, set screw.
HUB_ROWS = """
hub_diameter              | hub diameter                         | length | D_h   |
bore_diameter             | bore diameter                        | length | B     | d_w
hub_wall                  | wall between bore and hub surface    | length | w_h   |       | -1e9..1e9
hub_ratio                 | hub diameter over bore diameter      | number | q_h   |
hub_room                  | room to be left between hub and root circle | length | c_h | | 0..1e9
largest_hub               | largest hub that leaves the room     | length | D_x   |
keyway_depth              | depth of the keyway in the hub       | length | t_2   |
wall_over_keyway          | wall left above the keyway           | length | w_k   |       | -1e9..1e9
rim_over_keyway           | material left between keyway and root circle | length | w_r |  | -1e9..1e9
rim_ratio                 | material left, in whole depths       | number | q_r   |       | -1e9..1e9
least_drill_depth         | minimum drill depth from the hub surface | length | D_1 |
greatest_drill_depth      | maximum drill depth from the hub surface | length | D_2 |
flat_depth                | depth of the flat on the shaft       | length | f     |       | 0..1e9
screw_room                | longest screw that stays below the hub surface | length | l_x |
screw_diameter            | thread diameter of the screw         | length | D     |
screw_pitch               | thread pitch of the screw            | length | p_s   |
tap_drill                 | tap drill diameter                   | length | D_t   |
thread_length             | length of full thread                | length | L_f   |
runout_pitches            | pitches of thread run-out            | number | k_u   |       | 0..1e9
tapped_depth              | drill depth for the thread           | length | L_d   |
drill_depth               | depth of the hole from the hub surface | length | L_k |
chuck_reach               | drill reach beyond the chuck that clears the tooth tips | length | L_c |
shaft_torque              | torque on the shaft                  | torque | T     |
shaft_shear               | shear stress at the surface of the shaft | stress | tau_s |
key_width                 | key width                            | length | w_key | b_key
key_height                | key height                           | length | h_key |
key_length                | key length                           | length | L_key |
key_force                 | force on the key                     | force  | F_key |
key_shear                 | shear stress in the key              | stress | tau_key |
key_bearing               | bearing stress on the key            | stress | sigma_key |
holding_force             | holding force of the set screw at the shaft's surface | force | F_h |
holding_torque            | torque that the set screw holds      | torque | T_h   |
holding_safety            | torque held over the torque on the shaft | number | q_T |
"""

# Power, torque and the strength of a tooth.
LOAD_ROWS = """
power                     | power                                | power  | P_w   |
driver_torque             | torque on the driver                 | torque | T_1   |
driven_torque             | torque on the driven gear            | torque | T_2   |
efficiency                | efficiency of the mesh               | number | eta   |       | 0.01..1
form_factor               | form factor of the tooth             | number | Y     |
bending_stress            | bending stress by the plain beam formula | stress | sigma |
pitch_speed               | pitch-line speed, as a size          | linear speed | v_t |       | 0..1e12
speed_constant            | constant of the speed factor         | linear speed | v_0 |       | 0..1e12
speed_factor              | speed factor                         | number | K_v   |
stress_with_speed         | bending stress with the speed factor | stress | sigma_v |
allowable_stress          | stress that the material can withstand    | stress | S_t   |
utilisation               | stress over what the material can withstand | number | q_S |
size_factor               | factor by which the teeth grow       | number | k_z   |
stress_change             | factor by which the bending stress changes | number | q_z |
"""

# Rack and pinion.
RACK_ROWS = """
travel_per_turn           | rack travel in one turn              | length | s_1   |
travel                    | rack travel                          | length | s     |       | -1e9..1e9
rack_speed                | rack speed                           | linear speed | v |
pinion_torque             | torque on the pinion                 | torque | T     |
rack_force                | force along the rack                 | force  | F_t   |
rack_separating_force     | force that pushes pinion and rack apart | force | F_r |
rack_pitch_height         | height of the rack's pitch line above its back | length | h_b |
mounting_height           | height of the pinion's centre above the rack's back | length | H |
spare_teeth               | further teeth to stay in mesh        | number | n_e   |
rack_teeth                | teeth of the rack                    | number | z_r   |
toothed_length            | toothed length of the rack           | length | L_r   |
largest_travel            | largest travel of the rack between its stops | length | s_x |
pinion_side               | side of the rack on which the pinion is: 1 above, -1 below | number | e_s | | -1..1
rack_direction            | direction of the rack while the pinion turns counter-clockwise: 1 right, -1 left | number | e_r | | -1..1
rack_move                 | travel of the rack with its sign, to the right positive | length | s_R | | -1e9..1e9
double_travel             | travel of a second rack on a rolling pinion | length | s_2 | | -1e9..1e9
"""

# Two cones.
BEVEL_ROWS = """
shaft_angle               | shaft angle                          | angle  | Sigma |       | 0.1..3.1
driver_cone_angle         | cone angle of the driver             | angle  | gamma_1 | delta_1
driven_cone_angle         | cone angle of the driven gear        | angle  | gamma_2 | delta_2 | 0..3.1
cone_distance             | cone distance                        | length | A_0   | R
largest_face              | largest usual face                   | length | F_x   | b_x
driver_cone_outside_diameter | outside diameter of the driver at the large end | length | D_o1 | D_a1
driven_cone_outside_diameter | outside diameter of the driven gear at the large end | length | D_o2 | D_a2
driver_apex_distance      | distance along the driver's axis from the crossing point to the large pitch circle | length | X_1 | | -1e9..1e9
driven_apex_distance      | distance along the driven axis from the crossing point to the large pitch circle | length | X_2 | | -1e9..1e9
mean_cone_distance        | cone distance to the middle of the face | length | A_m  | R_m
addendum_angle            | angle between tip cone and pitch cone | angle | theta_a |     | 0..0.8
dedendum_angle            | angle between pitch cone and root cone | angle | theta_d | theta_f | 0..0.8
driver_tip_cone_angle     | tip cone angle of the driver         | angle  | gamma_o1 | delta_a1 | 0..3.1
driven_tip_cone_angle     | tip cone angle of the driven gear    | angle  | gamma_o2 | delta_a2 | 0..3.1
driver_root_cone_angle    | root cone angle of the driver        | angle  | gamma_r1 | delta_f1 | 0..3.1
driven_root_cone_angle    | root cone angle of the driven gear   | angle  | gamma_r2 | delta_f2 | 0..3.1
driver_cone_addendum      | addendum of the driver, square to its cone | length | a_c1 | h_ac1
driven_cone_addendum      | addendum of the driven gear, square to its cone | length | a_c2 | h_ac2
driver_cone_dedendum      | dedendum of the driver, square to its cone | length | b_c1 | h_fc1
driven_cone_dedendum      | dedendum of the driven gear, square to its cone | length | b_c2 | h_fc2
driver_dedendum_angle     | angle between pitch cone and root cone of the driver | angle | theta_d1 | theta_f1 | 0..0.8
driven_dedendum_angle     | angle between pitch cone and root cone of the driven gear | angle | theta_d2 | theta_f2 | 0..0.8
driver_crown_distance     | distance along the driver's axis from the crossing point to the tips at the large end | length | X_o1 | | -1e9..1e9
driven_crown_distance     | distance along the driven axis from the crossing point to the tips at the large end | length | X_o2 | | -1e9..1e9
driver_axial_face         | length of the driver's tips along its axis | length | L_f1 |
driven_axial_face         | length of the driven gear's tips along its axis | length | L_f2 |
driver_inner_diameter     | diameter over the driver's tips at the small end | length | D_i1 |
driven_inner_diameter     | diameter over the driven gear's tips at the small end | length | D_i2 |
driver_mean_diameter      | diameter of the driver in the middle of the face | length | d_m1 |
driver_virtual_teeth      | virtual teeth of the driver          | number | N_v1  | z_v1
driven_virtual_teeth      | virtual teeth of the driven gear     | number | N_v2  | z_v2
mean_force                | tangential force at the mean diameter | force | W_t   | F_t
driver_thrust             | axial thrust on the driver           | force  | W_x1  | F_x1
driver_cone_radial_force  | radial force on the driver           | force  | W_r1  | F_r1
driven_thrust             | axial thrust on the driven gear      | force  | W_x2  | F_x2
driven_cone_radial_force  | radial force on the driven gear      | force  | W_r2  | F_r2
output_speed              | speed of the driven gear, as a size  | speed  | n_2   |
"""

# Sun, planets, ring, carrier.
PLANETARY_ROWS = """
sun_teeth                 | number of teeth of the sun           | count  | N_s   | z_s   | 4..2000
planet_teeth              | number of teeth of each planet       | count  | N_p   | z_p   | 4..2000
ring_teeth                | number of teeth of the ring          | count  | N_r   | z_r   | 4..6000
planets                   | number of planets                    | count  | n_pl  |
sun_speed                 | speed of the sun                     | speed  | n_s   |
ring_speed                | speed of the ring                    | speed  | n_r   |
carrier_speed             | speed of the carrier                 | speed  | n_c   |
planet_speed              | speed of each planet, seen from the bench | speed | n_p |
reduction                 | reduction from sun to carrier        | number | i_c   |
sun_torque                | torque on the sun                    | torque | T_s   |
carrier_torque            | torque on the carrier                | torque | T_c   |
ring_torque               | torque that holds the ring           | torque | T_r   |
assembly_remainder        | remainder of the assembly test       | number | r_a   |
goes_together             | test whether the set can be assembled: 1 yes, 0 no | number | e_a |
carrier_radius            | carrier radius, from the middle to a planet's pin | length | r_c |
planet_spacing            | distance of neighbouring planets     | length | c_p   |
planet_gap                | gap between the tips of neighbouring planets | length | g_p | | -1e9..1e9
"""

# The whole drive, from the hand to the vent.
DRIVE_ROWS = """
rack_travel               | rack travel                          | length | s     |
vent_shaft_turns          | turns of the vent shaft              | turns  | k_v   |
vent_pinion_teeth         | number of teeth of the rack pinion   | count  | N_5   | z_5   | 4..2000
crank_turns               | turns of the crank                   | turns  | k_c   |
crank_speed               | speed of the crank                   | speed  | n_c   |
opening_time              | time to open                         | time   | tau_o |
vent_torque               | torque at the vent shaft             | torque | T_v   |
crank_torque              | torque at the crank                  | torque | T_c   |
meshes                    | meshes between crank and rack        | number | n_m   |
crank_radius              | radius of the crank                  | length | R_c   |
hand_force                | hand force                           | force  | F_h   |
joint_distance            | distance from the hinge to the rack joint | length | A |
opening_angle             | opening angle of the vent            | angle  | theta_v | | 0..3.1
gust_pressure             | gust pressure                        | stress | q_g   |
panel_width               | width of the vent panel              | length | B_v   |
panel_length              | length of the vent panel from hinge to free edge | length | A_v |
hinge_moment              | moment about the hinge               | torque | M_h   |
gust_force                | rack force under the gust            | force  | F_g   |
design_force              | rack force that the drive is designed for | force | F_d |
gust_factor               | gust force over design force         | number | q_F   |
"""

# An epicyclic train on one carrier: first gear, planet shaft, last gear; speed and torque of the carrier,
# places and planets as above.
EPICYCLIC_ROWS = """
first_central_teeth       | number of teeth of the first gear    | count  | N_F   | z_F   | 4..6000
first_planet_teeth        | number of teeth of the planet in mesh with the first gear | count | N_PF | z_PF | 4..6000
inner_planet_teeth        | number of teeth of the first planet in mesh with the second | count | N_PI | z_PI | 4..6000
outer_planet_teeth        | number of teeth of the second planet in mesh with the first | count | N_PO | z_PO | 4..6000
last_planet_teeth         | number of teeth of the planet in mesh with the last gear | count | N_PL | z_PL | 4..6000
last_central_teeth        | number of teeth of the last gear     | count  | N_L   | z_L   | 4..6000
first_mesh_sign           | sign of the first mesh: -1 opposite ways, 1 the same way | number | s_F | | -1..1
planet_mesh_sign          | sign of the mesh of two planets: -1 opposite ways, 1 the same way | number | s_P | | -1..1
last_mesh_sign            | sign of the last mesh: -1 opposite ways, 1 the same way | number | s_L | | -1..1
first_mesh_value          | turns of the planet for each turn of the first gear, the carrier held | number | e_F | | -1e9..1e9
planet_mesh_value         | turns of the second planet for each turn of the first, the carrier held | number | e_P | | -1e9..1e9
last_mesh_value           | turns of the last gear for each turn of the planet, the carrier held | number | e_L | | -1e9..1e9
train_value               | train value: turns of the last gear for each turn of the first, the carrier held | number | e | | -1e9..1e9
first_central_speed       | speed of the first gear              | speed  | n_F   |
last_central_speed        | speed of the last gear               | speed  | n_L   |
first_relative_speed      | speed of the first gear, seen from the carrier | speed | n_Fc |
last_relative_speed       | speed of the last gear, seen from the carrier | speed | n_Lc |
planet_relative_speed     | speed of the planet, seen from the carrier | speed | n_Pc |
first_outer_torque        | torque that acts on the first gear from outside | torque | T_F | | -1e15..1e15
last_outer_torque         | torque that acts on the last gear from outside | torque | T_L | | -1e15..1e15
carrier_outer_torque      | torque that acts on the carrier from outside | torque | T_A | | -1e15..1e15
first_radius_teeth        | teeth that the distance of planet and first gear counts | number | N_rF | z_rF | -1e9..1e9
last_radius_teeth         | teeth that the distance of planet and last gear counts | number | N_rL | z_rL | -1e9..1e9
first_mesh_module         | module of the first mesh             | length | m_F   |
last_mesh_module          | module of the last mesh              | length | m_L   |
largest_planet_diameter   | outside diameter of the largest planet gear | length | D_P | d_aP
equal_spacing_number      | number that equal planets must divide | number | k_a  |       | -1e12..1e12
equal_spacing_remainder   | remainder of the test for equal spacing | number | r_e |
"""

# Rules of thumb for a key.
KEY_ROWS = """
rule_key_width            | key width by rule of thumb           | length | w_r   | b_r
rule_square_height        | height of a square key by rule of thumb | length | h_s |
rule_flat_height          | height of a flat key by rule of thumb | length | h_f  |
half_key_depth            | depth of the keyway where the key lies half in it | length | h_2 |
rule_key_length           | key length by rule of thumb          | length | L_r   | l_r
shaft_keyway_depth        | depth of the keyway in the shaft     | length | t_1   |
shaft_over_keyway         | size of the shaft from the bottom of the keyway | length | d_k |
bore_over_keyway          | size of the bore to the bottom of the keyway | length | B_k |
"""
