//! The coherent units in which a line is worked: with them the numbers alone give the result.

use super::evaluate::{Values, evaluate};
use super::expression::Expression;
use ramwright_engine::check::Line;
use ramwright_units::{Dimension, LBF_N, PSI_PA, Profile, Quantity};

/// A coherent set of units.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Working {
    /// Newton, millimetre, second.
    Millimetre,
    /// Pound-force, inch, second.
    Inch,
    /// Newton, metre, kilogram, second.
    Si,
}

/// A result in working units may differ from that in SI by the rounding of the factors.
const SAME: f64 = 1e-9;
const INCH_M: f64 = 0.0254;

impl Working {
    /// The units in which a line is worked: those of the trade, if its numbers alone then give its value.
    ///
    /// A formula that has constants with units in it, or needs mass, is worked in SI, as the engine does.
    pub(crate) fn of(line: &Line, expression: &Expression, profile: Profile) -> Self {
        let trade = match profile {
            Profile::Metric => Self::Millimetre,
            Profile::Us => Self::Inch,
        };
        if trade.gives(line, expression) { trade } else { Self::Si }
    }

    fn gives(self, line: &Line, expression: &Expression) -> bool {
        let quantities = line.terms.iter().map(|term| term.value).chain([line.value]);
        if line.residual.is_some() || quantities.into_iter().any(|quantity| self.unit(quantity).is_none()) {
            return false;
        }
        let wanted = self.value(line.value);
        evaluate(expression, &self.values(line)).is_some_and(|found| (found - wanted).abs() <= SAME * wanted.abs())
    }

    /// The numbers of a line's terms.
    pub(crate) fn values(self, line: &Line) -> Values<'_> {
        line.terms.iter().map(|term| (term.symbol.as_str(), self.value(term.value))).collect()
    }

    /// The number of a quantity.
    pub(crate) fn value(self, quantity: Quantity) -> f64 {
        quantity.value_si / self.unit(quantity).map_or(1.0, |(_, factor)| factor)
    }

    /// The unit of a quantity and its SI value; none if it is not worked in these units.
    pub(crate) fn unit(self, quantity: Quantity) -> Option<(&'static str, f64)> {
        let dimension = quantity.kind.dimension();
        match self {
            Self::Millimetre => millimetre(dimension),
            Self::Inch => inch(dimension),
            Self::Si => Some((si(dimension), 1.0)),
        }
    }
}

fn millimetre(dimension: Dimension) -> Option<(&'static str, f64)> {
    Some(match dimension {
        Dimension::Number => ("", 1.0),
        Dimension::Force => ("N", 1.0),
        Dimension::Length => ("mm", 1e-3),
        Dimension::Area => ("mm\u{b2}", 1e-6),
        Dimension::SecondMoment => ("mm\u{2074}", 1e-12),
        Dimension::Pressure => ("MPa", 1e6),
        Dimension::Volume => ("mm\u{b3}", 1e-9),
        Dimension::Stiffness => ("N/mm", 1e3),
        Dimension::Moment => ("N\u{b7}mm", 1e-3),
        Dimension::RotationalStiffness => ("N\u{b7}mm/rad", 1e-3),
        Dimension::Time => ("s", 1.0),
        Dimension::Angle => ("rad", 1.0),
        Dimension::Temperature => ("K", 1.0),
        Dimension::Speed => ("mm/s", 1e-3),
        Dimension::Mass => ("kg", 1.0),
        Dimension::Flow | Dimension::Power | Dimension::KinematicViscosity | Dimension::VolumePerLength => return None,
    })
}

fn inch(dimension: Dimension) -> Option<(&'static str, f64)> {
    Some(match dimension {
        Dimension::Number => ("", 1.0),
        Dimension::Force => ("lbf", LBF_N),
        Dimension::Length => ("in", INCH_M),
        Dimension::Area => ("in\u{b2}", INCH_M * INCH_M),
        Dimension::SecondMoment => ("in\u{2074}", INCH_M * INCH_M * INCH_M * INCH_M),
        Dimension::Pressure => ("psi", PSI_PA),
        Dimension::Volume => ("in\u{b3}", INCH_M * INCH_M * INCH_M),
        Dimension::Stiffness => ("lbf/in", LBF_N / INCH_M),
        Dimension::Moment => ("lbf\u{b7}in", LBF_N * INCH_M),
        Dimension::RotationalStiffness => ("lbf\u{b7}in/rad", LBF_N * INCH_M),
        Dimension::Time => ("s", 1.0),
        Dimension::Angle => ("rad", 1.0),
        Dimension::Temperature => ("K", 1.0),
        Dimension::Speed => ("in/s", INCH_M),
        Dimension::Mass => ("lb", 0.453_592_37),
        Dimension::Flow | Dimension::Power | Dimension::KinematicViscosity | Dimension::VolumePerLength => return None,
    })
}

fn si(dimension: Dimension) -> &'static str {
    match dimension {
        Dimension::Number => "",
        Dimension::Force => "N",
        Dimension::Mass => "kg",
        Dimension::Length => "m",
        Dimension::Area => "m\u{b2}",
        Dimension::SecondMoment => "m\u{2074}",
        Dimension::Pressure => "Pa",
        Dimension::Volume => "m\u{b3}",
        Dimension::Flow => "m\u{b3}/s",
        Dimension::Speed => "m/s",
        Dimension::Stiffness => "N/m",
        Dimension::Moment => "N\u{b7}m",
        Dimension::RotationalStiffness => "N\u{b7}m/rad",
        Dimension::Power => "W",
        Dimension::Time => "s",
        Dimension::Temperature => "K",
        Dimension::Angle => "rad",
        Dimension::KinematicViscosity => "m\u{b2}/s",
        Dimension::VolumePerLength => "m\u{b3}/m",
    }
}
