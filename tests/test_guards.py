"""The edges of the rules: what just holds, and what just does not."""

from __future__ import annotations

import math
from collections import defaultdict

import pytest
from test_by_hand import changed

from conftest import for_each
from generator import formulas  # noqa: F401  defines the rules
from generator.errors import UnitFault
from generator.formula import FORMULARY, Rule
from generator.model.library import Library
from generator.proof import prove

RULES = {rule.function.__name__: rule for rule in FORMULARY.rules}
JUST = 1e-6
# Whether it may stand on the edge, above it, below it.
AT_MOST, AT_LEAST, UNDER, OVER = (True, False, True), (True, True, False), (False, False, True), (False, True, False)
ALWAYS, NEVER = (True, True, True), (False, False, False)
EDGES = [
    ("block_is_wider_than_its_hole", {"a_e": 0.006, "D_o": 0.012}, "a_e", OVER),
    ("block_is_wider_than_its_hole", {"a_e": 0.006, "D_o": 0.012}, "D_o", UNDER),
    # 0.1 x 26 x 26 + 0.9 x 10 x 10 = 157.6
    ("hole_leaves_the_washer_its_wood", {"D_e": 0.026, "D_k": 157.6**0.5 * 0.001, "d": 0.009}, "D_k", AT_MOST),
    ("hole_leaves_the_washer_its_wood", {"D_e": 0.026, "D_k": 157.6**0.5 * 0.001, "d": 0.009}, "D_e", AT_LEAST),
    ("hole_leaves_the_washer_its_wood", {"D_e": 0.026, "D_k": 157.6**0.5 * 0.001, "d": 0.009}, "d", AT_LEAST),
    ("bed_is_one_lift", {"t_0": 0.01, "h_p": 0.01}, "t_0", AT_MOST),
    ("bed_is_one_lift", {"t_0": 0.01, "h_p": 0.01}, "h_p", AT_LEAST),
    # rule, the values on the edge, the symbol that is moved, and where it may stand
    ("filler_is_a_part", {"x_f": 1.0}, "x_f", UNDER),
    ("a_joint_is_filled_with_thickened_epoxy", {"u_q": 0.0, "w_a": 0.4}, "u_q", OVER),
    ("a_mix_goes_into_few_syringes", {"n_s": 4.0, "V_s": 20e-6}, "n_s", AT_MOST),
    ("a_mix_goes_into_few_syringes", {"n_s": 9.0, "V_s": 60e-6}, "V_s", AT_LEAST),
    # 20 % of 100 mL is the 20 mL that cling
    ("a_large_mix_wastes_no_more_than_a_small_one", {"w_a": 0.25, "N_m": 4.0, "V_1": 90e-6}, "w_a", AT_MOST),
    ("a_large_mix_wastes_no_more_than_a_small_one", {"w_a": 0.4, "N_m": 4.0, "V_1": 25e-6}, "V_1", UNDER),
    ("a_large_mix_wastes_no_more_than_a_small_one", {"w_a": 2.0, "N_m": 1.0, "V_1": 100e-6}, "N_m", UNDER),
    ("a_joint_is_filled_with_thickened_epoxy", {"u_q": 0.0, "w_a": 0.0}, "w_a", UNDER),
    ("a_bed_stays_where_it_is_put", {"u_q": 0.8, "V_b": 1e-6}, "u_q", AT_LEAST),
    ("a_bed_stays_where_it_is_put", {"u_q": 0.3, "V_b": 0.0}, "V_b", AT_MOST),
    ("a_plate_takes_its_epoxy_up", {"u_q": 0.8, "h_rsp": 0.006}, "u_q", AT_LEAST),
    ("a_plate_takes_its_epoxy_up", {"u_q": 0.3, "h_rsp": 0.0}, "h_rsp", AT_MOST),
    ("a_screw_takes_its_epoxy_down", {"u_q": 0.8, "E_sc": 1e-6}, "u_q", UNDER),
    ("a_screw_takes_its_epoxy_down", {"u_q": 1.0, "E_sc": 0.0}, "E_sc", UNDER),
    ("a_cast_thread_is_filled", {"u_q": 0.8, "L_ct": 0.04}, "u_q", UNDER),
    ("a_cast_thread_is_filled", {"u_q": 1.0, "L_ct": 0.0}, "L_ct", AT_MOST),
    ("a_bush_is_wetted_all_round", {"u_q": 0.8, "V_bu": 1e-6}, "u_q", UNDER),
    ("a_bush_is_wetted_all_round", {"u_q": 1.0, "V_bu": 0.0}, "V_bu", AT_MOST),
    ("guide_point_angle", {"alpha_g": 0.0}, "alpha_g", OVER),
    ("guide_point_angle", {"alpha_g": math.pi}, "alpha_g", AT_MOST),
    ("large_point_angle", {"alpha_o": 0.0}, "alpha_o", OVER),
    ("large_point_angle", {"alpha_o": math.pi}, "alpha_o", AT_MOST),
    ("hole_has_depth", {"T": 0.0}, "T", OVER),
    ("pilot_is_small_enough", {"G": 0.5, "G_sc": 0.5, "d_sc": 0.008, "n_y": 4.0}, "G", AT_LEAST),
    ("pilot_is_small_enough", {"G": 0.5, "G_sc": 0.5, "d_sc": 0.008, "n_y": 4.0}, "G_sc", AT_MOST),
    ("pilot_is_large_enough", {"G": 0.7, "K_sc": 0.7, "d_sc": 0.008, "n_y": 4.0}, "G", AT_MOST),
    ("pilot_is_large_enough", {"G": 0.7, "K_sc": 0.7, "d_sc": 0.008, "n_y": 4.0}, "K_sc", AT_LEAST),
    ("pilot_is_small_enough", {"G": 0.1, "G_sc": 0.5, "d_sc": 5.999 * 0.001, "n_y": 4.0}, "d_sc", UNDER),
    ("pilot_is_large_enough", {"G": 0.9, "K_sc": 0.7, "d_sc": 5.999 * 0.001, "n_y": 4.0}, "d_sc", UNDER),
    ("screw_is_thick_enough", {"d_sc": 0.005, "a_sc": 0.005}, "d_sc", AT_LEAST),
    ("thread_is_long_enough", {"L_sc": 0.032, "d_sc": 0.008}, "L_sc", AT_LEAST),
    ("thread_is_long_enough", {"L_sc": 0.032, "d_sc": 0.008}, "d_sc", AT_MOST),
    ("wood_round_the_screw_is_wide_enough", {"chi_y": 0.4999}, "chi_y", AT_LEAST),
    ("pilot_leaves_wood_to_cut", {"D_sc": 0.006, "d_sc": 0.006}, "D_sc", UNDER),
    ("bonds_are_far_enough_apart", {"chi_s": 1 - 1e-9}, "chi_s", AT_LEAST),
    *(
        ("base_takes_its_fasteners", {"n_h": holes, "s_y": 0.08, "s_wb": apart, "a_b": long, "b_b": wide}, moved, held)
        for holes, apart, long, wide, moved, held in (
            (2.0, 0.08, 0.1, 0.1, "s_wb", AT_LEAST), (2.0, 0.07, 0.1, 0.1, "n_h", UNDER), (1.0, 0.07, 0.1, 0.1, "s_wb", ALWAYS),
            (2.0, 0.07, 0.0, 0.1, "a_b", UNDER), (2.0, 0.07, 0.1, 0.0, "b_b", UNDER),
        )
    ),
    ("fasteners_are_far_enough_apart_for_a_side_load", {"chi_s": 0.5999}, "chi_s", AT_LEAST),
    *(
        ("fasteners_are_far_enough_apart_for_the_full_side_load", {"N_y": 2.0, "s_ba": apart, "s_y": 0.04, "F_yn": load}, moved, held)
        for apart, load, moved, held in (
            (0.04, 500.0, "s_ba", AT_LEAST), (0.03, 500.0, "N_y", UNDER), (0.03, 0.0, "F_yn", UNDER)
        )
    ),
    ("loaded_edge_is_far_enough", {"a_e": 0.04, "e_y": 0.04, "alpha_y": math.pi / 2}, "a_e", AT_LEAST),
    ("loaded_edge_is_far_enough", {"a_e": 0.02, "e_y": 0.04, "alpha_y": 0.0}, "alpha_y", AT_MOST),
    ("fastener_does_not_rust", {"k_fe": 0.5, "f_u": 5e8}, "k_fe", UNDER),
    ("fastener_does_not_rust", {"k_fe": 1.0, "f_u": 0.0}, "f_u", UNDER),
    ("tool_heats_the_base_too", {"P_k": 20.0, "P_kl": 20.0, "P_s": 8.0, "n_hot": 1.0}, "P_k", AT_LEAST),
    ("tool_heats_the_base_too", {"P_k": 8.0, "P_kl": 20.0, "P_s": 8.0, "n_hot": 1.0}, "P_k", UNDER),
    ("tool_heats_the_base_too", {"P_k": 9.0, "P_kl": 20.0, "P_s": 8.0, "n_hot": 1.0}, "n_hot", UNDER),
    # 12.4 W and more are 13 W, 13.6 W and less are 13 W
    ("a_tool_can_hold_the_head", {"P_kl": 12.4, "P_hx": 13.0, "n_hot": 1.0}, "P_hx", AT_LEAST),
    ("a_tool_can_hold_the_head", {"P_kl": 13.0, "P_hx": 13.6, "n_hot": 1.0}, "P_kl", AT_MOST),
    ("a_tool_can_hold_the_head", {"P_kl": 20.0, "P_hx": 13.0, "n_hot": 1.0}, "n_hot", UNDER),
    ("crown_can_be_measured", {"s_e": 0.0002, "h_rs": 0.003}, "s_e", AT_LEAST),
    ("crown_can_be_measured", {"s_e": 0.0001, "h_rs": 0.0}, "h_rs", UNDER),
    ("tool_is_weaker_than_a_heat_gun", {"P_k": 300.0, "P_hm": 300.0}, "P_k", AT_MOST),
    ("tool_is_weak_enough", {"P_k": 60.0, "P_hx": 60.0, "n_hot": 1.0}, "P_k", AT_MOST),
    ("tool_is_weak_enough", {"P_k": 90.0, "P_hx": 60.0, "n_hot": 1.0}, "n_hot", UNDER),
    ("washer_lies_on_the_base", {"D_p": 0.05, "a_b": 0.06, "b_b": 0.05, "L_st": 0.1}, "b_b", AT_LEAST),
    ("filler_suits_a_screw", {"k_u": 0.5, "C_sc": 1e-6}, "k_u", AT_LEAST),
    ("wood_lets_epoxy_seal", {"o_w": 0.5, "C_sc": 1e-6}, "o_w", UNDER),
    ("wood_lets_epoxy_seal", {"o_w": 1.0, "C_sc": 0.0}, "C_sc", UNDER),
    ("filler_suits_a_screw", {"k_u": 0.0, "C_sc": 0.0}, "C_sc", UNDER),
    ("filler_suits_a_bush", {"k_u": 0.5, "V_bu": 1e-6}, "k_u", AT_LEAST),
    ("filler_suits_a_bush", {"k_u": 0.0, "V_bu": 0.0}, "V_bu", UNDER),
    ("filler_suits_a_plug", {"k_u": 0.5, "V_c": 1e-6}, "k_u", AT_LEAST),
    ("filler_suits_a_plug", {"k_u": 0.0, "V_c": 0.0}, "V_c", UNDER),
    ("filler_suits_a_fastener", {"k_u": 0.5, "V_r": 1e-6}, "k_u", AT_LEAST),
    ("filler_suits_a_fastener", {"k_u": 0.0, "V_r": 0.0}, "V_r", UNDER),
    ("washer_lies_on_the_base", {"D_p": 0.05, "a_b": 0.05, "b_b": 0.06, "L_st": 0.1}, "a_b", AT_LEAST),
    ("washer_lies_on_the_base", {"D_p": 0.07, "a_b": 0.06, "b_b": 0.05, "L_st": 0.0}, "L_st", UNDER),
    ("pilot_is_small_enough", {"G": 0.1, "G_sc": 0.5, "d_sc": 0.005, "n_y": 5.5}, "n_y", UNDER),
    ("pilot_is_large_enough", {"G": 0.9, "K_sc": 0.7, "d_sc": 0.005, "n_y": 5.5}, "n_y", UNDER),
    ("pilot_is_of_such_a_screw", {"d_sc": 5.999 * 0.001, "n_y": 4.0}, "d_sc", AT_LEAST),
    ("pilot_is_of_such_a_screw", {"d_sc": 0.005, "n_y": 5.0}, "n_y", OVER),
    ("a_mix_outlasts_its_making", {"t_w": 900.0, "t_x": 900.0}, "t_w", OVER),
    # 300 s to the first fitting and 600 s for each, or for half of one
    ("a_mix_outlasts_a_fitting", {"t_x": 300.0, "t_u": 600.0, "K_m": 2.0, "t_w": 900.0}, "t_w", AT_LEAST),
    ("a_mix_outlasts_a_fitting", {"t_x": 300.0, "t_u": 600.0, "K_m": 0.5, "t_w": 600.0}, "t_w", AT_LEAST),
    *(
        (rule, {"r_c": cups, "n_q": number, "t_x": 900.0, "t_o": open_for, "t_u": 600.0, "t_w": 1200.0}, moved, held)
        for rule, cups, number, open_for, moved, held in (
            ("the_first_cup_of_a_fitting_outlasts_its_last", 1.5, 2.0, 3600.0, "t_w", AT_LEAST),
            ("the_first_cup_of_a_fitting_outlasts_its_last", 1.0, 2.0, 900.0, "r_c", AT_MOST),
            ("a_cup_outlasts_the_fitting_that_it_would_do_for", 0.5, 2.0, 3600.0, "t_w", AT_LEAST),
            ("a_cup_outlasts_the_fitting_that_it_would_do_for", 1.0, 2.0, 900.0, "r_c", OVER),
            ("a_cup_outlasts_the_fitting_that_it_would_do_for", 0.5, 1.0, 900.0, "n_q", AT_MOST),
        )
    ),
    # 300 s and three of 200 s, in the 900 s from 100 s to 1000 s
    ("a_mix_is_set_while_the_last_can_be_loosened", {"n_m": 2.0, "t_x": 300.0, "t_u": 200.0, "N_m": 3.0, "t_y1": 100.0, "t_y2": 1000.0}, "t_y1", AT_MOST),
    ("a_mix_is_set_while_the_last_can_be_loosened", {"n_m": 1.0, "t_x": 300.0, "t_u": 200.0, "N_m": 3.0, "t_y1": 100.0, "t_y2": 500.0}, "n_m", AT_MOST),
    ("base_sits_on_the_crown", {"R_c": 0.5, "b_b": 1.0}, "b_b", AT_MOST),
    ("edge_stands_on_the_crown", {"R_c": 0.5, "b_o": 1.0}, "b_o", AT_MOST),
    ("gap_is_that_of_a_crown", {"g_c": 0.3, "l_s": 0.6}, "g_c", AT_MOST),
    ("deadrise_is_a_slope", {"beta_d": math.pi / 2}, "beta_d", UNDER),
    ("edge_is_cast_at_once", {"t_e": 0.01, "h_1": 0.01}, "t_e", AT_MOST),
    ("bed_is_not_squeezed_dry", {"h_b": 0.002, "t_g": 0.002}, "h_b", AT_LEAST),
    ("bed_bears_the_sliding", {"h_b": 0.002, "h_sl": 0.002}, "h_b", AT_LEAST),
    ("bed_bears_the_opening", {"h_b": 0.002, "h_op": 0.002}, "h_b", AT_LEAST),
    ("movement_is_a_part", {"M_k": 0.0}, "M_k", OVER),
    ("movement_is_a_part", {"M_k": 1.0}, "M_k", UNDER),
    ("cure_is_shallow", {"h_v": 0.01, "h_m": 0.01}, "h_v", AT_MOST),
    ("bolt_goes_through", {"D_k": 0.008, "d": 0.008}, "D_k", AT_LEAST),
    ("wall_is_thick_enough", {"w_p": 0.004, "w_d": 0.001, "w_l": 0.003}, "w_p", AT_LEAST),
    ("plug_stays_cool", {"D_c": 0.025, "d_1": 0.025}, "D_c", AT_MOST),
    ("ring_is_wide_enough", {"t_bu": 0.002, "u_bu": 0.002}, "t_bu", AT_LEAST),
    ("bush_has_a_wall", {"D_bu": 0.008, "d": 0.008}, "D_bu", OVER),
    ("bush_is_long_enough", {"L_bu": 0.01, "d": 0.008, "h_pg": 0.002}, "L_bu", AT_LEAST),
    ("bush_has_a_bed", {"g_bu": 0.003, "s_bu": 0.003}, "g_bu", OVER),
    ("screw_is_waxed", {"n_k": 1.0}, "n_k", AT_LEAST),
    ("cast_thread_is_long_enough", {"L_ct": 0.016, "d": 0.008}, "L_ct", AT_LEAST),
    ("screw_ends_in_the_hole", {"l_ct": 0.016, "L_ct": 0.016, "L_o": 0.02}, "l_ct", AT_LEAST),
    ("screw_ends_in_the_hole", {"l_ct": 0.02, "L_ct": 0.016, "L_o": 0.02}, "l_ct", UNDER),
    ("countersink_stays_in_the_plug", {"h_k": 0.003, "w_d": 0.001, "w_p": 0.004}, "h_k", AT_MOST),
    *((rule, {symbol: whole}, symbol, (True, False, False)) for rule, symbol in (("whole_fittings", "N"), ("whole_holes", "n_h")) for whole in (1.0, 3.0)),
    ("syringe_gives_something", {"u_s": 0.0}, "u_s", OVER),
    ("syringe_gives_something", {"u_s": 1.0}, "u_s", AT_MOST),
    ("wood_is_heavy_enough", {"G": 0.3}, "G", OVER),
    ("wood_is_dry_enough", {"x_wood": 0.25}, "x_wood", UNDER),
    ("epoxy_has_room", {"D_o": 0.008, "d_v": 0.008}, "D_o", OVER),
    ("work_is_cooler_than_the_epoxy_softens", {"T_a": 330.0, "T_x": 330.0}, "T_a", UNDER),
    ("head_is_hot_enough", {"q_x": 1.0}, "q_x", OVER),
    ("head_is_cool_enough", {"T_k": 500.0, "T_metal": 500.0, "T_pyr": 520.0}, "T_k", AT_MOST),
    ("head_is_cool_enough", {"T_k": 500.0, "T_metal": 520.0, "T_pyr": 500.0}, "T_k", UNDER),
    ("wall_is_cool_enough", {"T_wall": 450.0, "T_wood": 450.0}, "T_wall", AT_MOST),
    ("head_that_is_needed_is_allowed", {"T_need": 500.0, "T_top": 500.0, "T_pyr": 520.0}, "T_need", AT_MOST),
    ("head_that_is_needed_is_allowed", {"T_need": 500.0, "T_top": 520.0, "T_pyr": 500.0}, "T_need", UNDER),
    ("far_end_softens", {"T_end": 330.0, "T_x": 330.0}, "T_end", AT_LEAST),
    ("tool_is_strong_enough", {"P_k": 100.0, "P_s": 100.0}, "P_k", AT_LEAST),
    ("margin_leaves_some_heat", {"dT_hx": 0.0, "T_top": 500.0, "T_x": 330.0}, "dT_hx", AT_LEAST),
    ("margin_leaves_some_heat", {"dT_hx": 170.0, "T_top": 500.0, "T_x": 330.0}, "dT_hx", UNDER),
    ("thread_is_inside_its_diameter", {"d_v": 0.008, "d": 0.008}, "d_v", AT_MOST),
    ("guide_passes_thread", {"D_g": 0.008, "d": 0.008}, "D_g", AT_LEAST),
    ("oversized_is_larger", {"D_o": 0.008, "D_g": 0.008}, "D_o", OVER),
    ("guide_hole_is_left", {"L_o": 0.05, "T": 0.05}, "L_o", UNDER),
    ("oversized_has_depth", {"L_o": 0.0}, "L_o", OVER),
    ("fastener_reaches_guide_hole", {"c_e": 0.02, "L_g": 0.02}, "c_e", UNDER),
    ("large_point_stays_inside", {"M_o": 0.05, "T": 0.05}, "M_o", AT_MOST),
    ("side_load_is_for_such_a_thread", {"d_n": 5.999 * 0.001, "d_3": 0.005}, "d_n", AT_LEAST),
    ("side_load_is_for_such_a_thread", {"d_n": 20.001 * 0.001, "d_3": 0.017}, "d_n", AT_MOST),
    ("side_load_is_for_such_a_thread", {"d_n": 0.01, "d_3": 0.0}, "d_3", OVER),
    ("side_load_is_for_such_a_screw", {"d_n": 3.5 * 0.001, "r_sc": 0.6}, "d_n", AT_LEAST),
    ("side_load_is_for_such_a_screw", {"d_n": 20.001 * 0.001, "r_sc": 0.6}, "d_n", AT_MOST),
    ("side_load_is_for_such_a_screw", {"d_n": 0.01, "r_sc": 0.0}, "r_sc", OVER),
    ("screw_is_deep_enough_for_a_side_load", {"l_y": 0.04, "n_y": 4.0, "d_n": 0.01}, "l_y", AT_LEAST),
    ("rod_is_deep_enough_for_a_side_load", {"L_o": 4.999 * 0.01, "d_n": 0.01}, "L_o", AT_LEAST),
    ("wood_is_thick_enough_for_a_side_load", {"l_y": 0.015, "d_n": 0.01, "D_k": 0.01}, "l_y", AT_LEAST),
    ("wood_is_thick_enough_for_a_side_load", {"l_y": 0.01, "d_n": 0.01, "D_k": 0.0}, "D_k", UNDER),
    ("ring_presses_on_the_wood", {"D_o": 1.999 * 0.001, "d_n": 0.0}, "D_o", AT_LEAST),
    ("ring_presses_on_the_wood", {"D_o": 0.012, "d_n": 0.011}, "D_o", NEVER),
    ("bed_is_thin_enough_for_a_side_load", {"g_y": 0.01, "d_n": 0.01}, "g_y", AT_MOST),
    ("edge_is_far_enough_for_a_side_load", {"chi_y": 0.4999}, "chi_y", AT_LEAST),
    ("edge_is_far_enough_for_the_full_side_load", {"chi_y": 1.0, "F_yn": 500.0}, "chi_y", AT_LEAST),
    ("edge_is_far_enough_for_the_full_side_load", {"chi_y": 0.8, "F_yn": 0.0}, "F_yn", UNDER),
    ("wood_is_of_a_usual_density", {"rho_w": 289.0}, "rho_w", AT_LEAST),
    ("wood_is_of_a_usual_density", {"rho_w": 901.0}, "rho_w", AT_MOST),
    ("one_lift_fills_the_bore", {"n_l": 1.0}, "n_l", AT_MOST),
    ("all_lifts_can_be_mixed", {"n_lm": 12.0}, "n_lm", AT_MOST),
    ("grade_is_that_of_a_ramp", {"i_r": 0.5}, "i_r", AT_MOST),
    ("long_enough_for_the_standard", {"L_C": 2.499}, "L_C", AT_LEAST),
    ("short_enough_for_the_standard", {"L_C": 24.001}, "L_C", AT_MOST),
    ("hull_is_in_the_scope", {"L_H": 24.001}, "L_H", AT_MOST),
    ("waterline_is_within_the_hull", {"L_WL": 6.0, "L_H": 6.0}, "L_WL", AT_MOST),
    ("towed_under_hull_speed", {"q_h": 1.0}, "q_h", AT_MOST),
    ("compound_holds_on_the_wood", {"k_ow": 1.0, "o_w": 1.0}, "k_ow", UNDER),
    ("compound_holds_on_the_wood", {"k_ow": 1.0, "o_w": 1.0}, "o_w", UNDER),
    ("batch_stays_cool", {"m_b": 0.1, "m_c": 0.1}, "m_b", AT_MOST),
    ("resin_comes_first", {"n_v": 1.0}, "n_v", AT_LEAST),
    ("washer_covers_its_hole", {"A_p": 0.0}, "A_p", OVER),
    ("plate_is_needed", {"b_rs": 0.0, "F_n": 100.0, "F_p": 200.0}, "b_rs", AT_MOST),
    ("plate_is_needed", {"b_rs": 0.1, "F_n": 200.0, "F_p": 200.0}, "F_n", OVER),
    ("wood_is_stiff_behind_the_plate", {"T": 0.03, "b_rs": 0.06}, "b_rs", AT_MOST),
    ("plate_is_larger_than_its_washer", {"c_rs": 0.0}, "c_rs", OVER),
    ("side_pad_stands_on_the_crown", {"y_rs": 0.5, "R_c": 0.5}, "y_rs", AT_MOST),
    ("a_mix_serves_a_fitting", {"N_b": 1.0}, "N_b", AT_LEAST),
    ("something_is_pulled", {"m_rd": 0.0, "m_lv": 5.0}, "m_rd", AT_MOST),
    ("something_is_pulled", {"m_rd": 5.0, "m_lv": 5.0}, "m_rd", OVER),
    ("steel_is_not_yet_at_its_end", {"F_rd": 1000.0, "u_F": 200.0, "R_s": 1200.0}, "F_rd", UNDER),
    ("release_is_chosen", {"n_k": 1.0, "t_y1": 60.0, "h_rs": 0.005}, "n_k", AT_LEAST),
    ("release_is_chosen", {"n_k": 0.0, "t_y1": 0.0, "h_rs": 0.005}, "t_y1", UNDER),
    ("release_is_chosen", {"n_k": 0.0, "t_y1": 60.0, "h_rs": 0.0}, "h_rs", UNDER),
    ("thread_is_in_the_range_of_the_model", {"d": 5.999 * 0.001}, "d", AT_LEAST),
    ("thread_is_in_the_range_of_the_model", {"d": 20.001 * 0.001}, "d", AT_MOST),
    ("wood_is_not_oily", {"o_w": 1.0}, "o_w", UNDER),
    ("bond_line_is_thick_enough", {"D_o": 1.999 * 0.001, "d": 0.0}, "D_o", AT_LEAST),
    ("bond_line_is_thick_enough", {"D_o": 0.012, "d": 0.011}, "D_o", NEVER),
    ("bond_is_long_enough", {"L_b": 4.999 * 0.01, "d": 0.01}, "L_b", AT_LEAST),
    ("edge_is_far_enough", {"a_e": 1.499 * 0.01, "d": 0.01}, "a_e", AT_LEAST),
    ("edge_is_as_far_as_is_asked", {"a_e": 0.04, "a_m": 0.04}, "a_e", AT_LEAST),
    ("end_is_as_far_as_is_asked", {"a_z": 0.04, "a_n": 0.04, "k_sg": 1.0}, "a_z", AT_LEAST),
    ("end_is_as_far_as_is_asked", {"a_z": 0.01, "a_n": 0.04, "k_sg": 0.5}, "k_sg", UNDER),
    ("some_depth_is_enough", {"L_n": 250.001 * 0.001, "d": 0.02}, "L_n", AT_MOST),
    ("some_depth_is_enough", {"L_n": 20.001 * 0.01, "d": 0.01}, "L_n", AT_MOST),
    ("fastener_is_enough", {"F_n": 100.0, "F_s": 100.0}, "F_n", AT_MOST),
    ("holes_are_far_enough", {"a_h": 0.04, "s_b": 0.04}, "a_h", AT_LEAST),
    ("bond_is_as_long_as_the_rules_ask", {"L_b": 0.9999 * 0.08, "L_ru": 0.08, "R_w": 9000.0}, "L_b", AT_LEAST),
    ("bond_is_as_long_as_the_rules_ask", {"L_b": 0.06, "L_ru": 0.08, "R_w": 0.0}, "R_w", UNDER),
    ("hole_is_as_narrow_as_the_rules_ask", {"D_b": 0.01, "D_o": 0.01 * 1.001, "R_w": 9000.0}, "D_o", AT_MOST),
    ("hole_is_as_narrow_as_the_rules_ask", {"D_b": 0.01, "D_o": 0.014, "R_w": 0.0}, "R_w", UNDER),
    ("something_is_thickened", {"u_mx": 1.0}, "u_mx", UNDER),
    ("something_comes_out", {"V_mx": 0.0, "k_fa": 0.0}, "V_mx", OVER),
    ("something_comes_out", {"V_mx": 0.0, "k_fa": 0.5}, "k_fa", OVER),
    ("thread_has_a_core", {"d_3": 0.0}, "d_3", OVER),
    ("warm_enough_for_the_hardener", {"T_a": 288.15, "T_min": 288.15, "T_lo": 283.15}, "T_a", AT_LEAST),
    ("warm_enough_for_the_hardener", {"T_a": 283.15, "T_min": 288.15, "T_lo": 283.15}, "T_a", UNDER),
    ("warm_enough_for_the_ring", {"T_a": 288.15, "T_min": 288.15, "T_lo": 283.15, "L_o": 0.03}, "T_a", AT_LEAST),
    ("warm_enough_for_the_ring", {"T_a": 283.15, "T_min": 288.15, "T_lo": 283.15, "L_o": 0.03}, "T_a", UNDER),
    ("warm_enough_for_the_ring", {"T_a": 285.15, "T_min": 288.15, "T_lo": 283.15, "L_o": 0.0}, "L_o", UNDER),
    ("warm_enough_for_any_hardener", {"T_a": 283.15, "T_min": 288.15, "T_lo": 283.15}, "T_a", AT_LEAST),
    ("warm_enough_for_any_hardener", {"T_a": 273.15, "T_min": 283.15, "T_lo": 283.15}, "T_min", UNDER),
    ("warm_enough_for_any_ring", {"T_a": 283.15, "T_min": 288.15, "T_lo": 283.15, "L_o": 0.03}, "T_a", AT_LEAST),
    ("warm_enough_for_any_ring", {"T_a": 273.15, "T_min": 283.15, "T_lo": 283.15, "L_o": 0.03}, "T_min", UNDER),
    ("warm_enough_for_any_ring", {"T_a": 273.15, "T_min": 288.15, "T_lo": 283.15, "L_o": 0.0}, "L_o", UNDER),
    ("ring_is_warm_enough_to_reckon", {"T_a": 283.15, "T_lo": 283.15, "L_o": 0.03}, "T_a", AT_LEAST),
    ("ring_is_warm_enough_to_reckon", {"T_a": 273.15, "T_lo": 283.15, "L_o": 0.0}, "L_o", UNDER),
    ("warm_enough_to_reckon", {"T_a": 273.15, "T_lo": 273.15}, "T_a", AT_LEAST),
    ("cool_enough_to_reckon", {"T_a": 313.15, "T_hi": 313.15}, "T_a", AT_MOST),
    ("humidity_is_a_part", {"R_H": 0.0}, "R_H", OVER),
    ("humidity_is_a_part", {"R_H": 1.0}, "R_H", AT_MOST),
    ("air_above_freezing_only", {"dT_a": 0.0}, "dT_a", AT_LEAST),
    ("surface_is_dry", {"T_a": 290.0, "T_s": 290.0}, "T_a", AT_LEAST),
    ("packer_is_clear_of_the_bond", {"g_pk": 4.499 * 0.01, "d": 0.01}, "g_pk", AT_LEAST),
    ("lever_is_a_lever", {"b_tr": 0.1, "a_tr": 0.1}, "b_tr", OVER),
    ("rod_bears_the_proof_load", {"F_tr": 1000.0, "f_p": 1e8, "A_s": 1e-5}, "F_tr", AT_MOST),
    ("plate_carries_its_load_at_the_angle", {"F_z": 900.0, "F_n": 900.0, "b_rs": 0.1, "theta_p": 0.8}, "F_z", AT_LEAST),
    ("plate_carries_its_load_at_the_angle", {"F_z": 800.0, "F_n": 900.0, "b_rs": 0.0, "theta_p": 0.8}, "b_rs", AT_MOST),
    ("plate_carries_its_load_at_the_angle", {"F_z": 800.0, "F_n": 900.0, "b_rs": 0.1, "theta_p": 0.0}, "theta_p", AT_MOST),
    ("scale_can_read_so_much", {"m_rd": 50.0, "q_tr": 50.0}, "m_rd", AT_MOST),
    ("scale_reads_so_far", {"m_tr": 50.0, "q_tr": 50.0}, "m_tr", AT_MOST),
    ("scale_shows_the_strength", {"m_ul": 50.0, "m_tr": 40.0, "m_st": 50.0, "q_tr": 50.0}, "m_ul", AT_MOST),
    ("scale_shows_the_strength", {"m_ul": 60.0, "m_tr": 50.0, "m_st": 50.0, "q_tr": 50.0}, "m_tr", OVER),
    ("bore_takes_the_worn_wood", {"K_wo": 0.02, "D_wo": 0.02}, "K_wo", OVER),
    ("wall_of_the_plug_is_thick_enough", {"b_wo": 0.003, "w_l": 0.003}, "b_wo", AT_LEAST),
    ("release_goes_into_a_thread", {"k_th": 1.0, "n_k": 1.0}, "k_th", AT_LEAST),
    ("release_goes_into_a_thread", {"k_th": 0.0, "n_k": 1.0}, "n_k", UNDER),
    ("release_is_for_the_bolts_too", {"k_th": 1.0, "n_k": 1.0, "n_rs": 1.0}, "k_th", AT_LEAST),
    ("release_is_for_the_bolts_too", {"k_th": 0.0, "n_k": 1.0, "n_rs": 1.0}, "n_k", UNDER),
    ("release_is_for_the_bolts_too", {"k_th": 0.0, "n_k": 1.0, "n_rs": 0.0}, "n_rs", UNDER),
    ("compound_lets_a_fitting_go", {"k_gl": 1.0, "n_k": 1.0, "n_rs": 1.0}, "k_gl", UNDER),
    ("compound_lets_a_fitting_go", {"k_gl": 1.0, "n_k": 1.0, "n_rs": 1.0}, "n_k", UNDER),
    ("compound_lets_a_fitting_go", {"k_gl": 1.0, "n_k": 1.0, "n_rs": 0.0}, "n_rs", UNDER),
    ("scale_keeps_the_ratio", {"m_b": 0.05, "m_ok": 0.05, "u_mx": 0.5}, "m_b", AT_LEAST),
    ("scale_keeps_the_ratio", {"m_b": 0.04, "m_ok": 0.05, "u_mx": 0.0}, "u_mx", UNDER),
    ("wood_lets_a_bored_hole_hold", {"o_w": 0.5, "V_s": 2e-5}, "o_w", UNDER),
    ("wood_lets_a_bored_hole_hold", {"o_w": 1.0, "V_s": 0.0}, "V_s", UNDER),
    ("wood_round_the_ring_is_not_oily", {"o_w": 1.0, "L_o": 0.06}, "o_w", UNDER),
    ("wood_round_the_ring_is_not_oily", {"o_w": 1.0, "L_o": 0.0}, "L_o", UNDER),
    ("filler_is_for_more_than_fairing", {"k_fa": 0.5, "u_mx": 0.1}, "k_fa", UNDER),
    ("filler_is_for_more_than_fairing", {"k_fa": 1.0, "u_mx": 0.0}, "u_mx", UNDER),
    ("a_batch_goes_into_few_syringes", {"n_mx": 4.0, "V_s": 2e-5, "k_fa": 0.0}, "n_mx", AT_MOST),
    ("a_batch_goes_into_few_syringes", {"n_mx": 6.0, "V_s": 6e-5, "k_fa": 0.0}, "V_s", AT_LEAST),
    ("a_batch_goes_into_few_syringes", {"n_mx": 6.0, "V_s": 2e-5, "k_fa": 0.5}, "k_fa", OVER),
    ("more_is_for_the_work_than_for_the_sample", {"V_wx": 5e-6, "V_mx": 1e-5, "k_fa": 0.0}, "V_wx", AT_LEAST),
    ("more_is_for_the_work_than_for_the_sample", {"V_wx": 4e-6, "V_mx": 1e-5, "k_fa": 0.5}, "k_fa", OVER),
    ("a_base_is_bonded_to_wood_that_holds", {"o_w": 1.0, "L_o": 0.06, "A_b": 0.01}, "o_w", UNDER),
    ("a_base_is_bonded_to_wood_that_holds", {"o_w": 1.0, "L_o": 0.0, "A_b": 0.01}, "L_o", UNDER),
    ("a_base_is_bonded_to_wood_that_holds", {"o_w": 1.0, "L_o": 0.06, "A_b": 0.0}, "A_b", UNDER),
    ("wood_holds_a_seat", {"o_w": 0.5, "h_rs": 0.003}, "o_w", UNDER),
    ("wood_holds_a_seat", {"o_w": 1.0, "h_rs": 0.0}, "h_rs", UNDER),
    ("wood_holds_a_plates_bed", {"o_w": 0.5, "b_rs": 0.06}, "o_w", UNDER),
    ("wood_holds_a_plates_bed", {"o_w": 1.0, "b_rs": 0.0}, "b_rs", UNDER),
]  # fmt: skip


