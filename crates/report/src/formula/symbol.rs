//! A symbol of the engine as it is printed: Greek letters, differences, and what stands below.

use super::math::Math;

/// The name of a symbol, as in `F_c_perp` or `dp_f`, as mathematics.
pub(crate) fn symbol(name: &str) -> Math {
    if let Some((base, power)) = name.split_once("_over_m") {
        // A plain number that stands for a quantity over a power of the metre.
        return Math::Fraction {
            over: Box::new(symbol(base)),
            under: Box::new(Math::Power { of: Box::new(upright("m")), power: power.to_owned() }),
        };
    }
    let mut parts = name.split('_');
    let base = letter(parts.next().unwrap_or_default());
    let below: Vec<_> = parts.map(letter).collect();
    Math::Symbol { base, below: (!below.is_empty()).then(|| below.join(",")) }
}

/// The same in plain text, for the head of a column.
pub(crate) fn plain_symbol(name: &str) -> String {
    let mut parts = name.split('_').map(letter);
    let base = parts.next().unwrap_or_default();
    let below: Vec<_> = parts.collect();
    if below.is_empty() { base } else { format!("{base} {}", below.join(",")) }
}

fn upright(text: &str) -> Math {
    Math::Symbol { base: text.to_owned(), below: None }
}

/// A part of a name: a Greek letter, a difference, or as it is.
fn letter(part: &str) -> String {
    let greek = match part {
        "alpha" => "\u{3b1}",
        "beta" => "\u{3b2}",
        "gamma" => "\u{3b3}",
        "delta" => "\u{3b4}",
        "epsilon" => "\u{3b5}",
        "eta" => "\u{3b7}",
        "theta" => "\u{3b8}",
        "kappa" => "\u{3ba}",
        "lambda" => "\u{3bb}",
        "mu" => "\u{3bc}",
        "nu" => "\u{3bd}",
        "pi" => "\u{3c0}",
        "rho" => "\u{3c1}",
        "sigma" => "\u{3c3}",
        "tau" => "\u{3c4}",
        "phi" => "\u{3c6}",
        "psi" => "\u{3c8}",
        "omega" => "\u{3c9}",
        "perp" => "\u{22a5}",
        "dp" => "\u{394}p",
        "dT" => "\u{394}T",
        "dh" => "\u{394}h",
        "dz" => "\u{394}z",
        "dl" => "\u{394}l",
        "dt" => "\u{394}t",
        other => other,
    };
    greek.to_owned()
}
