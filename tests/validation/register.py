"""The register of figures: each published figure or habit of the trade that we build on, where it
stands, how far it is to be trusted, and the tests that hold us to it.

Trust, one or more letters to a row:

    P  published: read in the document, or in a source that quotes it
    D  worked out of published figures, or plain geometry and arithmetic
    M  from memory of the published document; the test says "from memory"
    T  of the trade, without a source; the test says "common practice"

test_register.py checks that the tests are there and say so. A figure that is new in calc/ gets
its row here, and its subject one more.
"""

from collections import namedtuple

# what: the figure, in a few words; where: document, and its table or section; trust: letters as
# above; cites: what each test's file in this folder must name, "" for nothing beyond the letters;
# tests: "file::test", without parameters
Row = namedtuple("Row", "what where trust cites tests")


def _row(what, where, trust, cites, *tests):
    """A Row; a test without a folder is of tests/validation/, and "test_" is put before both."""
    full = []
    for one in tests:
        file, name = one.split("::")
        folder, _, file = file.rpartition("/")
        full.append(f"tests/{folder or 'validation'}/test_{file}.py::test_{name}")
    return Row(what, where, trust, cites, tuple(full))


UNITS = [
    _row(
        "1 in = 25.4 mm, exactly",
        "NBS Circular 572 addendum; NIST Handbook 44, App. C",
        "P", "NBS Circular 572",
        "units::the_international_inch", "unit_conversions::lengths_as_pint_has_them",
    ),
    _row(
        "36 in -> 91 cm, 40.1 in -> 101.9 cm: no precision is gained",
        "NIST Letter Circular 1137",
        "P", "NIST Letter Circular 1137",
        "units::a_conversion_gains_no_precision",
        "units::a_typed_conversion_is_shown_no_finer_than_the_tape_reads",
    ),
    _row(
        "Rounding to 1/n errs by 1/(2n): 1/32 at 1/16, eight such cuts 1/4 in; one datum",
        "arithmetic",
        "D", "arithmetic",
        "units::eight_cuts_from_one_datum",
        "tape_directive::eight_cuts_to_a_sixteenth_may_be_a_quarter_out",
    ),
    _row(
        "Tape classes I, II, III: 0.1 + 0.1 L, 0.3 + 0.2 L, 0.6 + 0.4 L, whole metres up",
        "Directive 2014/32/EU, annex X (MI-008)",
        "P", "2014/32/EU",
        "tape_directive::limits_by_class",
        "tape_directive::a_length_counts_as_the_next_whole_metre",
        "tape_directive::the_calculator_gives_the_same",
    ),
    _row(
        "Heavy and light: 1/32 in over and under, always shown",
        "no source",
        "T", "common practice",
        "units::heavy_and_light_are_a_thirty_second",
    ),
    _row(
        "36, 48, 60 is square; 60-1/16 means 90.124 degrees",
        "geometry",
        "D", "geometry",
        "squares_rakes_and_mitres::36_48_60_is_square",
        "squares_rakes_and_mitres::a_diagonal_a_sixteenth_long_means_90_124_degrees",
    ),
    _row(
        "1/4 in per ft 20.83 mm/m; 1 degree 17.46; 3/8 in 32 in 11.72, 0.671 degrees",
        "geometry",
        "D", "geometry",
        "units::slopes", "units::a_lean_in_degrees",
        "squares_rakes_and_mitres::a_quarter_inch_in_a_foot_is_20_83_mm_per_metre",
        "squares_rakes_and_mitres::one_degree_is_17_46_mm_per_metre",
        "squares_rakes_and_mitres::three_eighths_in_32_is_11_72_mm_per_metre_and_0_671_degrees",
    ),
]  # fmt: skip

