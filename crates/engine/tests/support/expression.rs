//! A reader of printed expressions, written apart from the engine: numbers, names, `+ - * /`, parentheses and the
//! functions that lines may use.

use std::collections::BTreeMap;

/// A value, and the sum of the magnitudes of the terms that were added to make it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Value {
    pub(crate) value: f64,
    pub(crate) magnitude: f64,
}

impl Value {
    fn of(value: f64) -> Self {
        Self { value, magnitude: value.abs() }
    }
}

/// Evaluates an expression with its terms in SI.
pub(crate) fn evaluate(text: &str, terms: &BTreeMap<String, f64>) -> Result<Value, String> {
    let mut reader = Reader { rest: text, terms };
    let value = reader.sum()?;
    match reader.peek() {
        None => Ok(value),
        Some(_) => Err(format!("`{}` is left of `{text}`", reader.rest)),
    }
}

/// The names in an expression, functions left out.
pub(crate) fn names(text: &str) -> Vec<String> {
    let word = |c: char| c.is_ascii_alphanumeric() || c == '_';
    let mut found = Vec::new();
    let mut rest = text;
    while let Some(start) = rest.find(word) {
        rest = &rest[start..];
        let end = rest.find(|c| !word(c) && c != '.').unwrap_or(rest.len());
        let name = &rest[..end];
        rest = &rest[end..];
        if !name.starts_with(|c: char| c.is_ascii_digit()) && !rest.trim_start().starts_with('(') {
            found.push(name.to_owned());
        }
    }
    found
}

struct Reader<'a> {
    rest: &'a str,
    terms: &'a BTreeMap<String, f64>,
}

impl Reader<'_> {
    fn peek(&mut self) -> Option<char> {
        self.rest = self.rest.trim_start();
        self.rest.chars().next()
    }

    fn take(&mut self, wanted: char) -> bool {
        let found = self.peek() == Some(wanted);
        if found {
            self.rest = &self.rest[wanted.len_utf8()..];
        }
        found
    }

    fn sum(&mut self) -> Result<Value, String> {
        let mut total = self.product()?;
        loop {
            let sign = if self.take('+') {
                1.0
            } else if self.take('-') {
                -1.0
            } else {
                return Ok(total);
            };
            let next = self.product()?;
            total.value += sign * next.value;
            total.magnitude += next.magnitude;
        }
    }

    fn product(&mut self) -> Result<Value, String> {
        let mut total = self.factor()?;
        loop {
            if self.take('*') {
                let next = self.factor()?;
                total = Value { value: total.value * next.value, magnitude: total.magnitude * next.magnitude };
            } else if self.take('/') {
                let next = self.factor()?;
                total = Value { value: total.value / next.value, magnitude: total.magnitude / next.value.abs() };
            } else {
                return Ok(total);
            }
        }
    }

    fn factor(&mut self) -> Result<Value, String> {
        if self.take('-') {
            let inner = self.factor()?;
            return Ok(Value { value: -inner.value, ..inner });
        }
        if self.take('(') {
            let inner = self.sum()?;
            return if self.take(')') { Ok(inner) } else { Err(format!("no `)` at `{}`", self.rest)) };
        }
        match self.peek() {
            Some(c) if c.is_ascii_digit() => self.number(),
            Some(c) if c.is_ascii_alphabetic() => self.name(),
            _ => Err(format!("nothing to evaluate at `{}`", self.rest)),
        }
    }

    fn number(&mut self) -> Result<Value, String> {
        let end = self.rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(self.rest.len());
        let (digits, rest) = self.rest.split_at(end);
        self.rest = rest;
        digits.parse().map(Value::of).map_err(|_| format!("`{digits}` is no number"))
    }

    fn name(&mut self) -> Result<Value, String> {
        let end = self.rest.find(|c: char| !c.is_ascii_alphanumeric() && c != '_').unwrap_or(self.rest.len());
        let (name, rest) = self.rest.split_at(end);
        self.rest = rest;
        if !self.take('(') {
            return self.terms.get(name).copied().map(Value::of).ok_or_else(|| format!("no term `{name}`"));
        }
        let mut arguments = vec![self.sum()?.value];
        while self.take(',') {
            arguments.push(self.sum()?.value);
        }
        if !self.take(')') {
            return Err(format!("no `)` after the arguments of {name}"));
        }
        call(name, &arguments).map(Value::of).ok_or_else(|| format!("no function {name}{arguments:?}"))
    }
}

