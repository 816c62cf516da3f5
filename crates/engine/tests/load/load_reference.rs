//! Shares against the cases of `tests/reference/load_shares`, which general-purpose libraries have solved.
//!
//! No case is left out silently: each test says how many it ran. 83 cases in all: 6 of statics, 22 elastic, 16 of
//! equilibrium, 25 envelopes and, in the file beside this one, 14 girders.
//!
//! A circle of loads counts as a polygon of 32 sides about it where supports lift off or any equilibrium counts, so
//! answers may then lie on the outer side: a polygon of 32 sides reaches 1 / cos(pi / 32) = 1.0048 times as far. A
//! circle smaller by as much has its polygon inside the true one.

use crate::load_plan::{about, load, m, on_springs, plan, shares_n};
use ramwright_engine::load::{Actions, Centre, Horizontal, LoadCase, Method, Rule, Slope, Wind, share_load};
use ramwright_units::{Angle, Area, Force, GroundPressure, Range};
use serde::Deserialize;

/// How far the engine's own extremes of lifting supports may be off, as a part of the weight: it calls them exact at
/// an agreement of 1e-7 of bound and combination.
const AGREEMENT: f64 = 1e-7;
/// A circle smaller by this has its polygon of 32 sides inside the true one: cos(pi / 32).
const INSIDE: f64 = 0.995_184_726_672_196_9;
/// Height of the centre of gravity: moments are force x height, and so high up a slope that gives them takes 5e-15 off
/// the vertical load.
const HEIGHT_M: f64 = 1e6;

#[derive(Deserialize)]
pub(crate) struct File<C> {
    pub(crate) header: Header,
    pub(crate) cases: Vec<C>,
}

#[derive(Deserialize)]
pub(crate) struct Header {
    kind: String,
    library: String,
    version: String,
    /// As a part of the greatest weight.
    pub(crate) tolerance: f64,
}

#[derive(Clone, Deserialize)]
struct Load {
    name: String,
    points: Vec<Point>,
    weight: Weight,
    centre: Place,
    #[serde(default)]
    disc_m: f64,
    #[serde(default)]
    push_radius_nm: f64,
    #[serde(default)]
    pushes_nm: Vec<[f64; 2]>,
    #[serde(default)]
    least: Vec<f64>,
    #[serde(default)]
    expected: Vec<f64>,
    #[serde(default)]
    greatest: Vec<f64>,
    #[serde(default)]
    polygon_tolerance: f64,
    #[serde(default)]
    beyond_vertices: Option<f64>,
}

#[derive(Clone, Deserialize)]
struct Point {
    x: f64,
    y: f64,
    stiffness: Option<f64>,
    #[serde(default)]
    level: f64,
    #[serde(default)]
    half_band: f64,
}

#[derive(Clone, Deserialize)]
struct Weight {
    least: Option<f64>,
    expected: f64,
    greatest: Option<f64>,
}

#[derive(Clone, Deserialize)]
struct Place {
    x: f64,
    y: f64,
    #[serde(default)]
    half_x: f64,
    #[serde(default)]
    half_y: f64,
}

/// A file of cases, from the library and version that the test names.
pub(crate) fn read<C: for<'a> Deserialize<'a>>(text: &str, kind: &str, library: (&str, &str)) -> File<C> {
    let file: File<C> = serde_json::from_str(text).unwrap();
    let Header { kind: found, library: name, version, .. } = &file.header;
    assert_eq!((found.as_str(), name.as_str(), version.as_str()), (kind, library.0, library.1));
    file
}

impl Load {
    fn greatest_n(&self) -> f64 {
        self.weight.greatest.unwrap_or(self.weight.expected)
    }

    /// The load with its circles larger or smaller.
    fn with_discs(&self, factor: f64) -> Self {
        Self { disc_m: self.disc_m * factor, push_radius_nm: self.push_radius_nm * factor, ..self.clone() }
    }

    /// What acts beside the weight, with a centre of gravity at [`HEIGHT_M`]; `None` if the public model has no words
    /// for it: it knows one force in any direction, one wind and one slope.
    fn actions(&self) -> Option<Actions> {
        let mut pushes =
            self.pushes_nm.iter().map(|[x, y]| (libm::hypot(*x, *y), Angle::from_rad(libm::atan2(*y, *x))));
        let wind = pushes.next().map(|(moment_nm, toward)| Wind {
            pressure: GroundPressure::from_pa(moment_nm),
            area: Area::from_m2(1.0),
            height: m(1.0),
            toward: Some(toward),
        });
        let slope = |tangent: f64, toward| Slope { angle: Angle::from_rad(libm::atan(tangent)), toward };
        let (horizontal, slope) = if 0.0 < self.push_radius_nm && 0.0 < self.disc_m {
            let stated = Horizontal::Stated(Force::from_n(self.push_radius_nm / HEIGHT_M));
            (stated, Some(slope(self.disc_m / HEIGHT_M, None)))
        } else {
            let horizontal = if 0.0 < self.push_radius_nm {
                Horizontal::Stated(Force::from_n(self.push_radius_nm / HEIGHT_M))
            } else {
                Horizontal::ShareOfWeight(self.disc_m / HEIGHT_M)
            };
            let down = |(moment_nm, toward)| slope(moment_nm / self.greatest_n() / HEIGHT_M, Some(toward));
            (horizontal, pushes.next().map(down))
        };
        pushes.next().is_none().then_some(Actions { horizontal, wind, slope, dynamic_factor: 1.0 })
    }