BOARDS = [
    _row(
        "Dressed: 1 thick 3/4; 4, 6, 8, 10, 12 wide 3-1/2, 5-1/2, 7-1/4, 9-1/4, 11-1/4",
        "PS 20, American Softwood Lumber Standard",
        "P", "PS 20",
        "board_tables::dressed_widths_of_the_standard",
        "board_tables::dressed_lapped_widths_are_those_of_the_standard",
    ),
    _row(
        "Tongue-and-groove 4 to 10: overall, face, lineal and board factors",
        "western lumber association coverage table",
        "P", "lumber association coverage table",
        "board_tables::coverage_table", "board_tables::coverage_table_by_the_estimate",
    ),
    _row(
        "Lapped 6 and 8, 1/2 lap: overall, face, factors; overall and face are entries",
        "western lumber association coverage table",
        "P", "lumber association coverage table",
        "board_tables::coverage_table", "board_tables::coverage_table_by_the_estimate",
    ),
    _row(
        "(area - openings) x 1.10 x factor: 100 sq ft of 1x6 is 257.4 ft",
        "western lumber association coverage table",
        "P", "lumber association coverage table",
        "board_tables::the_estimate_of_100_square_feet_is_257_4",
        "board_tables::estimate_of_100_square_feet",
        "board_tables::a_tenth_is_offered_for_what_is_cut_off",
    ),
    _row(
        "Lengths in whole feet, mostly 6 to 20 ft by 2",
        "no source",
        "T", "common practice",
        "common_practice::boards_come_in_whole_feet",
    ),
    _row(
        "96 in at 5-1/8: 18 full + 3-3/4, or 17 + two of 4-7/16",
        "arithmetic",
        "D", "arithmetic",
        "board_tables::eighteen_full_and_a_rip_or_seventeen_and_two",
        "board_tables::96_inches_by_the_estimate",
    ),
    _row(
        "Joint gaps 0.012 in (0.3 mm) flat, 0.025 in (0.65 mm) shaped, over 30 % of the joint",
        "Architectural Woodwork Standards, 1st ed. 2009, 6.1.10",
        "P", "Architectural Woodwork Standards",
        "joint_gaps::the_limit_is_the_metric_one_and_near_the_inch_one",
        "joint_gaps::a_wider_joint_warns",
        "joint_gaps::the_limits_are_told_with_where_they_stand",
    ),
    _row(
        "Never two joints on a stud in neighbouring courses; ends on stud centres; 96 on 16s",
        "no source",
        "T", "common practice",
        "board_tables::neighbouring_courses_never_join_on_one_stud",
        "board_tables::a_96_inch_board_runs_from_stud_centre_to_stud_centre",
        "board_tables::joints_and_the_ends_at_them_are_on_stud_centres",
        "plate_layout::a_96_inch_board_runs_from_stud_centre_to_stud_centre",
    ),
]  # fmt: skip

FRAMING = [
    _row(
        "First stud's near edge at 15-1/4, then every 16 in: centres 16 to 96",
        "US Navy Builder manual NAVEDTRA 14044, plate layout",
        "P", "NAVEDTRA 14044",
        "plate_layout::centres_of_the_worked_layout",
    ),
    _row(
        "The adjoining wall is panelled first: 15-3/4 from the bare corner with 1/2 in",
        "US Navy Builder manual NAVEDTRA 14044, plate layout",
        "P", "NAVEDTRA 14044",
        "plate_layout::the_adjoining_wall_is_panelled_first",
    ),
    _row(
        "19.2 in is 96/5",
        "tape convention",
        "D", "tape convention",
        "units::the_19_2_mark_is_a_fifth_of_96",
        "plate_layout::every_inch_spacing_comes_out_at_96",
    ),
    _row(
        "Metric centres 400, 450, 600 mm",
        "common practice",
        "M", "common practice",
        "metric_centres_from_memory::they_are_offered_from_memory",
        "metric_centres_from_memory::marks_stand_so_far_apart_from_memory",
    ),
    _row(
        "Plumb: 3/8 in 32 in, 1/4 in 10 ft, 1/4 in 8 ft, 1/8 in 8 ft; 11.72 to 1.30 mm/m",
        "survey of light-frame tolerance limits",
        "P", "light-frame",
        "plumb_limits::limits_in_mm_per_metre",
        "plumb_limits::a_level_that_reads_a_limit_keeps_it",
        "plumb_limits::the_strictest_limit_that_a_lean_over_8_ft_keeps",
        "units::slopes",
    ),
    _row(
        "Neighbouring studs within 1/8 in for wallboard",
        "ASTM C840, GA-216",
        "M", "ASTM C840",
        "stud_alignment_from_memory::an_eighth_between_neighbours_from_memory",
        "stud_alignment_from_memory::the_job_says_it_with_its_source_from_memory",
    ),
    _row(
        "Against a rake a course changes by face x run/rise: 15.375 in; factors of four pitches",
        "geometry",
        "D", "geometry",
        "squares_rakes_and_mitres::a_course_of_5_1_8_at_4_12_changes_by_15_375",
        "squares_rakes_and_mitres::rake_factors",
        "plumb_limits::a_plank_against_a_rake",
    ),
    _row(
        "Mitre 90 - corner/2: 45, 22.5, 44; raked head at 4:12: 35.783 and 54.217",
        "geometry",
        "D", "geometry",
        "squares_rakes_and_mitres::mitres_from_square",
        "squares_rakes_and_mitres::a_raked_head_at_4_12",
    ),
]  # fmt: skip

