"""The rows of the quantities of teeth, pairs and trains: one line each, read by ``quantities``.

word | meaning | dimension | inch symbol | ISO symbol (if it differs) | range (if unusual)
"""

# Each gear has its own: in a pair driver_ and driven_, in a train first_ to fourth_ stand before the word.
GEAR_ROWS = """
teeth                 | number of teeth                    | count  | N     | z     | 4..2000
pitch_diameter        | pitch diameter                     | length | d     |
base_diameter         | base diameter                      | length | d_b   |
outside_diameter      | outside diameter                   | length | d_o   | d_a
root_diameter         | root diameter                      | length | d_r   | d_f
pitch_radius          | pitch radius                       | length | r     |
base_radius           | base radius                        | length | r_b   |
outside_radius        | outside radius                     | length | r_o   | r_a
root_radius           | root radius                        | length | r_r   | r_f
pitch_circumference   | distance around the pitch circle   | length | U     |
chordal_thickness     | chordal tooth thickness            | length | t_c   | s_c
chordal_addendum      | chordal addendum                   | length | a_c   | h_c
profile_shift         | profile shift                      | number | x     |       | -2..3
tooth_thinning        | tooth thinning                     | length | delta_t | delta_s | 0..1e9
tip_shortening        | tip shortening                     | length | k_t   |       | -1e9..1e9
speed                 | speed                              | speed  | n     |
turns                 | turns                              | turns  | k     |
angle                 | angle turned                       | angle  | theta |       | -inf..inf
angular_speed         | angular speed                      | angular speed | omega |
span_teeth            | teeth in the span                  | count  | k_W   |
ideal_span_teeth      | teeth in the span at which the jaws touch near mid-flank | number | k_i |
span                  | span measurement                   | length | W     |
pin_diameter          | measuring pin diameter             | length | d_p   | D_M
pin_angle             | pressure angle at the pin centre   | angle  | phi_p | alpha_K
over_pins             | size over pins                     | length | M     | M_d
pin_parity            | factor for an odd count            | number | f_o   |
least_teeth           | fewest teeth without undercut      | number | N_u   | z_u
least_shift           | minimum profile shift without undercut | number | x_u |       | -inf..inf
least_shift_for_rack  | profile shift at which a rack of the standard addendum just clears | number | x_R | | -inf..inf
pitch_angle           | angle from one tooth to the next   | angle  | tau_p |       | 0..1.6
space_half_angle      | half the angle of a tooth space on the base circle | angle | eta | | -1..1
ideal_pin             | pin diameter that touches the flanks at mid-height | length | d_i | D_i
form_radius           | form radius, where the flank runs into the fillet | length | r_F |
"""

# Gears that mesh share these.
TOOTH_ROWS = """
diametral_pitch   | diametral pitch                         | pitch  | P     |
module            | module                                  | length | m     |
circular_pitch    | circular pitch                          | length | p     |
base_pitch        | base pitch                              | length | p_b   |
pressure_angle    | pressure angle                          | angle  | phi   | alpha | 0.07..0.87
addendum          | addendum                                | length | a     | h_a
dedendum          | dedendum                                | length | b     | h_f
whole_depth       | whole depth                             | length | h_t   | h
working_depth     | working depth                           | length | h_k   | h_w
clearance         | clearance                               | length | c     |
tooth_thickness   | tooth thickness on the pitch circle     | length | t     | s
tooth_space       | width of a tooth space on the pitch circle | length | e  |
addendum_factor   | addendum factor of the tooth system     | number | k_a   | h_a*
dedendum_factor   | dedendum factor of the tooth system     | number | k_b   | h_f*
extra_dedendum    | extra dedendum of the tooth system      | length | b_x   | h_x
rack_tip_radius   | tip radius factor of the basic rack     | number | rho   |
pitches_counted   | pitches counted                         | count  | k_p   |
counted_length    | length over the pitches counted         | length | L     |
mate_diametral_pitch | diametral pitch of the other gear    | pitch  | P_x   |
mate_module       | module of the other gear                | length | m_x   |
mate_circular_pitch | circular pitch of the other gear      | length | p_x   |
pitch_mismatch    | difference of the two circular pitches  | length | Delta p |
pitches_out_of_step | pitches until half a tooth thickness out of step | number | k_x |
"""

