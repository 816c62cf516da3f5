//! Published coefficients of continuous beams, and cases of our own computed with another library.

use super::*;

const STIFF: f64 = 1e13;

/// Equal spans of 5 m, E I = 1e6 N m², nearly rigid supports, 2 kN/m.
fn spans(count: u32) -> Girder {
    let supports: Vec<(f64, f64, f64)> = (0..=count).map(|i| (5.0 * f64::from(i), STIFF, 0.0)).collect();
    let end = 5.0 * f64::from(count);
    girder((0.0, end), 1e6, &supports, vec![uniform(0.0, end, 2e3)])
}

/// Parts of w L of each reaction, and of w L² of the greatest hogging moment.
#[track_caller]
fn check_line_load(count: u32, reactions: &[f64], hogging: f64) {
    let state = solve(&spans(count)).unwrap();
    let expected: Vec<f64> = reactions.iter().map(|r| r * 1e4).collect();
    near(&state.reactions_n, &expected, 1e-8 * 1e4);
    assert!((state.hogging.moment_nm / 5e4 - hogging).abs() < 1e-8, "{:?}", state.hogging);
    assert!(state.residual < 1e-12);
}

/// Hicks, *Civil Engineering Formulas*, Table 2.1, p. 50.
#[test]
fn validate_two_spans() {
    check_line_load(2, &[3.0 / 8.0, 10.0 / 8.0, 3.0 / 8.0], -1.0 / 8.0);
}

/// Hicks, *Civil Engineering Formulas*, Table 2.1, p. 50.
#[test]
fn validate_three_spans() {
    check_line_load(3, &[0.4, 1.1, 1.1, 0.4], -0.1);
}

/// Hicks, *Civil Engineering Formulas*, Table 2.1, p. 50; the digits as computed with `PyNiteFEA` 3.2.0: 0.392857,
/// 1.142857, 0.928571; 0.107143.
#[test]
fn validate_four_spans() {
    check_line_load(4, &[11.0, 32.0, 26.0, 32.0, 11.0].map(|v| v / 28.0), -3.0 / 28.0);
}

/// Change of the reactions when one support of spans of 5 m with E I = 1e6 N m² settles by 0.01 m; also by difference
/// of two states at rest under a load that keeps all in contact.
#[track_caller]
fn check_settlement(count: u32, settles: usize, expected: &[f64]) {
    let mut beam = spans(count);
    let full = influence(&beam).unwrap();
    let change: Vec<f64> = full.raise_n_per_m.iter().map(|row| row[settles] * -0.01).collect();
    near(&change, expected, 1e-4);
    let before = solve(&beam).unwrap();
    beam.supports[settles].level_m = -0.01;
    let after = solve(&beam).unwrap();
    assert!(after.in_contact.iter().all(|c| *c));
    let change: Vec<f64> = after.reactions_n.iter().zip(&before.reactions_n).map(|(a, b)| a - b).collect();
    near(&change, expected, 1e-4);
}

/// Middle support of two spans: +3, -6, +3 E I d / L³; computed with `PyNiteFEA` 3.2.0.
#[test]
fn validate_middle_support_settles() {
    check_settlement(2, 1, &[240.0, -480.0, 240.0]);
}

/// End support of two spans: -1.5, +3, -1.5 E I d / L³; computed with `PyNiteFEA` 3.2.0.
#[test]
fn validate_end_support_settles() {
    check_settlement(2, 0, &[-120.0, 240.0, -120.0]);
}

/// First interior support of three spans: +3.6, -9.6, +8.4, -2.4 E I d / L³; computed with `PyNiteFEA` 3.2.0.
#[test]
fn validate_interior_support_of_three_spans_settles() {
    check_settlement(3, 1, &[288.0, -768.0, 672.0, -192.0]);
}

/// Settlement moments: only the settlement is left where the line load is taken away from the moment over the support.
/// Middle of two spans +3 E I d / L² = 1200; end of two -1.5: -600; first interior of three +3.6, -2.4: 1440, -960;
/// computed with `PyNiteFEA` 3.2.0. The moment over the support next to an end is the end reaction times 5 m.
#[test]
fn validate_settlement_moments() {
    for (count, settles, from_left, from_right) in
        [(2, 1, 1200.0, 1200.0), (2, 0, -600.0, -600.0), (3, 1, 1440.0, -960.0)]
    {
        let full = influence(&spans(count)).unwrap();
        let change: Vec<f64> = full.raise_n_per_m.iter().map(|row| row[settles] * -0.01 * 5.0).collect();
        near(&[change[0], *change.last().unwrap()], &[from_left, from_right], 1e-3);
    }
}

/// Stiff springs against rigid supports: the reactions differ by about E I / k L³.
#[test]
fn verify_stiff_springs_tend_to_rigid() {
    let rigid = [3.75e3, 12.5e3, 3.75e3];
    for k in [1e9, 1e10, 1e11, 1e12, 1e13] {
        let mut beam = spans(2);
        beam.supports.iter_mut().for_each(|s| s.stiffness_n_per_m = k);
        near(&solve(&beam).unwrap().reactions_n, &rigid, 10.0 * 8e3 / k * 1e4 + 1e-9);
    }
}