MOISTURE = [
    _row(
        "dD = D x C x (MF - MI), good from 6 to 14 %",
        "Wood Handbook (FPL-GTR-190), ch. 13",
        "P", "Wood Handbook",
        "wood_movement_tables::the_formula_says_where_it_holds",
        "restraint::boards_on_the_wall_move_as_the_formula_has_a_loose_board",
    ),
    _row(
        "5 in, C 0.00129, 6 to 9 %: +0.01935 in",
        "trade reprint of the Wood Handbook, ch. 13",
        "P", "Wood Handbook",
        "wood_movement_tables::worked_example_of_five_inches",
    ),
    _row(
        "White fir, 9.15 in (232 mm), 8 to 11 %: +0.067 in, 1.705 mm",
        "Wood Handbook, ch. 13, example; arithmetic",
        "MD", "Wood Handbook",
        "wood_movement_tables::worked_example_of_white_fir_from_memory",
    ),
    _row(
        "Coefficients of twelve hardwoods, red oak to black walnut",
        "Wood Handbook, Table 13-5",
        "P", "Table 13-5",
        "wood_movement_tables::table_13_5", "wood_movement_tables::every_species_is_checked_here",
    ),
    _row(
        "Coefficients of six more, western redcedar to yellow-poplar",
        "Wood Handbook, Table 13-5; shrinkage: Table 4-3",
        "MP", "Table 13-5",
        "wood_movement_tables::table_13_5_from_memory",
        "wood_movement_tables::coefficients_follow_from_shrinkage",
    ),
    _row(
        "Coefficients of nine softwoods, and radiata pine by its shrinkage",
        "Wood Handbook, Table 13-5",
        "M", "Table 13-5",
        "wood_movement_tables::table_13_5_from_memory",
        "wood_movement_tables::a_wood_that_nobody_knows_moves_as_the_worst_softwood",
    ),
    _row(
        "C = 1 / (100 F / S - F + 10), within 0.000015 of the table",
        "Wood Handbook, Table 4-3",
        "PD", "Table 4-3",
        "wood_movement_tables::coefficients_follow_from_shrinkage",
        "wood_movement_tables::the_formula_of_shrinkage_by_hand",
    ),
    _row(
        "EMC by temperature and humidity, in degrees C and F",
        "Wood Handbook, equation 4-5",
        "P", "equation 4-5",
        "wood_moisture_tables::the_forms_for_celsius_and_fahrenheit_agree",
        "wood_moisture_tables::20_degrees_and_50_percent",
    ),
    _row(
        "EMC, 8 humidities at 5 temperatures, within 0.07",
        "Wood Handbook, Table 4-2",
        "P", "Table 4-2",
        "wood_moisture_tables::table_4_2", "wood_moisture_tables::table_4_2_through_the_calculator",
    ),
    _row(
        "EMC(20 C, 50 %) = 9.271141; both forms within 0.02 over 30 to 130 F, up to 85 %",
        "published output of a package; computed",
        "PD", "published output of a package",
        "wood_moisture_tables::20_degrees_and_50_percent",
        "wood_moisture_tables::the_forms_for_celsius_and_fahrenheit_agree",
    ),
    _row(
        "Indoors: most of the US 8 %, dry southwest 6 %, damp warm coast 11 %",
        "Wood Handbook, fig. 13-1",
        "P", "fig. 13-1",
        "wood_moisture_tables::fig_13_1_usual_moisture_indoors",
        "wood_moisture_tables::a_job_may_name_each_of_these_climates_and_no_other",
    ),
    _row(
        "Pieces when hung: 6 to 10, 4 to 9, 8 to 13 %",
        "Wood Handbook, Table 13-2",
        "M", "Table 13-2",
        "wood_moisture_tables::table_13_2_pieces_at_installation_from_memory",
    ),
    _row(
        "Nothing off the movement for restraint",
        "FPL research paper, Treesearch 64430",
        "P", "Treesearch 64430",
        "restraint::boards_on_the_wall_move_as_the_formula_has_a_loose_board",
        "restraint::the_working_says_so",
    ),
    _row(
        "MDF: under 0.33 % (50 to 80 % humidity from memory), thickness 0.125 mm; 7.92 in 2400",
        "ANSI A208.2-2009",
        "PM", "ANSI A208.2-2009",
        "mdf_standard::2400_mm_grow_by_at_most_7_92", "mdf_standard::its_thickness_is_told",
        "mdf_standard::the_span_of_humidity_is_told_from_memory",
    ),
]  # fmt: skip

