mod oracle;
mod properties;
mod published;

use super::*;

/// A girder of one section.
fn girder(ends: (f64, f64), stiffness: f64, supports: &[(f64, f64, f64)], loads: Vec<BeamLoad>) -> Girder {
    Girder {
        from_m: ends.0,
        to_m: ends.1,
        sections: vec![Section { from_m: ends.0, bending_stiffness_nm2: stiffness }],
        supports: supports.iter().map(|s| BeamSupport { at_m: s.0, stiffness_n_per_m: s.1, level_m: s.2 }).collect(),
        loads,
    }
}

fn point(at_m: f64, force_n: f64) -> BeamLoad {
    BeamLoad::Point { at_m, force_n }
}

fn uniform(from_m: f64, to_m: f64, force_per_m: f64) -> BeamLoad {
    BeamLoad::Uniform { from_m, to_m, force_per_m }
}

#[track_caller]
fn near(found: &[f64], expected: &[f64], tolerance: f64) {
    assert_eq!(found.len(), expected.len());
    for (f, e) in found.iter().zip(expected) {
        assert!((f - e).abs() <= tolerance, "{found:?} against {expected:?}");
    }
}

#[test]
fn verify_refusals() {
    let good =
        girder((0.0, 10.0), 1e9, &[(1.0, 1e8, 0.0), (5.0, 1e8, 0.0), (9.0, 1e8, 0.0)], vec![uniform(0.0, 10.0, 1e4)]);
    assert!(solve(&good).is_ok());
    let check = |change: &dyn Fn(&mut Girder), error: GirderError| {
        let mut bad = good.clone();
        change(&mut bad);
        assert_eq!(solve(&bad), Err(error));
    };
    check(&|g| g.supports.truncate(1), GirderError::TooFewSupports);
    check(&|g| g.supports = vec![g.supports[0]; 201], GirderError::TooManySupports);
    check(&|g| g.supports[2].at_m = 5.0, GirderError::Coincident { first: 1, second: 2 });
    check(&|g| g.supports[2].at_m = 10.1, GirderError::SupportOffGirder { index: 2 });
    check(&|g| g.supports[0].at_m = f64::NAN, GirderError::SupportOffGirder { index: 0 });
    check(&|g| g.supports[1].stiffness_n_per_m = 0.0, GirderError::Stiffness { index: 1 });
    check(&|g| g.supports[1].level_m = f64::INFINITY, GirderError::Level { index: 1 });
    check(&|g| g.loads.clear(), GirderError::NoWeight);
    check(&|g| g.loads.push(point(5.0, -1e5)), GirderError::NoWeight);
    check(&|g| g.loads.push(point(10.1, 1.0)), GirderError::LoadOffGirder { index: 1 });
    check(&|g| g.loads.push(point(5.0, f64::NAN)), GirderError::Load { index: 1 });
    check(&|g| g.loads.push(uniform(5.0, 5.0, 1.0)), GirderError::Load { index: 1 });
    check(&|g| g.sections.clear(), GirderError::NoSection);
    check(&|g| g.sections[0].from_m = 0.5, GirderError::Section { index: 0 });
    check(&|g| g.sections.push(g.sections[0]), GirderError::Section { index: 1 });
    check(&|g| g.sections[0].bending_stiffness_nm2 = -1.0, GirderError::Section { index: 0 });
    check(&|g| g.to_m = -1.0, GirderError::Ends);
    // A single force 0.5 m beyond the first support, and one exactly over the last.
    check(&|g| g.loads = vec![point(0.5, 1e5)], GirderError::Tips { end: GirderEnd::First, beyond_m: 0.5 });
    check(&|g| g.loads = vec![point(9.0, 1e5)], GirderError::Tips { end: GirderEnd::Last, beyond_m: 0.0 });
    // An uplift that moves the resultant: (100 x 5 - 60 x 1) / 40 = 11, 2 beyond the last support.
    check(&|g| g.loads.push(point(1.0, -6e4)), GirderError::Tips { end: GirderEnd::Last, beyond_m: 2.0 });
}