# What only warns: the numbers mean what they say, but there is better to do, or something to mind.
WARNS = """
    a_batch_goes_into_few_syringes a_bed_stays_where_it_is_put a_bush_is_wetted_all_round a_cast_thread_is_filled
    a_large_mix_wastes_no_more_than_a_small_one a_mix_goes_into_few_syringes
    a_mix_is_set_while_the_last_can_be_loosened a_mix_outlasts_a_fitting a_plate_takes_its_epoxy_up
    a_screw_takes_its_epoxy_down all_lifts_can_be_mixed base_takes_its_fasteners batch_stays_cool
    bed_bears_the_opening bed_bears_the_sliding bond_is_as_long_as_the_rules_ask compound_lets_a_fitting_go
    countersink_stays_in_the_plug crown_can_be_measured edge_is_as_far_as_is_asked edge_is_cast_at_once
    edge_is_far_enough_for_the_full_side_load end_is_as_far_as_is_asked far_end_softens fastener_does_not_rust
    fasteners_are_far_enough_apart_for_the_full_side_load
    filler_is_for_more_than_fairing hole_is_as_narrow_as_the_rules_ask holes_are_far_enough
    large_point_stays_inside more_is_for_the_work_than_for_the_sample one_lift_fills_the_bore plate_carries_its_load_at_the_angle plate_is_needed
    plug_stays_cool release_is_for_the_bolts_too resin_comes_first scale_shows_the_strength
    steel_is_not_yet_at_its_end surface_is_dry tool_heats_the_base_too tool_is_strong_enough
    washer_lies_on_the_base wood_holds_a_plates_bed wood_is_stiff_behind_the_plate wood_lets_a_bored_hole_hold
    wood_lets_epoxy_seal
"""