FASTENERS = [
    _row(
        "Steel wire gauge 15 .0720, 16 .0625, 18 .0475 in; never AWG",
        "wire gauge tables",
        "P", "wire gauge tables",
        "wire_gauges::the_table", "wire_gauges::the_calculator_says_it",
        "wire_gauges::no_gauge_is_awg",
    ),
    _row(
        "4d 1-1/2, 6d 2, 8d 2-1/2, 10d 3 in: 0.5 + 0.25 d",
        "carpentry texts",
        "P", "carpentry texts",
        "penny_sizes::printed_sizes", "penny_sizes::the_rule_is_exact_in_quarters",
    ),
    _row(
        "Withdrawal 54.12 (7850) G^2.5 D L: 56.1 lb",
        "Wood Handbook, ch. 8",
        "P", "Wood Handbook",
        "nail_withdrawal::the_worked_figure", "nail_withdrawal::both_forms_agree",
    ),
    _row(
        "Allowable 1380 G^2.5 D: 38 lb/in",
        "AWC NDS",
        "P", "AWC NDS",
        "design_withdrawal::the_worked_figure",
    ),
    _row(
        "A nail is three times as long as what it holds is thick",
        "US Navy manual 14119",
        "P", "US Navy manual 14119",
        "navy_nail_length::three_times", "navy_nail_length::the_other_rule_stands_beside_the_first",
    ),
    _row(
        "Through wallboard: boards + wallboard + 1 in",
        "no source",
        "T", "common practice",
        "navy_nail_length::through_the_wallboard_and_an_inch_into_the_stud_common_practice_no_source",
    ),
    _row(
        "Fibreboard: 20 mm into the supports",
        "Ontario O. Reg. 332/12, 9.29",
        "P", "O. Reg. 332/12",
        "fibreboard_supports::the_figure", "fibreboard_supports::less_warns_of_mdf_alone",
        "fibreboard_supports::a_job_of_mdf_wants_it",
    ),
    _row(
        "Two nails at each stud and at each end",
        "no source",
        "T", "common practice",
        "common_practice::two_nails_a_stud_and_two_an_end", "trade/nails::counts_follow_the_job",
    ),
    _row(
        "Panelling under 1/4 in: 3/8 in gypsum behind, studs 16 in apart at most",
        "IRC R702.5",
        "P", "R702.5",
        "thin_panelling::gypsum_behind", "thin_panelling::studs_at_most_16",
    ),
    _row(
        "Interior finish: flame spread 200, smoke 450",
        "IRC R302.9",
        "P", "R302.9",
        "thin_panelling::flame_spread_and_smoke",
    ),
]  # fmt: skip