# Two gears together.
PAIR_ROWS = """
centre_distance           | centre distance                      | length | C     | a
reference_centre_distance | reference centre distance            | length | C_0   | a_0
ratio                     | ratio, driver turns per driven turn  | number | i     |
tooth_difference          | difference of the tooth counts       | count  | Delta N | Delta z | -inf..inf
common_factor             | greatest common factor of the tooth counts | count | g |
driver_turns_to_repeat    | driver turns until the same two teeth meet again | turns | k_r1 |
driven_turns_to_repeat    | driven turns until the same two teeth meet again | turns | k_r2 |
driver_teeth_lowest       | driver part of the tooth ratio in lowest whole numbers | count | A |
driven_teeth_lowest       | driven part of the tooth ratio in lowest whole numbers | count | B |
spaces_met                | different spaces that one tooth meets | count | q     |
share_of_spaces           | share of the spaces that one tooth meets | number | q_s |
operating_pressure_angle  | operating pressure angle             | angle  | phi_w | alpha_w | 0.02..1.3
driver_operating_pitch_diameter | operating pitch diameter of the driver | length | d_w1 |
driven_operating_pitch_diameter | operating pitch diameter of the driven gear | length | d_w2 |
operating_circular_pitch  | operating circular pitch             | length | p_w   |
driver_operating_pitch_radius | operating pitch radius of the driver | length | r_w1 |
driven_operating_pitch_radius | operating pitch radius of the driven gear | length | r_w2 |
driver_operating_thickness | tooth thickness of the driver on its operating pitch circle | length | t_w1 | s_w1
driven_operating_thickness | tooth thickness of the driven gear on its operating pitch circle | length | t_w2 | s_w2
backlash                  | backlash                             | length | j     |       | -inf..inf
length_of_approach        | length of approach                   | length | Z_f   | g_f   | -inf..inf
length_of_recess          | length of recess                     | length | Z_a   | g_a   | -inf..inf
length_of_action          | length of action                     | length | Z     | g_alpha
contact_ratio             | contact ratio                        | number | m_c   | epsilon
arc_of_contact            | arc of contact on the pitch circles  | length | Z_p   | g_p
driver_contact_angle      | angle the driver turns while two teeth touch | angle | theta_c1 | | 0..3.1
driven_contact_angle      | angle the driven gear turns while two teeth touch | angle | theta_c2 | | 0..3.1
sliding_speed_at_start    | sliding speed where contact begins   | linear speed | v_f |
sliding_speed_at_end      | sliding speed where contact ends     | linear speed | v_a |
driver_specific_sliding   | specific sliding of the driver where contact begins | number | zeta_1 | | -inf..inf
driven_specific_sliding   | specific sliding of the driven gear where contact ends | number | zeta_2 | | -inf..inf
driver_interference_margin | room before the driven tip reaches the driver's tangent point | length | M_1 | | -inf..inf
driven_interference_margin | room before the driver tip reaches the driven gear's tangent point | length | M_2 | | -inf..inf
least_teeth_with_rack     | fewest teeth that run with a rack without interference | number | N_R | z_R
least_teeth_with_equal    | fewest teeth that run with an equal gear without interference | number | N_E | z_E
least_teeth_for_ratio     | fewest pinion teeth for the ratio without interference | number | N_L | z_L
largest_mate_teeth        | most teeth of the mate without interference | number | N_G | z_G | -inf..inf
hole_pin_1                | diameter of the pin in hole 1        | length | b_1   |
hole_pin_2                | diameter of the pin in hole 2        | length | b_2   |
hole_spacing              | hole spacing                         | length | C_h   | a_h
reading_over_pins         | caliper reading over the two pins    | length | L_o   |
reading_between_pins      | caliper reading between the two pins | length | L_i   |
spacing_miss              | miss of the hole spacing (measured minus wanted) | length | Delta C | Delta a | -inf..inf
duration                  | time                                 | time   | tau   |
pitch_line_speed          | pitch-line speed                     | linear speed | v |
mesh_frequency            | tooth-mesh frequency                 | frequency | f_m |
distance_opening          | opening of the centre distance beyond the reference | length | Delta_C | Delta_a | -inf..inf
quick_backlash            | backlash estimated from the opening alone | length | j_q |     | -inf..inf
quick_backlash_shortfall  | share by which the estimate is too small | number | s_q |       | -inf..inf
driver_play_angle         | angle by which the driver can rock   | angle  | gamma_1 |
driven_play_angle         | angle by which the driven gear can rock | angle | gamma_2 |
backlash_along_action     | backlash along the line of action    | length | j_b   | j_bn  | -inf..inf
pitch_circle_backlash     | backlash measured on the pitch circles | length | j_p |       | -inf..inf
two_pair_share            | share of the time in which two pairs touch | number | s_2 |   | -1..1
action_angle_to_centres   | angle between the line of action and the line of centres | angle | psi_a |
tangent_point_distance    | length of the line of action between the base circles | length | L_t |
tangential_force          | tangential tooth force               | force  | W_t   | F_t
separating_force          | force that pushes the shafts apart   | force  | W_r   | F_r
normal_force              | force of the flanks on each other    | force  | W_n   | F_n
force_angle               | angle of the tooth force to the common tangent | angle | phi_F | alpha_F
action_speed              | speed of the contact point along the line of action | linear speed | v_b |
driver_limit_radius       | largest outside radius of the driver without interference | length | R_1 |
driven_limit_radius       | largest outside radius of the driven gear without interference | length | R_2 |
driver_tip_margin         | margin of the driver's outside radius to its limit | length | q_1 | | -inf..inf
driven_tip_margin         | margin of the driven gear's outside radius to its limit | length | q_2 | | -inf..inf
driver_start_radius       | radius on the driver where contact begins | length | R_s1 |
driven_start_radius       | radius on the driven gear where contact ends | length | R_s2 |
shortening_for_clearance  | tip shortening that keeps the clearance | length | k_c | | -1e9..1e9
line_angle                | direction from the driver's shaft to the driven gear's | angle | beta | | -inf..inf
driver_mark_angle         | angle at which the driver's marked tooth is | angle | mu_1 | | -inf..inf
driven_mark_angle         | angle at which the driven gear's marked tooth is, within one pitch | angle | mu_2 | | 0..1.6
mesh_turn                 | smallest turn of the driven gear that brings a space to the mesh | angle | mu_s | | 0..1.6
wanted_ratio              | wanted ratio                         | number | i_w   |
ideal_driven_teeth        | driven teeth that would give the wanted ratio | number | N_w | z_w
ratio_error               | error of the ratio, as a share of the wanted one | number | e_i | | -inf..inf
smallest_ratio_error      | smallest error that whole counts allow | number | e_s |
"""