# What has no number where a rule fails, of the rules where that is not just what the rule takes: first the symbols that lose
# their meaning, then the rules. One that is left out there would print a number out of its range.
LIMITED = """
    q_n: fasteners_are_far_enough_apart_for_a_side_load
    T_k: tool_is_weaker_than_a_heat_gun
    n_hot: a_tool_can_hold_the_head tool_is_weak_enough
    d_2 D_1 d_3 A_s: thread_has_a_core
    d_v: thread_is_inside_its_diameter
    D_g: guide_passes_thread
    L_o: guide_hole_is_left
    K_wo: bore_takes_the_worn_wood wall_of_the_plug_is_thick_enough
    x_f: a_joint_is_filled_with_thickened_epoxy filler_suits_a_plug filler_suits_a_bush
    x_f R_w R_y L_n: filler_suits_a_fastener
    m_r m_h: scale_keeps_the_ratio a_base_is_bonded_to_wood_that_holds
    V_mx n_mx m_rc m_hc: something_comes_out
    k_T k_2 k_A k_D R_w R_e: warm_enough_for_the_hardener warm_enough_for_any_hardener warm_enough_to_reckon
    d_y: warm_enough_for_the_ring warm_enough_for_any_ring ring_is_warm_enough_to_reckon wood_round_the_ring_is_not_oily
    k_T k_2 k_A k_D: cool_enough_to_reckon
    r_m m_r m_h m_bl: a_mix_outlasts_its_making
    K_m: the_first_cup_of_a_fitting_outlasts_its_last a_cup_outlasts_the_fitting_that_it_would_do_for
    s_r c_r: grade_is_that_of_a_ramp
    P_1 P_2 P_3: long_enough_for_the_standard short_enough_for_the_standard hull_is_in_the_scope
    L_C: waterline_is_within_the_hull
    F_tow: towed_under_hull_speed
    R_w L_n: thread_is_in_the_range_of_the_model wood_is_not_oily bond_line_is_thick_enough bond_is_long_enough edge_is_far_enough bonds_are_far_enough_apart
    L_n: some_depth_is_enough
    L_n b_p: fastener_is_enough
    R_y R_sy R_y4: side_load_is_for_such_a_thread side_load_is_for_such_a_screw
    R_y R_y4: screw_is_deep_enough_for_a_side_load rod_is_deep_enough_for_a_side_load wood_is_thick_enough_for_a_side_load ring_presses_on_the_wood edge_is_far_enough_for_a_side_load loaded_edge_is_far_enough
    R_y: bed_is_thin_enough_for_a_side_load wood_is_of_a_usual_density
    A_p: hole_leaves_the_washer_its_wood
    b_rs: plate_is_larger_than_its_washer
    W_tr m_ul: packer_is_clear_of_the_bond
    W_tr m_ul q_lv: lever_is_a_lever
    F_tr: rod_bears_the_proof_load
    m_tr: scale_reads_so_far
    w_tr: block_is_wider_than_its_hole
    F_rd u_F: scale_can_read_so_much something_is_pulled
    s_e s_m: base_sits_on_the_crown deadrise_is_a_slope
    R_c: gap_is_that_of_a_crown
    h_b: compound_holds_on_the_wood bed_is_not_squeezed_dry
    h_sl h_op: movement_is_a_part
    t_cu: cure_is_shallow
    D_k: bolt_goes_through
    D_c: wall_is_thick_enough
    n_p: bed_is_one_lift
    s_mo t_eo: edge_stands_on_the_crown
    s_pd: side_pad_stands_on_the_crown
    V_rs: wood_holds_a_seat
    V_rs t_y1 t_f: release_is_chosen
    k_wood: wood_is_heavy_enough wood_is_dry_enough
    g_h D_far: epoxy_has_room
    L_h q_x T_need Q_k: work_is_cooler_than_the_epoxy_softens
    T_k: head_is_cool_enough margin_leaves_some_heat
    T_k T_wall: wall_is_cool_enough
    T_need: head_that_is_needed_is_allowed
    P_sc R_sc R_y R_sy R_y4: pilot_is_small_enough pilot_is_large_enough pilot_is_of_such_a_screw
    R_sc: screw_is_thick_enough thread_is_long_enough
    F_sc F_sct: wood_round_the_screw_is_wide_enough
    D_sc: pilot_leaves_wood_to_cut
    C_sc x_f R_sc: filler_suits_a_screw
    B_bu: ring_is_wide_enough
    D_bu: bush_has_a_wall
    L_bu: bush_is_long_enough
    g_bu: bush_has_a_bed
    E_ct E_bu: screw_is_waxed release_goes_into_a_thread
    L_ct: cast_thread_is_long_enough
    l_ct: screw_ends_in_the_hole
"""