/// `PyNiteFEA` 3.2.0, own case: supports at unequal stiffness, two single forces and a line load.
#[test]
fn validate_own_case_springs() {
    let supports = [(0.0, 5e7, 0.0), (4.0, 8e7, 0.0), (7.5, 6e7, 0.0), (12.0, 5e7, 0.0)];
    let loads = vec![point(2.0, 100e3), point(9.0, 300e3), uniform(0.0, 12.0, 20e3)];
    let state = solve(&girder((0.0, 12.0), 2e9, &supports, loads)).unwrap();
    near(&state.reactions_n, &[66_798.698_695, 199_439.550_792, 209_533.157_627, 164_228.592_886], 1e-3);
    near(&state.deflections_m, &[1.335_973_974e-3, 2.492_994_385e-3, 3.492_219_294e-3, 3.284_571_858e-3], 1e-11);
    near(&[state.sagging.moment_nm, state.hogging.moment_nm], &[402_685.778_657, -92_805.205_219], 1e-2);
}

/// `PyNiteFEA` 3.2.0, own case: levels (there as forces k e on the nodes), overhangs.
#[test]
fn validate_own_case_levels() {
    let supports = [(0.0, 5e8, 0.0), (4.0, 5e8, 0.002), (8.0, 5e8, -0.001), (11.0, 5e8, 0.000_5)];
    let loads = vec![point(6.0, 500e3), uniform(-1.5, 13.0, 40e3)];
    let state = solve(&girder((-1.5, 13.0), 1.2e9, &supports, loads)).unwrap();
    near(&state.reactions_n, &[9_772.355_061, 754_171.306_911, 52_768.315_318, 263_288.022_710], 1e-3);
    near(&state.deflections_m, &[1.954_471_012e-5, -4.916_573_862e-4, 1.105_536_631e-3, 2.657_604_542e-5], 1e-11);
    near(&[state.sagging.moment_nm, state.hogging.moment_nm], &[441_976.743_046, -565_910.579_758], 1e-2);
}

/// `PyNiteFEA` 3.2.0, own case: three sections, overhangs, a line load on a part.
#[test]
fn validate_own_case_sections() {
    let supports = [(0.5, 1e8, 0.0), (5.0, 3e8, 0.0), (9.5, 1e8, 0.0)];
    let mut beam = girder((0.0, 10.0), 5e8, &supports, vec![point(2.0, 250e3), uniform(4.0, 9.0, 60e3)]);
    for (from_m, bending_stiffness_nm2) in [(3.0, 2e9), (7.0, 8e8)] {
        beam.sections.push(Section { from_m, bending_stiffness_nm2 });
    }
    let state = solve(&beam).unwrap();
    near(&state.reactions_n, &[128_427.933_527, 359_810.799_613, 61_761.266_860], 1e-3);
    near(&state.deflections_m, &[1.284_279_335e-3, 1.199_369_332e-3, 6.176_126_686e-4], 1e-11);
    near(&[state.sagging.moment_nm, state.hogging.moment_nm], &[192_641.900_290, -202_074.299_130], 1e-2);
}

#[track_caller]
fn check_one_way(beam: &Girder, reactions: &[f64], deflections: &[f64], moments: [f64; 2]) {
    let state = solve(beam).unwrap();
    near(&state.reactions_n, reactions, 1e-3);
    near(&state.deflections_m, deflections, 1e-11);
    let rests: Vec<bool> = reactions.iter().map(|r| 0.0 < *r).collect();
    assert_eq!(state.in_contact, rests);
    near(&[state.sagging.moment_nm, state.hogging.moment_nm], &moments, 1e-2);
}

/// `PyNiteFEA` 3.2.0, own case, springs that only push (direction '-'): both ends lift.
#[test]
fn validate_own_case_both_ends_lift() {
    let supports = [0.0, 5.0, 10.0, 14.0].map(|x| (x, 1e9, 0.0));
    let beam = girder((0.0, 14.0), 3e9, &supports, vec![point(7.5, 800e3), uniform(0.0, 14.0, 5e3)]);
    let deflections = [-1.311_361_111e-3, 4.42e-4, 4.28e-4, -1.072_922_222e-3];
    check_one_way(&beam, &[0.0, 442e3, 428e3, 0.0], &deflections, [964_375.0, -62_500.0]);
}

/// `PyNiteFEA` 3.2.0, own case, springs that only push (direction '-'): a loaded overhang lifts the far end.
#[test]
fn validate_own_case_loaded_overhang() {
    let supports = [0.0, 3.0, 6.0].map(|x| (x, 4e7, 0.0));
    let beam = girder((0.0, 9.0), 9e8, &supports, vec![point(9.0, 100e3), uniform(0.0, 9.0, 30e3)]);
    check_one_way(&beam, &[0.0, 35e3, 335e3], &[-5.225e-3, 8.75e-4, 8.375e-3], [0.0, -435e3]);
}

/// `PyNiteFEA` 3.2.0, own case, springs that only push (direction '-'): six supports, the last lifts.
#[test]
fn validate_own_case_six_supports() {
    let supports =
        [(0.0, 2e8), (4.0, 1e8), (8.0, 3e8), (12.0, 1e8), (16.0, 2e8), (20.0, 2e8)].map(|(x, k)| (x, k, 0.0));
    let loads = vec![point(8.0, 1200e3), point(1.0, 30e3), uniform(0.0, 20.0, 4e3)];
    let reactions = [64_491.466_683, 186_218.348_574, 817_000.412_130, 181_878.263_286, 60_411.509_327, 0.0];
    let deflections =
        [3.224_573_334e-4, 1.862_183_486e-3, 2.723_334_707e-3, 1.818_782_633e-3, 3.020_575_466e-4, -1.222_510_223e-3];
    check_one_way(&girder((0.0, 20.0), 6e9, &supports, loads), &reactions, &deflections, [922_805.127_760, -32e3]);
}