# A gear looked at by itself: points of its flank, its tips, a second measurement.
SINGLE_ROWS = """
roll_angle                | roll angle at a point of the flank   | angle  | theta_y | xi_y | 0..40
free_string               | free string, from the base circle to the point | length | L_y |
point_radius              | radius of a point of the flank       | length | r_y   |
point_pressure_angle      | pressure angle at a point of the flank | angle | phi_y | alpha_y
point_thickness           | tooth thickness at the radius of the point | length | t_y | s_y | -inf..inf
involute_angle            | involute function of the pressure angle | angle | psi | | 0..60
pitch_roll_angle          | roll angle at the pitch circle       | angle  | theta_p | xi_p | 0..40
pitch_curvature_radius    | radius of curvature of the flank at the pitch point | length | R_c | rho_c
tip_pressure_angle        | pressure angle at the tip            | angle  | phi_o | alpha_a
tip_roll_angle            | roll angle at the tip                | angle  | theta_o | xi_a | 0..40
tip_thickness             | tooth thickness at the tip           | length | t_o   | s_a | -inf..inf
practical_least_shift     | minimum profile shift where a slight undercut is accepted | number | x_p | | -inf..inf
rack_contact_ratio        | contact ratio with a rack            | number | m_R   | epsilon_R
teeth_root_outside_base   | tooth count from which the root circle lies outside the base circle | number | N_b | z_b
other_pressure_angle      | other pressure angle                 | angle  | phi_x | alpha_x
separating_force_increase | increase of the separating force, as a share | number | s_W | | -inf..inf
across_tip_middles        | height from the chord of two tip middles to the tip middle opposite | length | H_o |
tip_reading_shortfall     | shortfall of that height from the outside diameter | length | Delta H |
across_tips               | caliper reading over the tips of an odd count | length | H_c |
next_span                 | span measurement over one tooth more | length | W_x   |
span_shortfall            | span below its nominal value         | length | Delta W |
thinning_by_span          | thinning of the teeth found from the span | length | delta_W |
bore_offset               | offset of the bore from the centre   | length | e_b   | | 0..1e9
indicator_swing           | swing of an indicator on the pitch circle in one turn | length | R_i |
backlash_swing            | swing of the backlash in one turn    | length | j_R   |
plate_height              | height of the plate                  | length | H     |
edge_margin               | margin from the tips to the edge     | length | w_e   |
fitting_diameter          | largest outside diameter that fits   | length | d_x   |
fitting_teeth             | tooth count that just fits           | number | N_x   | z_x
inside_diameter           | inside diameter of the ring, over its tips | length | d_i |
ring_root_diameter        | root diameter of the ring            | length | d_ri | d_fi
"""