def found(rule: Rule, values: dict[str, float], moved: str) -> tuple[bool, bool, bool]:
    """Whether a rule holds on the edge, above it and below it."""
    step = JUST * (values[moved] or 1.0)
    edge, above, below = ({**values, moved: values[moved] + change} for change in (0.0, step, -step))
    return bool(rule.call(edge)), bool(rule.call(above)), bool(rule.call(below))


@for_each(EDGES)
def test_a_rule_turns_at_its_edge(
    name: str, values: dict[str, float], moved: str, held: tuple[bool, bool, bool]
) -> None:
    assert found(RULES[name], values, moved) == held


def test_a_rule_that_refuses_leaves_something_without_a_number_and_no_other() -> None:
    """A rule turned from one into the other would print a number that means nothing, or none where there is one."""
    assert sorted(name for name, rule in RULES.items() if not rule.refuses) == WARNS.split()
    assert [name for name, rule in RULES.items() if bool(rule.limits) is not rule.refuses] == []


def test_a_rule_that_refuses_limits_what_loses_its_meaning() -> None:
    limited = {
        rule: tuple(symbols.split())
        for symbols, rules in (line.split(": ") for line in LIMITED.strip().split("\n"))
        for rule in rules.split()
    }
    for name, rule in RULES.items():
        if rule.refuses:
            assert sorted(rule.limits) == sorted(limited.pop(name, rule.parameters)), name
    assert not limited


