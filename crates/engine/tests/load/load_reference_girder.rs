//! Girders against the cases of `tests/reference/load_shares/girder.json`.

use crate::load_plan::{load, m, on_springs, plan, shares_n};
use crate::load_reference::{File, column, read, same};
use ramwright_engine::load::{GirderLoad, GirderModel, GirderSection, LoadCase, Method, Rule, share_load};
use ramwright_units::{Force, SecondMoment, Stress};
use serde::Deserialize;

#[derive(Deserialize)]
struct Girder {
    name: String,
    supports: Vec<Bearing>,
    sections: Vec<Section>,
    point_loads: Vec<PointLoad>,
    uniform_loads: Vec<UniformLoad>,
    expected: Vec<f64>,
    open_supports: usize,
}

#[derive(Deserialize)]
struct Bearing {
    x: f64,
    stiffness: f64,
    level: f64,
}

#[derive(Deserialize)]
struct Section {
    from: f64,
    to: f64,
    bending_stiffness_nm2: f64,
}

#[derive(Deserialize)]
struct PointLoad {
    x: f64,
    force: f64,
}

#[derive(Deserialize)]
struct UniformLoad {
    from: f64,
    to: f64,
    force_per_m: f64,
}

impl Girder {
    fn case(&self) -> LoadCase {
        let modulus = Stress::from_mpa(210_000.0);
        let section = |section: &Section| GirderSection {
            from: m(section.from),
            modulus,
            second_moment: SecondMoment::from_m4(section.bending_stiffness_nm2 / modulus.pa()),
        };
        let point = |load: &PointLoad| GirderLoad::Point { at: m(load.x), weight: Force::from_n(load.force) };
        let uniform = |load: &UniformLoad| GirderLoad::Uniform {
            from: m(load.from),
            to: m(load.to),
            weight: Force::from_n(load.force_per_m * (load.to - load.from)),
        };
        let model = GirderModel {
            from: m(self.sections[0].from),
            to: m(self.sections.last().unwrap().to),
            sections: self.sections.iter().map(section).collect(),
            loads: self.point_loads.iter().map(point).chain(self.uniform_loads.iter().map(uniform)).collect(),
        };
        let weight_n: f64 = model.loads.iter().map(|load| load.weight().n()).sum();
        let moment_nm: f64 = model.loads.iter().map(|load| load.weight().n() * load.middle().m()).sum();
        let places: Vec<(f64, f64)> = self.supports.iter().map(|support| (support.x, 0.0)).collect();
        let mut case = load(Force::from_n(weight_n), &places, (moment_nm / weight_n, 0.0));
        on_springs(&mut case, &self.supports.iter().map(|support| support.stiffness).collect::<Vec<_>>());
        for (point, support) in case.points.iter_mut().zip(&self.supports) {
            point.level = m(support.level);
        }
        plan(&mut case).rule = Rule::Girder(model);
        case
    }
}

/// `PyNiteFEA` 3.2.0, confirmed there by direct stiffness with every set of supports in contact.
#[test]
fn validate_girders_against_frames() {
    let text = include_str!("../../../../tests/reference/load_shares/girder.json");
    let file: File<Girder> = read(text, "girder", ("PyNiteFEA", "3.2.0"));
    for girder in &file.cases {
        let case = girder.case();
        let shares = share_load(&case).unwrap();
        assert_eq!(shares.method, Method::Girder);
        let found = shares_n(&shares);
        let within_n = file.header.tolerance * case.weight.expected.n();
        same(&girder.name, &column(&found, 1), &girder.expected, within_n);
        // Without tolerances: the same, or, with a support open, the bounds of any equilibrium.
        for (index, share) in found.iter().enumerate() {
            let width = share[2] - share[0];
            let place = format!("{}, point {}", girder.name, index + 1);
            assert!(share[0] <= share[1] + within_n && share[1] <= share[2] + within_n, "{place}");
            assert!(0 < girder.open_supports || width <= within_n, "{place}: {width} N wide");
        }
        assert_eq!(girder.expected.iter().filter(|n| **n <= 0.0).count(), girder.open_supports, "{}", girder.name);
    }
    assert_eq!(file.cases.len(), 14);
}
