use super::*;
use proptest::prelude::*;

/// The conditions of rest, from the answer alone.
#[track_caller]
pub(super) fn check_rest(beam: &Girder, state: &GirderState) {
    let weight: f64 = beam.loads.iter().map(BeamLoad::force_n).sum();
    let span = beam.supports.iter().fold(0.0_f64, |m, s| m.max(s.at_m - beam.supports[0].at_m)).max(1.0);
    let sum: f64 = state.reactions_n.iter().sum();
    let moment: f64 = beam.supports.iter().zip(&state.reactions_n).map(|(s, r)| s.at_m * r).sum();
    let wanted: f64 = beam.loads.iter().map(|l| l.force_n() * l.centre_m()).sum();
    assert!((sum - weight).abs() <= 1e-9 * weight, "{sum} {weight}");
    assert!((moment - wanted).abs() <= 2e-9 * weight * span, "{moment} {wanted}");
    for (i, support) in beam.supports.iter().enumerate() {
        let (reaction, gap, w) = (state.reactions_n[i], state.gaps_m[i], state.deflections_m[i]);
        assert!(0.0 <= reaction && 0.0 <= gap && reaction * gap <= 0.0, "{state:?}");
        let pressed = reaction / support.stiffness_n_per_m - gap;
        let size = w.abs().max(support.level_m.abs()).max(pressed.abs());
        let differ = (pressed - (w + support.level_m)).abs();
        let in_force = differ * support.stiffness_n_per_m;
        assert!(differ <= 1e-9 * size || in_force <= 1e-10 * weight, "{i} {pressed} {w} {state:?}");
    }
}

fn any_support() -> impl Strategy<Value = (f64, f64, f64)> {
    (0.5f64..4.0, 6.0f64..10.0, -1.0f64..1.0)
}

/// Supports at steps, the girder reaching beyond them, one change of section, a line load and single forces.
fn build(list: &[(f64, f64, f64)], ei: (f64, f64), forces: &[(f64, f64)], level_m: f64, overhang: f64) -> Girder {
    let mut at = 0.0;
    let supports: Vec<(f64, f64, f64)> = list
        .iter()
        .map(|(step, k, e)| {
            at += step;
            (at, libm::pow(10.0, *k), e * level_m)
        })
        .collect();
    let (from, to) = (supports[0].0 - overhang, at + overhang);
    let mut loads: Vec<BeamLoad> = forces.iter().map(|(t, p)| point(from + t * (to - from), *p)).collect();
    loads.push(uniform(from + 0.1 * (to - from), to, 1e4));
    let mut beam = girder((from, to), libm::pow(10.0, ei.0), &supports, loads);
    beam.sections.push(Section { from_m: from + 0.43 * (to - from), bending_stiffness_nm2: libm::pow(10.0, ei.1) });
    beam
}