BOXES = [
    _row(
        "Box or extender at the face of wood and MDF; 1/4 in back where that does not burn",
        "NEC (NFPA 70) 314.20",
        "P", "314.20",
        "box_at_the_surface::a_box_flush_with_drywall_under_a_3_4_plank_needs_3_4",
        "box_at_the_surface::calculator_and_section_want_the_same_3_4",
        "box_at_the_surface::more_than_a_quarter_back_is_named",
        "box_at_the_surface::set_back_counts_on_top",
    ),
    _row(
        "Gap at a box 1/8 in; on wood a limit of workmanship, said so",
        "NEC (NFPA 70) 314.21",
        "P", "314.21",
        "box_at_the_surface::a_gap_over_an_eighth_warns", "box_at_the_surface::the_sections_gap",
        "box_at_the_surface::cautions_name_the_sections_and_defer_to_local_code",
    ),
    _row(
        "Yoke held at the surface; the plate covers the opening and seats",
        "NEC (NFPA 70) 406.5, before 2011 406.4",
        "P", "406.5",
        "box_at_the_surface::a_plate_seats_on_a_box_that_is_not_past_the_boards",
        "box_at_the_surface::an_open_cut_is_named",
        "box_at_the_surface::the_device_is_held_at_the_surface_and_told_so",
    ),
    _row(
        "Cable 1-1/4 in from the edge or a 1/16 in plate, no guarantee; pipes 1-1/2 in in some",
        "NEC (NFPA 70) 300.4(A)(1), (D); IRC P2603",
        "P", "300.4",
        "cables_in_studs::the_figure", "cables_in_studs::more_than_that_into_the_stud_warns",
        "cables_in_studs::the_caution_is_there_whatever_the_nail",
        "cables_in_studs::edge_plate_and_pipes_are_told",
    ),
    _row(
        "Device screws 3-9/32 in, gangs 1-13/16 in",
        "NEMA WD 6 / OS 1",
        "P", "NEMA WD 6",
        "device_plates::us_device_screws", "device_plates::us_gangs_stand_so_far_apart",
    ),
    _row(
        "Plates 4-1/2 high, 2-3/4 + 1-13/16 (n - 1) wide; larger ones are entries",
        "NEMA WD 6",
        "P", "NEMA WD 6",
        "device_plates::us_plates", "device_plates::box_extension_takes_them",
        "device_plates::a_larger_plate_is_an_entry",
    ),
    _row(
        "UK 60.3 and 120.6 mm; continental 60, 71 and 68 mm; AU/NZ 84 mm",
        "BS 4662 and national tables",
        "P", "BS 4662",
        "device_plates::metric_screws", "device_plates::a_box_narrower_than_its_screws_is_named",
        "device_plates::a_continental_hole_is_68_mm",
    ),
    _row(
        "Cut no farther than the wallboard at the screw ends, so that the ears bear",
        "no source",
        "T", "common practice",
        "common_practice::cut_no_farther_than_the_wallboard_at_the_screw_ends",
    ),
]  # fmt: skip

TRIM = [
    _row(
        "4-1/2 in of wall takes a jamb of 4-9/16, 6-1/2 one of 6-9/16",
        "trade tables of jamb depths",
        "P", "trade tables",
        "jamb_tables::jamb_and_extension_make_the_new_wall",
    ),
    _row(
        "The jamb extends by the cladding less what it is proud",
        "no source",
        "T", "common practice",
        "jamb_tables::jamb_and_extension_make_the_new_wall",
        "jamb_tables::in_a_job_the_jamb_and_its_extension_make_the_new_wall",
    ),
    _row(
        "Reveal 1/8 to 1/4 in, often 3/16",
        "no source",
        "T", "common practice",
        "jamb_tables::the_reveal_offered_is_the_usual_one",
        "jamb_tables::reveals_out_of_the_usual_range_warn",
        "casing_long_points::the_usual_reveal",
    ),
    _row(
        "Long points: head opening + 2 reveal + 2 casing; legs height + reveal + casing",
        "geometry",
        "D", "geometry",
        "casing_long_points::head_and_legs", "casing_long_points::head_and_legs_in_a_job",
    ),
]  # fmt: skip