def test_a_mix_is_stiff_or_not_and_the_rows_are_as_the_rules_take_them(library: Library) -> None:
    """Of a joint that wants it both ways a stiff mix is told to be soft, and any other to be stiff, by all the rules
    that say so: the rows, and to both sides of where the rules turn."""
    rows = {name: row.gives["u_q"].value for name, row in library.choices["consistency"].rows.items()}
    assert rows["soft"] < 0.8 <= rows["stiff"]
    told = defaultdict(set)
    for rule in RULES.values():
        if "u_q" in rule.parameters and rule.said.endswith((": take it stiff", ": take it soft or sagging")):
            for part in (0.8, math.nextafter(0.8, 0), *rows.values()):
                told[part].add((rule.said, bool(rule.call(dict.fromkeys(rule.parameters, 1e-6) | {"u_q": part}))))
    assert len(told) == len({0.8, math.nextafter(0.8, 0), *rows.values()})
    for part, found in told.items():
        assert {said.rpartition(": ")[2] for said, holds in found if not holds} == {
            "take it soft or sagging" if part >= 0.8 else "take it stiff"
        }, part


def closes(rule: Rule) -> bool:
    """Whether the units of a rule close; `check` refuses any other."""
    try:
        prove(rule)
    except UnitFault:
        return False
    return True


