//! Tests that call a running service, in one binary, so that what it has answered can be counted.
//!
//! The tests run one after another against one service (some start another with settings of their own). The last of
//! all, [`coverage`], looks at what was counted while the others ran; it runs whenever none was left out.
//! A test that is not in the list below is dead code, which the compiler reports.

mod answers;
mod batches;
mod client;
mod coverage;
mod digests;
mod drift;
mod equivalents;
mod faults;
mod formats;
mod http;
mod json_texts;
mod limits;
mod mutations;
mod operator;
mod packing;
mod pages;
mod quick;
mod quick_forms;
mod replays;
mod runner;
mod schema;
mod sheets;
mod site;
mod sockets;
mod tables;
mod traces;
mod validation;
mod words;

use std::process::ExitCode;

macro_rules! suite {
    ($($module:ident: $($test:ident),+;)+) => {
        vec![$($(runner::Case::new(
            concat!(stringify!($module), "::", stringify!($test)),
            |service| Box::pin($module::$test(service)),
        ),)+)+]
    };
}

fn main() -> ExitCode {
    let mut cases = suite! {
        answers: verify_every_example_is_answered_with_all_that_an_answer_has,
            verify_what_does_not_fit_is_an_answer,
            verify_a_failed_check_is_an_answer;
        batches: verify_each_line_is_answered_in_order_as_by_its_own_address,
            verify_a_bad_line_harms_only_itself,
            verify_what_is_no_batch_is_a_problem,
            verify_answers_go_out_while_lines_come,
            verify_a_batch_that_breaks_off_says_so,
            verify_a_client_that_leaves_a_batch_stops_it,
            verify_batches_leave_others_a_place;
        client: verify_the_typed_client_reads_every_answer,
            verify_the_typed_client_gives_problems_as_errors;
        digests: verify_spelling_and_order_do_not_change_the_digest,
            verify_the_same_request_gives_the_same_bytes,
            verify_a_permalink_gives_the_same_answer,
            verify_a_permalink_is_not_computed_again_for_who_has_the_answer,
            verify_head_of_a_permalink_is_as_get_without_a_body,
            verify_a_permalink_that_cannot_be_read_is_a_problem,
            verify_a_request_too_long_for_an_address_says_so;
        drift: verify_the_committed_descriptions_are_those_served;
        equivalents: verify_units_of_the_answer_change_nothing_else,
            verify_units_of_the_request_change_nothing,
            verify_the_order_of_points_changes_nothing,
            verify_the_origin_of_the_plan_changes_nothing;
        faults: verify_four_faults_are_named_in_document_order,
            verify_a_range_alone_is_unprocessable,
            verify_unknown_ids_are_named_with_the_nearest,
            verify_no_equilibrium_is_unprocessable_with_its_direction,
            verify_contradictions_are_unprocessable;
        formats: verify_tables_have_their_units_in_the_head,
            verify_the_parameter_wins_over_the_header,
            verify_formats_that_do_not_exist_are_refused,
            verify_lists_have_tables,
            verify_unknown_and_double_parameters_are_refused;
        http: verify_addresses_and_methods_that_do_not_exist,
            verify_bodies_too_large_are_refused,
            verify_bodies_of_other_types_are_refused,
            verify_the_request_id_is_echoed,
            verify_no_origin_may_read_unless_configured,
            verify_configured_origins_may_read_and_others_not,
            verify_answers_are_compressed_for_who_takes_it;
        json_texts: verify_texts_that_are_json_are_read,
            verify_texts_that_are_not_json_are_refused,
            verify_double_fields_are_refused,
            verify_odd_values_in_fields_are_faults_and_no_more;
        limits: verify_the_limits_are_those_of_the_schema,
            verify_each_bound_is_inclusive;
        mutations: verify_no_request_breaks_the_service;
        packing: verify_points_that_differ_go_up_level,
            verify_ends_in_turn_take_half_the_rams,
            verify_rams_at_rest_take_nothing_off_the_least_pressure,
            verify_a_load_turns_about_the_stacks_of_the_end_that_stands,
            verify_a_second_support_is_not_taken_for_checked,
            verify_a_load_comes_down_on_to_its_skids,
            verify_what_is_wrong_with_a_way_is_said,
            verify_a_weak_piece_is_left_out;
        pages: verify_pages_need_nothing_from_elsewhere,
            verify_the_portal_is_one_script,
            verify_every_problem_has_its_help,
            verify_health_and_lists_are_answered,
            verify_known_values_come_out_on_this_server;
        replays: verify_every_example_replayed_is_the_same,
            verify_the_example_of_a_replay_is_the_same,
            verify_an_edited_answer_is_told_where,
            verify_what_is_no_answer_is_a_problem,
            verify_a_saved_answer_may_be_larger_than_a_request,
            verify_the_typed_client_replays;
        schema: verify_required_fields_are_those_of_the_reader,
            verify_fields_are_those_of_the_reader,
            verify_examples_keep_to_the_schema,
            verify_answers_keep_to_the_schema;
        sheets: verify_the_demo_lifts_are_sheets,
            verify_the_same_figures_in_json_table_and_sheet,
            verify_what_was_not_checked_is_as_large_as_the_verdict,
            verify_one_word_opens_another_view,
            verify_words_that_no_view_takes_are_refused,
            verify_a_verification_is_a_sheet_too,
            verify_hostile_names_harm_no_sheet;
        site: verify_readings_say_whether_the_plan_stands,
            verify_the_order_of_readings_changes_nothing;
        validation: verify_validating_says_of_a_request_what_its_answer_does,
            verify_validating_finds_the_same_faults,
            verify_validating_computes_nothing;
        words: verify_every_symbol_of_the_examples_has_words;
    };
    cases.extend(of_operation());
    cases.extend(of_spreadsheets());
    runner::run(&cases)
}