COATS_AND_HEALTH = [
    _row(
        "1604 x solids / mils, 1000 x solids / um, times what reaches the surface",
        "coatings practice guides",
        "P", "coatings practice guides",
        "coatings_guides::five_mils_of_65_percent",
        "coatings_guides::125_micrometres_of_65_percent", "coatings_guides::transfer_efficiency",
    ),
    _row(
        "Smooth primed 350 to 400 sq ft/gal, raw 10 to 20 % less; the label governs",
        "no source",
        "T", "common practice",
        "coatings_guides::a_smooth_primed_surface_takes_what_is_usual",
        "coatings_guides::a_raw_surface_takes_a_tenth_to_a_fifth_more",
        "coatings_guides::the_label_governs_where_solids_or_film_lack",
    ),
    _row(
        "Dry about 24 h before hanging, filler 1 to 5 h, 120 grit, nap 1/2 against 3/8",
        "no source",
        "T", "common practice",
        "common_practice::over_night_before_hanging_and_hours_before_sanding",
        "common_practice::a_deeper_nap_leaves_more_texture_and_the_sponge_is_fine",
        "coatings_guides::times_offered_are_the_usual_ones",
    ),
    _row(
        "Face, both edges and the lap are coated before hanging",
        "no source",
        "T", "common practice",
        "common_practice::face_both_edges_and_the_lap_are_coated_before_hanging",
        "trade/coats::boards_are_coated_whole_with_both_edges",
    ),
    _row(
        "Lead: before 1978, over 6 sq ft a room, windows always; no safe amount",
        "40 CFR 745 subpart E",
        "P", "40 CFR 745",
        "health_limits::lead", "health_limits::lead_comes_up_where_the_house_may_be_old",
    ),
    _row(
        "Silica 50 micrograms a cubic metre, action level 25",
        "29 CFR 1926.1153",
        "P", "29 CFR 1926.1153",
        "health_limits::silica",
    ),
    _row(
        "Wood dust 15 mg a cubic metre, 5 of what is breathed in",
        "29 CFR 1910.1000, Table Z-1",
        "M", "29 CFR 1910.1000",
        "health_limits::wood_dust_from_memory",
    ),
]  # fmt: skip

_SHOWN = ("trade/cautions::it_says_what_it_must", "trade/cautions::it_is_shown_at_its_step")
# Trust C: a caution, by what is at risk; its figures have rows of their own above.
CAUTIONS = [
    _row("Electricity", "common practice; NEC 314.20", "C", "", *_SHOWN,
         "trade/cautions::electricity_is_not_asked_where_no_device_is"),
    _row("Hidden cables and pipes", "NEC 300.4; IRC P2603", "C", "", *_SHOWN,
         "cables_in_studs::the_caution_is_there_whatever_the_nail"),
    _row("Lead and asbestos", "40 CFR 745 subpart E", "C", "", *_SHOWN,
         "health_limits::lead_comes_up_where_the_house_may_be_old"),
    _row("Dust, nailers, saws, ladders 4 to 1", "common practice, from memory", "CM", "", *_SHOWN,
         "trade/cautions::one_foot_out_for_four_up_is_from_memory"),
    _row("Heaters, flues, vents, alarms, panels", "common practice", "C", "", *_SHOWN,
         "trade/cautions::the_plan_and_its_view_show_what_comes_before_any_cut"),
    _row("Damp walls, and boards that come to the room's moisture", "common practice", "C", "",
         *_SHOWN, "trade/cautions::a_damp_wall_is_told_where_air_or_boards_are_damp"),
]  # fmt: skip

REGISTER = {
    "units and tape": UNITS,
    "boards": BOARDS,
    "framing, level, plumb": FRAMING,
    "moisture and movement": MOISTURE,
    "fasteners": FASTENERS,
    "boxes": BOXES,
    "windows and trim": TRIM,
    "coats and health": COATS_AND_HEALTH,
    "cautions": CAUTIONS,
}