/// Two equal spans on nearly rigid supports, a single force in the middle of the first: with two-sided supports the
/// far one would pull with 3/32 P. It lifts; statics gives P/2, P/2, 0, and the end slope P L² / 16 EI of a simple span
/// raises the far end by P L³ / 16 EI, less the settlement P / 2k of the two that carry.
#[test]
fn validate_far_support_lifts_off() {
    let (p, l, ei) = (2e5, 4.0, 1e7);
    for k in [1e6, 1e9, 1e13] {
        let beam = girder((0.0, 8.0), ei, &[(0.0, k, 0.0), (4.0, k, 0.0), (8.0, k, 0.0)], vec![point(2.0, p)]);
        let state = solve(&beam).unwrap();
        let rise = p * l * l * l / (16.0 * ei) - p / (2.0 * k);
        if rise > 0.0 {
            near(&state.reactions_n, &[p / 2.0, p / 2.0, 0.0], 1e-9 * p);
            assert_eq!(state.in_contact, [true, true, false]);
            near(&state.gaps_m, &[0.0, 0.0, rise], 1e-12);
            near(&state.deflections_m, &[p / (2.0 * k), p / (2.0 * k), -rise], 1e-12);
            assert!(
                (state.sagging.moment_nm - p * l / 4.0).abs() < 1e-9 * p && (state.sagging.at_m - 2.0).abs() < 1e-9
            );
        }
        let full = influence(&beam).unwrap();
        if k > 1e12 {
            near(&full.reactions_n, &[13.0 / 32.0 * p, 22.0 / 32.0 * p, -3.0 / 32.0 * p], 1e-5 * p);
        }
    }
}

/// A middle support so high that it alone touches, the load's centre just beside it: the nearer end carries the rest.
#[test]
fn verify_high_middle_support() {
    let beam = girder((0.0, 10.0), 1e10, &[(0.0, 1e9, 0.0), (5.0, 1e9, 0.05), (10.0, 1e9, 0.0)], vec![point(5.5, 1e5)]);
    let state = solve(&beam).unwrap();
    near(&state.reactions_n, &[0.0, 9e4, 1e4], 1e-6);
    assert_eq!(state.in_contact, [false, true, true]);
    assert!(state.gaps_m[0] > 0.09);
}

/// Two spans under line load: greatest sagging 9/128 w L² at 3/8 L, hogging -1/8 w L² over the middle (textbook
/// statics: from the reactions 3/8, 10/8, 3/8 of the source named beside them).
#[test]
fn validate_moment_extremes() {
    let beam =
        girder((0.0, 8.0), 1e8, &[(0.0, 1e13, 0.0), (4.0, 1e13, 0.0), (8.0, 1e13, 0.0)], vec![uniform(0.0, 8.0, 3e4)]);
    let state = solve(&beam).unwrap();
    let wl2 = 3e4 * 16.0;
    assert!((state.sagging.moment_nm / wl2 - 9.0 / 128.0).abs() < 1e-5, "{state:?}");
    assert!((state.sagging.at_m - 1.5).abs() < 1e-3 || (state.sagging.at_m - 6.5).abs() < 1e-3);
    assert!((state.hogging.moment_nm / wl2 + 0.125).abs() < 1e-5 && (state.hogging.at_m - 4.0).abs() < 1e-9);
    // Cantilevers: 2 m with 5 kN/m and a force of 7 kN at the end hog with 5 x 2² / 2 + 7 x 2 = 24 kN m.
    let loads = vec![uniform(-2.0, 0.0, 5e3), point(-2.0, 7e3), point(5.0, 40e3)];
    let state = solve(&girder((-2.0, 10.0), 1e8, &[(0.0, 1e9, 0.0), (10.0, 1e9, 0.0)], loads)).unwrap();
    near(&[state.hogging.moment_nm, state.hogging.at_m], &[-24e3, 0.0], 1e-6);
    near(&[state.sagging.moment_nm, state.sagging.at_m], &[100e3 - 12e3, 5.0], 1e-6);
}

