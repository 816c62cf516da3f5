//! A second, simple implementation: cubic beam elements with deflection and slope at every node, a dense matrix, and
//! all sets of contacts tried in turn.

use super::*;

/// Dense elimination with row exchanges.
fn dense(mut a: Vec<Vec<f64>>, mut b: Vec<f64>) -> Option<Vec<f64>> {
    let n = b.len();
    for c in 0..n {
        let pivot = (c..n).max_by(|i, j| a[*i][c].abs().total_cmp(&a[*j][c].abs()))?;
        if a[pivot][c].abs() < 1e-300 {
            return None;
        }
        a.swap(c, pivot);
        b.swap(c, pivot);
        for r in c + 1..n {
            let factor = a[r][c] / a[c][c];
            let pivot_row = a[c].clone();
            a[r].iter_mut().zip(&pivot_row).skip(c).for_each(|(v, p)| *v -= factor * p);
            b[r] -= factor * b[c];
        }
    }
    for r in (0..n).rev() {
        let known: f64 = (r + 1..n).map(|k| a[r][k] * b[k]).sum();
        b[r] = (b[r] - known) / a[r][r];
    }
    Some(b)
}

/// Everything that needs a node, in order.
fn places(beam: &Girder) -> Vec<f64> {
    let mut places: Vec<f64> = vec![beam.from_m, beam.to_m];
    places.extend(beam.supports.iter().map(|s| s.at_m));
    places.extend(beam.sections.iter().map(|s| s.from_m));
    for load in &beam.loads {
        match *load {
            BeamLoad::Point { at_m, .. } => places.push(at_m),
            BeamLoad::Uniform { from_m, to_m, .. } => places.extend([from_m, to_m]),
        }
    }
    places.sort_by(f64::total_cmp);
    places.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
    places
}

/// The shortest element, in m: its stiffness grows with the third power, and this method loses digits by it.
pub(super) fn shortest_m(beam: &Girder) -> f64 {
    places(beam).windows(2).fold(f64::INFINITY, |m, p| m.min(p[1] - p[0]))
}

/// Deflections above the supports and their compressions (force of each spring, two-sided) with some supports absent.
fn two_sided(beam: &Girder, present: &[bool]) -> Option<Vec<(f64, f64)>> {
    let places = places(beam);
    let node = |at: f64| places.iter().position(|p| (p - at).abs() < 1e-8).unwrap();
    let size = 2 * places.len();
    let (mut a, mut b) = (vec![vec![0.0; size]; size], vec![0.0; size]);
    for (i, pair) in places.windows(2).enumerate() {
        let (l, middle) = (pair[1] - pair[0], 0.5 * (pair[0] + pair[1]));
        let ei = beam.sections.iter().rfind(|s| s.from_m <= middle).unwrap().bending_stiffness_nm2;
        let k = [
            [12.0, 6.0 * l, -12.0, 6.0 * l],
            [6.0 * l, 4.0 * l * l, -6.0 * l, 2.0 * l * l],
            [-12.0, -6.0 * l, 12.0, -6.0 * l],
            [6.0 * l, 2.0 * l * l, -6.0 * l, 4.0 * l * l],
        ];
        for (r, row) in k.iter().enumerate() {
            for (c, v) in row.iter().enumerate() {
                a[2 * i + r][2 * i + c] += v * ei / (l * l * l);
            }
        }
        for load in &beam.loads {
            if let BeamLoad::Uniform { from_m, to_m, force_per_m: q } = *load
                && from_m < middle
                && middle < to_m
            {
                for (r, v) in [l / 2.0, l * l / 12.0, l / 2.0, -l * l / 12.0].iter().enumerate() {
                    b[2 * i + r] += q * v;
                }
            }
        }
    }
    for load in &beam.loads {
        if let BeamLoad::Point { at_m, force_n } = *load {
            b[2 * node(at_m)] += force_n;
        }
    }
    for (s, _) in beam.supports.iter().zip(present).filter(|(_, p)| **p) {
        let n = 2 * node(s.at_m);
        a[n][n] += s.stiffness_n_per_m;
        b[n] -= s.stiffness_n_per_m * s.level_m;
    }
    let x = dense(a, b)?;
    Some(
        beam.supports
            .iter()
            .map(|s| {
                let w = x[2 * node(s.at_m)];
                (w, s.stiffness_n_per_m * (w + s.level_m))
            })
            .collect(),
    )
}

/// Reactions of the only set of contacts that meets the conditions (within `tolerance_n`).
pub(super) fn reactions(beam: &Girder, tolerance_n: f64) -> Option<Vec<f64>> {
    let n = beam.supports.len();
    (0u32..1 << n).rev().find_map(|set| {
        let present: Vec<bool> = (0..n).map(|i| set >> i & 1 == 1).collect();
        if set.count_ones() < 2 {
            return None;
        }
        let found = two_sided(beam, &present)?;
        let mut holds = found.iter().zip(&present);
        // A support that is left out must not be pressed; in force units, so that one tolerance serves.
        let right = holds.all(|((_, force), p)| if *p { -tolerance_n <= *force } else { *force <= tolerance_n });
        right.then(|| found.iter().zip(&present).map(|((_, f), p)| if *p { *f } else { 0.0 }).collect())
    })
}