fn call(name: &str, arguments: &[f64]) -> Option<f64> {
    Some(match (name, arguments) {
        ("sqrt", [x]) => x.sqrt(),
        ("sin", [x]) => libm::sin(*x),
        ("cos", [x]) => libm::cos(*x),
        ("tan", [x]) => libm::tan(*x),
        ("stress_on" | "pressure_on", [force, area]) => force / area,
        ("bending_in", [moment, distance, inertia]) => moment * distance / inertia,
        ("growth", [r]) => (1.0 + (4.0 / std::f64::consts::PI - 1.0) * r) / (1.0 - r),
        ("impact_factor", [h, d]) => 1.0 + (1.0 + 2.0 * h / d).sqrt(),
        ("log10", [x]) => libm::log10(*x),
        ("pow4", [x]) => (x * x) * (x * x),
        ("max", [a, b]) => a.max(*b),
        ("min", [a, b]) => a.min(*b),
        ("churchill", [re, e]) => churchill(*re, *e),
        ("darcy_weisbach", [f, l, d, rho, q]) => {
            let velocity = 4.0 * q / (std::f64::consts::PI * d * d);
            f * l / d * rho * velocity * velocity / 2.0
        }
        ("fittings", [k, d, rho, q]) => k * rho * velocity_pressure(*q, *d),
        ("compression", [v, p, k]) => v * libm::expm1(p / k),
        ("loss_of_run", [q, nu, l, d, rho, k]) => loss_of_run(*q, &[*nu, *l, *d, *rho, *k]),
        ("mean_flow", [from, to, run @ ..]) => mean_flow(*from, *to, run),
        _ => return None,
    })
}

/// `v^2 / 2` of a flow in a bore.
fn velocity_pressure(q: f64, d: f64) -> f64 {
    let velocity = 4.0 * q / (std::f64::consts::PI * d * d);
    velocity * velocity / 2.0
}

/// Friction and fittings of a run of viscosity, length, bore, density and loss coefficient.
fn loss_of_run(q: f64, run: &[f64]) -> f64 {
    let &[nu, l, d, rho, k] = run else { return f64::NAN };
    let f = churchill(4.0 * q / (std::f64::consts::PI * nu * d), 0.0);
    (f * l / d + k) * rho * velocity_pressure(q, d)
}

/// The flow that a pressure drives, by halving.
fn driven(p: f64, run: &[f64]) -> f64 {
    let (mut low, mut high) = (-80.0_f64, 20.0_f64);
    for _ in 0..120 {
        let middle = f64::midpoint(low, high);
        // Too small a flow overflows the friction factor, and is too small.
        if loss_of_run(libm::exp(middle), run) > p {
            high = middle;
        } else {
            low = middle;
        }
    }
    libm::exp(low)
}

/// The rule as the line's source prints it: Simpson's in 64 intervals of `ln p`.
fn mean_flow(from: f64, to: f64, run: &[f64]) -> f64 {
    let (low, high) = (from.min(to), from.max(to));
    let width = libm::log1p((high - low) / low);
    let node = |i: i32| {
        let p = low * libm::exp(width * f64::from(i) / 64.0);
        p / driven(p, run)
    };
    let inner: f64 = (1..64).map(|i| if i % 2 == 1 { 4.0 } else { 2.0 } * node(i)).sum();
    let resistance = (node(0) + inner + node(64)) / 192.0;
    let log_mean = if width > 0.0 { low * libm::expm1(width) / width } else { low };
    log_mean / resistance
}

/// The formula as the line's source prints it: Churchill 1977, Chemical Engineering, 7 November, pp. 91-92.
fn churchill(re: f64, e: f64) -> f64 {
    let a = libm::pow(2.457 * libm::log(1.0 / (libm::pow(7.0 / re, 0.9) + 0.27 * e)), 16.0);
    let b = libm::pow(37530.0 / re, 16.0);
    8.0 * libm::pow(libm::pow(8.0 / re, 12.0) + 1.0 / libm::pow(a + b, 1.5), 1.0 / 12.0)
}

#[test]
fn verify_the_reader_reads_as_arithmetic_is_written() {
    let terms: BTreeMap<String, f64> = [("a".to_owned(), 6.0), ("n_1".to_owned(), 2.0)].into();
    let value = |text: &str| evaluate(text, &terms).map(|found| found.value);
    assert_eq!(value("a - n_1 - 1.0"), Ok(3.0));
    assert_eq!(value("a / n_1 / 3.0 + 2.0 * (a - 1.0)"), Ok(11.0));
    assert_eq!(value("-a + max(a, n_1 * 4.0)"), Ok(2.0));
    assert_eq!(value("pow4(n_1) - sqrt(16.0)"), Ok(12.0));
    assert!(value("b").is_err() && value("a a").is_err() && value("(a").is_err() && value("tanh(a)").is_err());
    assert_eq!(evaluate("a - n_1 * 3.0", &terms), Ok(Value { value: 0.0, magnitude: 12.0 }));
    assert_eq!(names("4.0 / pi * (q_2 / sqrt(d))"), ["pi", "q_2", "d"]);
}