proptest! {
    #[test]
    fn verify_conditions_and_second_implementation(
        list in prop::collection::vec(any_support(), 2..6), ei in (7.0f64..10.0, 7.0f64..10.0),
        forces in prop::collection::vec((0.0f64..1.0, 1e4f64..1e6), 0..4), level in 0.0f64..0.01, overhang in 0.0f64..2.0,
    ) {
        let beam = build(&list, ei, &forces, level, overhang);
        prop_assume!(0.005 < oracle::shortest_m(&beam));
        let state = match solve(&beam) {
            Err(GirderError::Tips { .. }) => return Ok(()),
            other => other.unwrap(),
        };
        check_rest(&beam, &state);
        let weight: f64 = beam.loads.iter().map(BeamLoad::force_n).sum();
        let expected = oracle::reactions(&beam, 1e-4 * weight).unwrap();
        near(&state.reactions_n, &expected, 1e-3 * weight);
        let again = solve(&beam).unwrap();
        prop_assert_eq!(again, state);
    }

    #[test]
    fn verify_any_stiffness(
        list in prop::collection::vec((0.2f64..6.0, 3.0f64..13.0, -1.0f64..1.0), 2..30), ei in (5.0f64..13.0, 5.0f64..13.0),
        forces in prop::collection::vec((0.0f64..1.0, -1e4f64..1e6), 0..4), level in prop::sample::select(vec![0.0, 0.001, 0.05]),
    ) {
        let beam = build(&list, ei, &forces, level, 0.5);
        match solve(&beam) {
            Err(GirderError::Tips { .. }) => {}
            other => check_rest(&beam, &other.unwrap()),
        }
    }

    #[test]
    fn verify_order_mirror_and_scale_do_not_matter(
        list in prop::collection::vec(any_support(), 2..7), ei in (7.0f64..10.0, 7.0f64..10.0),
        forces in prop::collection::vec((0.0f64..1.0, 1e4f64..1e6), 0..3), factor in 0.01f64..100.0, tilt in -0.01f64..0.01,
    ) {
        let beam = build(&list, ei, &forces, 0.003, 1.0);
        let Ok(state) = solve(&beam) else { return Ok(()) };
        let weight: f64 = beam.loads.iter().map(BeamLoad::force_n).sum();
        // Mirrored, in reverse order, levels raised and tilted as a whole.
        let mirror = |x: f64| beam.to_m - x;
        let mut other = beam.clone();
        (other.from_m, other.to_m) = (0.0, beam.to_m - beam.from_m);
        let change = beam.sections[1].from_m;
        other.sections = vec![
            Section { from_m: 0.0, ..beam.sections[1] },
            Section { from_m: mirror(change), ..beam.sections[0] },
        ];
        other.supports.iter_mut().for_each(|s| {
            s.level_m += 3.0 + tilt * s.at_m;
            s.at_m = mirror(s.at_m);
        });
        other.supports.reverse();
        other.loads = beam.loads.iter().map(|load| match *load {
            BeamLoad::Point { at_m, force_n } => point(mirror(at_m), force_n),
            BeamLoad::Uniform { from_m, to_m, force_per_m } => uniform(mirror(to_m), mirror(from_m), force_per_m),
        }).collect();
        let mut found = solve(&other).unwrap().reactions_n;
        found.reverse();
        // A common level of 3 m costs digits of the levels: 1e-15 m times 1e10 N/m.
        near(&found, &state.reactions_n, 1e-9 * weight + 1e-3);
        // All forces and stiffnesses by a factor.
        let mut scaled = beam.clone();
        scaled.sections.iter_mut().for_each(|s| s.bending_stiffness_nm2 *= factor);
        scaled.supports.iter_mut().for_each(|s| s.stiffness_n_per_m *= factor);
        scaled.loads.iter_mut().for_each(|load| match load {
            BeamLoad::Point { force_n: f, .. } | BeamLoad::Uniform { force_per_m: f, .. } => *f *= factor,
        });
        let found: Vec<f64> = solve(&scaled).unwrap().reactions_n.iter().map(|r| r / factor).collect();
        near(&found, &state.reactions_n, 1e-9 * weight);
    }

    #[test]
    fn verify_influence_against_rest(
        list in prop::collection::vec(any_support(), 2..7), ei in (7.0f64..10.0, 7.0f64..10.0),
        forces in prop::collection::vec((0.0f64..1.0, 1e4f64..1e6), 0..4), level in 0.0f64..0.002, unit in 0.0f64..1.0,
    ) {
        let beam = build(&list, ei, &forces, level, 1.0);
        let full = influence(&beam).unwrap();
        let weight: f64 = beam.loads.iter().map(BeamLoad::force_n).sum();
        let linear: Vec<f64> = full.reactions_n.iter().zip(&full.raise_n_per_m).map(|(r, row)| {
            r + row.iter().zip(&beam.supports).map(|(s, support)| s * support.level_m).sum::<f64>()
        }).collect();
        if let Ok(state) = solve(&beam) {
            prop_assert_eq!(linear.iter().all(|r| *r > 0.0), state.in_contact.iter().all(|c| *c));
            if linear.iter().all(|r| *r > 0.0) {
                near(&linear, &state.reactions_n, 1e-8 * weight);
            }
        }
        for (i, line) in full.lines.iter().enumerate() {
            // The loads of the girder by its influence line.
            let by_line: f64 = beam.loads.iter().map(|load| match *load {
                BeamLoad::Point { at_m, force_n } => line.ordinate(at_m) * force_n,
                BeamLoad::Uniform { from_m, to_m, force_per_m } => {
                    let (low, high) = line.uniform_extremes(from_m, to_m, 0.0);
                    assert!((high - low).abs() < 1e-9);
                    low * force_per_m
                }
            }).sum();
            prop_assert!((by_line - full.reactions_n[i]).abs() < 1e-9 * weight, "{by_line} {full:?}");
            let row = &full.raise_n_per_m[i];
            let greatest = row.iter().fold(0.0_f64, |m, v| m.max(v.abs()));
            prop_assert!(row.iter().sum::<f64>().abs() <= 1e-8 * greatest + 1e-6);
            for (j, v) in row.iter().enumerate() {
                prop_assert!((v - full.raise_n_per_m[j][i]).abs() <= 1e-8 * greatest + 1e-6);
            }
        }
        // A unit load anywhere is carried, with its moment.
        let at = beam.from_m + unit * (beam.to_m - beam.from_m);
        let sum: f64 = full.lines.iter().map(|l| l.ordinate(at)).sum();
        let moment: f64 = full.lines.iter().zip(&beam.supports).map(|(l, s)| l.ordinate(at) * s.at_m).sum();
        prop_assert!((sum - 1.0).abs() < 1e-9 && (moment - at).abs() < 1e-8);
    }

    #[test]
    fn verify_envelope_holds_all_states(
        list in prop::collection::vec((1.0f64..4.0, 6.0f64..8.0, -1.0f64..1.0), 2..6), ei in (7.0f64..9.0, 7.0f64..9.0),
        forces in prop::collection::vec((0.1f64..0.9, 1e4f64..2e5), 1..4), level in 0.0f64..0.0005,
        shift in 0.0f64..0.5, trials in prop::collection::vec(prop::collection::vec(-1.0f64..1.0, 16), 12),
    ) {
        let mut beam = build(&list, ei, &forces, level, 1.0);
        beam.loads.push(uniform(beam.from_m + 1.5, beam.to_m - 0.6, 6e4));
        let tolerances = GirderTolerances {
            load_factor: (0.9, 1.2), shift_m: shift, half_band_m: vec![level; beam.supports.len()],
        };
        let ranges = match envelope(&beam, &tolerances) {
            Ok(GirderEnvelope::Contact(ranges)) => ranges,
            Err(GirderError::Tips { .. }) | Ok(GirderEnvelope::LiftOff) => return Ok(()),
            Err(other) => panic!("{other:?}"),
        };
        near(&solve(&beam).unwrap().reactions_n, &ranges.iter().map(|r| r.expected_n).collect::<Vec<f64>>(), 1e-2);
        for (index, trial) in trials.iter().enumerate() {
            let mut other = beam.clone();
            // Half the trials at corners.
            let trial: Vec<f64> = trial.iter().map(|v| if index % 2 == 0 { v.signum() } else { *v }).collect();
            let factor = if trial[15] < 0.0 { 1.0 + 0.1 * trial[15] } else { 1.0 + 0.2 * trial[15] };
            for (load, t) in other.loads.iter_mut().zip(&trial[8..]) {
                *load = match *load {
                    BeamLoad::Point { at_m, force_n } => {
                        point((at_m + t * shift).clamp(beam.from_m, beam.to_m), force_n * factor)
                    }
                    BeamLoad::Uniform { from_m, to_m, force_per_m } => {
                        // On the girder still.
                        let by = (t * shift).clamp(beam.from_m - from_m, beam.to_m - to_m);
                        uniform(from_m + by, (to_m + by).min(beam.to_m), force_per_m * factor)
                    }
                };
            }
            other.supports.iter_mut().zip(&trial).for_each(|(s, t)| s.level_m += t * level);
            let found = solve(&other).unwrap();
            for (r, range) in found.reactions_n.iter().zip(&ranges) {
                prop_assert!(range.least_n - 1e-6 <= *r && *r <= range.greatest_n + 1e-6, "{r} {range:?}");
            }
        }
    }

    #[test]
    fn verify_no_panic_on_any_input(
        numbers in prop::collection::vec(prop::num::f64::ANY, 24), nice in prop::collection::vec(any::<bool>(), 24), count in 0usize..5,
    ) {
        let v: Vec<f64> = numbers.iter().zip(&nice).zip(0u32..).map(|((n, nice), i)| if *nice { f64::from(i) } else { *n }).collect();
        let beam = Girder {
            from_m: v[0].min(0.0),
            to_m: v[1] * 20.0,
            sections: vec![Section { from_m: v[0].min(0.0), bending_stiffness_nm2: v[2] }, Section { from_m: v[3], bending_stiffness_nm2: v[4] }],
            supports: (0..count).map(|i| BeamSupport { at_m: v[5 + i], stiffness_n_per_m: v[10 + i], level_m: v[15 + i] }).collect(),
            loads: vec![point(v[6], v[20]), uniform(v[5], v[7], v[21])],
        };
        if let Ok(state) = solve(&beam) {
            prop_assert!(state.residual <= EQUILIBRIUM_TOLERANCE);
            prop_assert!(state.reactions_n.iter().all(|r| 0.0 <= *r && r.is_finite()));
        }
        let tolerances = GirderTolerances { load_factor: (v[22], v[23]), shift_m: v[8], half_band_m: vec![v[9]; count] };
        let _ = envelope(&beam, &tolerances);
        let _ = influence(&beam);
    }
}