    fn case(&self, rule: Rule) -> Option<LoadCase> {
        let places: Vec<(f64, f64)> = self.points.iter().map(|point| (point.x, point.y)).collect();
        let mut case = load(Force::from_n(self.weight.expected), &places, (self.centre.x, self.centre.y));
        let weight = [self.weight.least.unwrap_or(self.weight.expected), self.weight.expected, self.greatest_n()];
        let [least, expected, greatest] = weight.map(Force::from_n);
        case.weight = Range::new(least, expected, greatest);
        case.actions = self.actions()?;
        let (x, y) = (about(self.centre.x, self.centre.half_x), about(self.centre.y, self.centre.half_y));
        plan(&mut case).centre = Centre { x, y, z: Some(m(HEIGHT_M)) };
        plan(&mut case).rule = rule;
        let stiffness: Option<Vec<f64>> = self.points.iter().map(|point| point.stiffness).collect();
        if let Some(stiffness) = stiffness {
            on_springs(&mut case, &stiffness);
        }
        for (point, given) in case.points.iter_mut().zip(&self.points) {
            point.level = m(given.level);
        }
        Some(case)
    }

    /// Least and greatest on springs whose levels are all within one band.
    fn elastic(&self, half_band_m: f64) -> Option<Vec<[f64; 3]>> {
        let mut case = self.case(Rule::Elastic)?;
        plan(&mut case).level_band = Some(m(2.0 * half_band_m));
        let shares = share_load(&case).unwrap();
        assert_eq!(shares.method, Method::Elastic, "{}: {}", self.name, shares.why);
        Some(shares_n(&shares))
    }

    fn half_bands(&self) -> (f64, f64) {
        let all = self.points.iter().map(|point| point.half_band);
        all.fold((f64::INFINITY, 0.0), |(low, high): (f64, f64), band| (low.min(band), high.max(band)))
    }
}

#[track_caller]
pub(crate) fn same(name: &str, found: &[f64], reference: &[f64], within_n: f64) {
    assert_eq!(found.len(), reference.len(), "{name}");
    let worst = found.iter().zip(reference).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
    assert!(worst <= within_n, "{name}: off by {worst} N of {within_n} N: {found:?}, reference {reference:?}");
}

pub(crate) fn column(shares: &[[f64; 3]], which: usize) -> Vec<f64> {
    shares.iter().map(|share| share[which]).collect()
}

/// numpy 2.4.6, `linalg.lstsq`.
#[test]
fn validate_statics_against_numpy() {
    let text = include_str!("../../../../tests/reference/load_shares/statics.json");
    let file: File<Load> = read(text, "statics", ("numpy", "2.4.6"));
    for load in &file.cases {
        let shares = share_load(&load.case(Rule::Automatic).unwrap()).unwrap();
        assert_eq!(shares.method, Method::Statics);
        for which in 0..3 {
            same(
                &load.name,
                &column(&shares_n(&shares), which),
                &load.expected,
                file.header.tolerance * load.greatest_n(),
            );
        }
    }
    assert_eq!(file.cases.len(), 6);
}

/// scipy 1.17.1, `optimize.nnls`, proved there by rational arithmetic.
#[test]
fn validate_elastic_shares_against_scipy() {
    let text = include_str!("../../../../tests/reference/load_shares/elastic.json");
    let file: File<Load> = read(text, "elastic", ("scipy", "1.17.1"));
    for load in &file.cases {
        let shares = share_load(&load.case(Rule::Elastic).unwrap()).unwrap();
        assert_eq!(shares.method, Method::Elastic);
        let found = shares_n(&shares);
        same(&load.name, &column(&found, 1), &load.expected, file.header.tolerance * load.greatest_n());
        for end in [0, 2] {
            same(&load.name, &column(&found, end), &load.expected, AGREEMENT * load.greatest_n());
        }
    }
    assert_eq!(file.cases.len(), 22);
}