def test_the_edges_notice_every_change_of_a_rule_in_one_place() -> None:
    edges = defaultdict(list)
    for name, values, moved, held in EDGES:
        edges[name].append((values, moved, held))
    assert edges.keys() == RULES.keys()
    made, alike = 0, []
    for name, rule in RULES.items():
        for what, other in changed(rule):
            made += 1
            if all(found(other, values, moved) == held for values, moved, held in edges[name]) and closes(other):
                alike.append(what)
    assert made > 300
    assert not alike, "\n".join(alike)


@pytest.mark.parametrize("theta", [math.radians(angle) for angle in (0, 17, 30, 45, 62, 90)])
@pytest.mark.parametrize(
    ("name", "along", "across"),
    [
        ("angled_pull", ("F_w",), "F_yn"),
        ("lasting_angled_pull", ("F_l",), "F_ynl"),
        ("angled_pull_on_a_screw", ("F_sc",), "F_yn"),
        ("angled_pull_on_a_washer", ("F_p", "F_s"), "F_yn"),
        ("angled_pull_on_a_plate", ("F_rs", "F_s"), "F_yn"),
    ],
)
def test_an_angled_pull_goes_by_both_its_parts(name: str, along: tuple[str, ...], across: str, theta: float) -> None:
    """A pull at an angle has a part along and a part across; at the load given each is used up in its own measure, and
    both together to the full, on a straight line."""
    (formula,) = (one for one in FORMULARY.formulas if one.function.__name__ == name)
    values = {symbol: 900.0 + 300 * place for place, symbol in enumerate(along)} | {across: 700.0, "theta_p": theta}
    load = formula.call(values)
    assert load * math.cos(theta) / 900.0 + load * math.sin(theta) / 700.0 == pytest.approx(1.0)