# Three or four gears in a row.
TRAIN_ROWS = """
train_ratio               | ratio of the train, first shaft turns per last shaft turn | number | i |
first_stage_ratio         | ratio of the first stage             | number | i_1   |
second_stage_ratio        | ratio of the second stage            | number | i_2   |
equal_stage_ratio         | stage ratio of two equal stages      | number | i_e   |
first_stage_module        | module of the first stage            | length | m_1   |
second_stage_module       | module of the second stage           | length | m_2   |
first_centre_distance     | centre distance of the first mesh    | length | C_1   | a_1
second_centre_distance    | centre distance of the second mesh   | length | C_2   | a_2
row_length                | distance from the first to the last shaft, all in line | length | L_r |
shaft_spacing             | distance from the first to the last shaft | length | S |
idler_angle               | angle of the idler above the line of the two shafts, seen from the first | angle | beta_i | | 0..3.14159
idler_x                   | place of the idler along the line of the two shafts, from the first | length | x_i | | -1e9..1e9
idler_y                   | place of the idler above the line of the two shafts | length | y_i |
idler_bend                | angle at the idler between the lines to its neighbours | angle | gamma_i | | 0..3.141593
gears_in_row              | gears in the row                     | count  | k_g   |
direction_factor          | direction of the last gear against the first (+1 with, -1 against) | number | s_d | | -1..1
mesh_tangential_force     | tangential tooth force of each mesh  | force  | W_t   | F_t
first_mesh_separating_force  | separating force of the first mesh | force | W_r1 | F_r1
second_mesh_separating_force | separating force of the second mesh | force | W_r2 | F_r2
idler_tangential_push     | push of both meshes on the idler's shaft, across the line of centres | force | F_t2 |
idler_radial_push         | push of both meshes on the idler's shaft, along the line of centres | force | F_r2x | | -inf..inf
idler_force_one_way       | force on the idler's shaft when the idler turns towards the inside of the bend | force | F_i1 |
idler_force_other_way     | force on the idler's shaft when the idler turns towards the outside of the bend | force | F_i2 |
first_torque              | torque on the first shaft            | torque | T_1   |
last_torque               | torque on the last shaft             | torque | T_2   |
mesh_efficiency           | efficiency of one mesh               | number | eta   |       | 0.01..1
middle_turns_to_repeat    | first-shaft turns until first and middle shaft are as at the start | turns | k_m |
output_turns_to_repeat    | first-shaft turns until first and last shaft are as at the start | turns | k_o |
turns_to_line_up          | first-shaft turns until all shafts are as at the start | turns | k_a |
"""