/// Without tolerances the bounds are the reactions; levels widen them by row sums; a common factor by itself.
#[test]
fn verify_envelope_by_hand() {
    let beam =
        girder((0.0, 8.0), 1e8, &[(0.0, 1e8, 0.0), (4.0, 1e8, 0.0), (8.0, 1e8, 0.0)], vec![uniform(0.0, 8.0, 3e4)]);
    let bounds = |factor: (f64, f64), shift_m: f64, band: f64| {
        let tolerances = GirderTolerances { load_factor: factor, shift_m, half_band_m: vec![band; 3] };
        match envelope(&beam, &tolerances).unwrap() {
            GirderEnvelope::Contact(list) => list.iter().map(|r| (r.least_n, r.expected_n, r.greatest_n)).collect(),
            GirderEnvelope::LiftOff => vec![],
        }
    };
    let full = influence(&beam).unwrap();
    let flat: Vec<(f64, f64, f64)> = bounds((1.0, 1.0), 0.0, 0.0);
    let factored = bounds((0.8, 1.1), 0.0, 0.0);
    let rough = bounds((1.0, 1.0), 0.0, 0.001);
    // Two spans: S = s (1, -2, 1)' (1, -2, 1) / 4 form: middle row has twice the ends.
    for i in 0..3 {
        let r = full.reactions_n[i];
        let sum: f64 = full.raise_n_per_m[i].iter().map(|v| v.abs()).sum();
        near(&[flat[i].0, flat[i].1, flat[i].2], &[r, r, r], 1e-5);
        near(&[factored[i].0, factored[i].1, factored[i].2], &[0.8 * r, r, 1.1 * r], 1e-5);
        near(&[rough[i].0, rough[i].2], &[r - sum * 0.001, r + sum * 0.001], 1e-5);
    }
    // Moved by s, the line load changes an end reaction by the ordinates it gains (about -s/8 x slope) and loses (1 m).
    let moved = bounds((1.0, 1.0), 0.1, 0.0);
    assert!(moved[0].2 > flat[0].2 + 0.05 * 3e4 && moved[0].0 < flat[0].0 - 0.05 * 3e4);
    assert!(bounds((1.0, 1.0), 0.0, 0.1).is_empty());
    let wrong = GirderTolerances { load_factor: (1.1, 1.2), shift_m: 0.0, half_band_m: vec![0.0; 3] };
    assert_eq!(envelope(&beam, &wrong), Err(GirderError::Tolerances));
}