/// What cells, tables and macros of spreadsheets ask.
fn of_spreadsheets() -> Vec<runner::Case> {
    suite! {
        quick: verify_the_answer_is_that_of_the_search,
            verify_each_parameter_is_described_with_an_example,
            verify_a_guessed_centre_is_never_a_pass,
            verify_each_value_is_that_of_the_recommended_set,
            verify_where_nothing_fits_the_values_say_so,
            verify_equal_shares_are_called_a_guess,
            verify_faults_are_at_their_parameters,
            verify_a_cell_shows_what_is_wrong,
            verify_the_header_chooses_where_no_parameter_does,
            verify_head_and_known_answers_compute_nothing,
            verify_the_typed_client_asks_by_parameters,
            verify_the_readme_shows_real_cells;
        quick_forms: verify_each_form_answers_as_its_calculation,
            verify_each_form_describes_what_it_takes,
            verify_values_are_those_of_the_answer,
            verify_what_is_not_given_is_never_a_pass,
            verify_points_may_be_listed,
            verify_faults_of_each_form_are_at_their_parameters,
            verify_decimal_commas_go_in_and_out,
            verify_the_plain_dialect_can_be_split;
        tables: verify_a_table_is_answered_row_by_row,
            verify_both_decimal_conventions_give_the_same,
            verify_every_enquiry_has_a_table,
            verify_a_table_that_is_none_is_refused,
            verify_five_hundred_rows_are_answered,
            verify_rows_are_counted_like_any_calculation,
            verify_a_table_is_answered_from_the_lists_sent_with_it,
            verify_what_is_wrong_with_a_form_is_said,
            verify_as_many_tables_as_may_be_are_answered_at_once,
            verify_the_page_writes_a_formula_that_asks_this_service;
    }
}

/// What an operator relies on.
fn of_operation() -> Vec<runner::Case> {
    suite! {
        operator: verify_a_key_is_asked_for_where_there_are_keys,
            verify_a_key_that_asks_too_often_waits_and_others_do_not,
            verify_what_happens_is_counted,
            verify_every_calculation_is_counted_by_its_verdict,
            verify_the_operator_may_have_an_address_of_its_own,
            verify_a_trace_is_continued,
            verify_every_answer_closes_what_browsers_leave_open;
        sockets: verify_who_sends_on_still_reads_the_refusal,
            verify_who_says_nothing_is_cut_off,
            verify_a_head_that_dribbles_is_cut_off,
            verify_a_body_that_dribbles_is_cut_off,
            verify_a_client_that_leaves_harms_nobody,
            verify_a_full_queue_is_refused_with_a_time_to_come_back;
        traces: verify_a_collector_is_told_of_every_request,
            verify_a_collector_that_sends_on_is_not_followed,
            verify_a_collector_that_is_gone_harms_nothing;
    }
}