/// Weak sections of 1 mm on either side of the middle support are a hinge: two simple spans.
#[test]
fn verify_weak_section_is_a_hinge() {
    let mut beam = girder(
        (0.0, 10.0),
        1e9,
        &[(0.0, 1e10, 0.0), (5.0, 1e10, 0.0), (10.0, 1e10, 0.0)],
        vec![uniform(0.0, 10.0, 2e4)],
    );
    for (from_m, bending_stiffness_nm2) in [(4.999, 1e1), (5.001, 1e9)] {
        beam.sections.push(Section { from_m, bending_stiffness_nm2 });
    }
    near(&solve(&beam).unwrap().reactions_n, &[5e4, 1e5, 5e4], 20.0);
}

/// A girder far stiffer than its supports is a rigid body on springs. The other kernel works in plan, so each support
/// is two of half the stiffness there.
#[test]
fn verify_stiff_girder_is_a_rigid_load() {
    use super::super::elastic::{Spring, solve as rigid};
    use super::super::geometry::Vec2;
    let supports = [(0.0, 1e7, 0.0), (2.0, 3e7, 0.004), (5.0, 2e7, -0.002), (7.0, 1e7, 0.001), (9.0, 4e7, 0.0)];
    let springs: Vec<Spring> = supports
        .iter()
        .flat_map(|&(x, k, e)| {
            [-1.0, 1.0].map(|y| Spring { at: Vec2::new(x, y), stiffness_n_per_m: 0.5 * k, level_m: e })
        })
        .collect();
    for at in [0.4, 3.0, 6.0, 8.5] {
        let expected = rigid(&springs, 3e5, Vec2::new(at, 0.0)).unwrap();
        let sums: Vec<f64> = expected.reactions_n.chunks(2).map(|pair| pair[0] + pair[1]).collect();
        for stiffness in [1e15, 1e18] {
            let state = solve(&girder((0.0, 9.0), stiffness, &supports, vec![point(at, 3e5)])).unwrap();
            near(&state.reactions_n, &sums, 3e5 * 1e-5 * 1e15 / stiffness);
        }
    }
}

/// The other limit: on supports stiff against the girder, its own stiffness plays no part.
#[test]
fn verify_flexible_girder_is_on_rigid_supports() {
    let supports = [(0.0, 1e12, 0.0), (3.0, 1e13, 0.0), (7.0, 1e11, 0.0), (9.0, 1e13, 0.0)];
    let loads = || vec![uniform(0.0, 9.0, 2e4), point(5.0, 1e4)];
    let weak = solve(&girder((0.0, 9.0), 1e3, &supports, loads())).unwrap();
    let weaker = solve(&girder((0.0, 9.0), 1e1, &supports, loads())).unwrap();
    near(&weak.reactions_n, &weaker.reactions_n, 1e-2);
    assert!(weak.in_contact.iter().all(|c| *c));
}

/// 200 supports of very unequal stiffness on rough levels: an answer with its conditions met, and soon.
#[test]
fn verify_two_hundred_supports() {
    for (stiffness, rough_m) in [(1e7, 0.002), (1e9, 0.002), (1e12, 0.001), (1e6, 0.0)] {
        let supports: Vec<(f64, f64, f64)> = (0..200u32)
            .map(|i| {
                let k = [1e3, 1e7, 1e9, 1e13][(i as usize * 7 + 3) % 4];
                (f64::from(i) * 0.5, k, rough_m * f64::from((i * 37) % 23) / 22.0)
            })
            .collect();
        let beam = girder((0.0, 100.0), stiffness, &supports, vec![uniform(0.0, 100.0, 5e4), point(30.2, 4e5)]);
        let state = solve(&beam).unwrap();
        assert!(state.residual < 1e-11, "{}", state.residual);
        properties::check_rest(&beam, &state);
    }
}