/// scipy 1.17.1, `optimize.linprog` (`HiGHS`), outward by at most the `polygon_tolerance` of the case.
///
/// The greatest reaction is concave in the size of a circle of loads and the least is convex, so a polygon that reaches
/// 0.48 % farther adds at most 0.5 % of what the circle itself adds. One case has three forces of known direction,
/// which a request has no words for.
#[test]
fn validate_worst_equilibria_against_linear_programmes() {
    let text = include_str!("../../../../tests/reference/load_shares/equilibrium.json");
    let file: File<Load> = read(text, "equilibrium", ("scipy", "1.17.1"));
    let mut no_words = Vec::new();
    for load in &file.cases {
        let Some(case) = load.case(Rule::WorstEquilibrium) else {
            no_words.push(load.name.as_str());
            continue;
        };
        let shares = share_load(&case).unwrap();
        assert_eq!(shares.method, Method::WorstEquilibrium);
        let no_circle = share_load(&load.with_discs(0.0).case(Rule::WorstEquilibrium).unwrap()).unwrap();
        let stated_n = (file.header.tolerance + load.polygon_tolerance) * load.greatest_n();
        for (index, (found, bare)) in shares_n(&shares).iter().zip(shares_n(&no_circle)).enumerate() {
            for (found, bare, reference) in
                [(found[2], bare[2], load.greatest[index]), (-found[0], -bare[0], -load.least[index])]
            {
                let outward_n = found - reference;
                let circle_n = 0.005 * (reference - bare).max(0.0);
                assert!(
                    -stated_n <= outward_n && outward_n <= circle_n + file.header.tolerance * load.greatest_n(),
                    "{}, point {}: {found} N, reference {reference} N",
                    load.name,
                    index + 1
                );
            }
        }
    }
    assert_eq!((file.cases.len(), no_words), (16, vec!["equilibrium-12"]));
}

fn envelopes() -> File<Load> {
    let text = include_str!("../../../../tests/reference/load_shares/envelope.json");
    read(text, "envelope", ("scipy", "1.17.1"))
}

/// scipy 1.17.1, `optimize.milp` (`HiGHS`) and `optimize.nnls`.
///
/// The points of these cases have bands of their own, and a request has one for all. So the widest of them for every
/// point must reach at least as far as the reference, and the narrowest, with circles inside the true ones, no farther.
#[test]
fn validate_envelopes_between_two_bands_against_mixed_integer_programmes() {
    let file = envelopes();
    let mut one_band = 0;
    for load in &file.cases {
        let (narrow_m, wide_m) = load.half_bands();
        let wide = load.elastic(wide_m).unwrap();
        let narrow = load.with_discs(INSIDE).elastic(narrow_m).unwrap();
        let within_n = (AGREEMENT + file.header.tolerance) * load.greatest_n();
        same(&load.name, &column(&wide, 1), &load.expected, file.header.tolerance * load.greatest_n());
        for (index, (wide, narrow)) in wide.iter().zip(&narrow).enumerate() {
            let (least, greatest) = (load.least[index], load.greatest[index]);
            let place = format!("{}, point {}", load.name, index + 1);
            assert!(greatest <= wide[2] + within_n && wide[0] - within_n <= least, "{place}: inside the reference");
            // `narrow` may itself be a bound only, on the safe side.
            assert!(
                narrow[2] <= greatest + within_n && least <= narrow[0] + within_n,
                "{place}: outside the reference"
            );
        }
        one_band += usize::from(wide_m.to_bits() == narrow_m.to_bits());
    }
    assert_eq!((file.cases.len(), one_band), (25, 1));
}

/// scipy 1.17.1, `optimize.milp` (`HiGHS`): up to seven points and no circles, each level at an end of its own band, in
/// every combination. No combination may go beyond the reference; the best of them misses it by no more than the file
/// says that vertices do.
#[test]
fn validate_envelopes_at_every_end_of_every_band_against_mixed_integer_programmes() {
    let file = envelopes();
    let mut run = Vec::new();
    for load in file.cases.iter().filter(|load| load.points.len() <= 7) {
        let Some(beyond) = load.beyond_vertices else { continue };
        let within_n = (AGREEMENT + file.header.tolerance) * load.greatest_n();
        let mut most: Vec<(f64, f64)> = vec![(f64::INFINITY, 0.0); load.points.len()];
        for ends in 0..1_u32 << load.points.len() {
            let mut at = load.clone();
            for (index, point) in at.points.iter_mut().enumerate() {
                point.level += if ends >> index & 1 == 1 { point.half_band } else { -point.half_band };
            }
            for (most, found) in most.iter_mut().zip(at.elastic(0.0).unwrap()) {
                *most = (most.0.min(found[0]), most.1.max(found[2]));
            }
        }
        for (index, (low, high)) in most.into_iter().enumerate() {
            let (least, greatest) = (load.least[index], load.greatest[index]);
            // The file gives it to six places.
            let missed_n = (beyond + 5e-7) * load.greatest_n() + within_n;
            let holds = least - within_n <= low && low <= least + missed_n;
            let holds_above = high <= greatest + within_n && greatest - missed_n <= high;
            assert!(
                holds && holds_above,
                "{}, point {}: {low}..{high}, reference {least}..{greatest}",
                load.name,
                index + 1
            );
        }
        run.push(load.name.as_str());
    }
    assert_eq!(run.len(), 11, "{run:?}");
}
