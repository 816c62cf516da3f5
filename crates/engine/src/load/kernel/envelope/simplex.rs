//! A small dense linear programme with ranges on variables and rows, solved by the dual simplex method.
//!
//! Greatest `objective . x` with `x` and `y = matrix x` within ranges. A *variable* is a column (numbered first) or a
//! row. The tableau expresses the basic variables, and the objective, by the others, each of which sits at an end of
//! its range. Every pivot keeps the reduced costs of the right sign, so the objective falls towards the optimum and a
//! programme of which only ranges have been made narrower goes on from where it stood.
//!
//! Nothing the tableau says is believed: [`Program::bound`] computes from the multipliers and the untouched matrix what
//! the objective cannot exceed (weak duality), rounded outward, and holds for any multipliers whatever.
#![expect(clippy::indexing_slicing, reason = "all sizes are fixed where the programme and its tableau are made")]

/// How far outside its range a basic variable may be, in scaled units.
const FEASIBLE: f64 = 1e-10;

/// Elements of the tableau that are not pivoted on.
const LEAST_PIVOT: f64 = 1e-9;

/// Ratios of reduced cost to element that differ by less are a tie.
const TIE: f64 = 1e-13;

/// Least and greatest value of a variable.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Range {
    pub(super) low: f64,
    pub(super) high: f64,
}

impl Range {
    pub(super) const fn new(low: f64, high: f64) -> Self {
        Self { low, high }
    }

    /// Greatest `factor * value`; infinite if an end is.
    fn greatest(self, factor: f64) -> f64 {
        if 0.0 < factor {
            factor * self.high
        } else if factor < 0.0 {
            factor * self.low
        } else {
            0.0
        }
    }

    fn is_fixed(self) -> bool {
        self.high <= self.low
    }
}

/// Objective and rows; ranges are given apart, columns first.
#[derive(Debug, Clone)]
pub(super) struct Program {
    objective: Vec<f64>,
    matrix: Vec<f64>,
    rows: usize,
}

/// How a run ended.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Outcome {
    Optimal,
    /// No point is within all ranges; the multipliers of the rows that show it.
    Infeasible(Vec<f64>),
    /// Out of work, or digits.
    Stopped,
}

/// Counted in cells of the tableau that pivots go over.
#[derive(Debug, Clone, Copy)]
pub(super) struct Work {
    pub(super) cells_left: u64,
}

impl Work {
    fn take(&mut self, cells: usize) -> bool {
        let cells = u64::try_from(cells).unwrap_or(u64::MAX);
        let enough = cells <= self.cells_left;
        self.cells_left = self.cells_left.saturating_sub(cells);
        enough
    }
}

impl Program {
    /// A programme of rows of as many numbers as the objective has.
    pub(super) fn new(objective: Vec<f64>, rows: &[Vec<f64>]) -> Self {
        let columns = objective.len();
        let matrix = rows.iter().flat_map(|r| (0..columns).map(|c| r.get(c).copied().unwrap_or(0.0))).collect();
        Self { objective, matrix, rows: rows.len() }
    }

    pub(super) fn columns(&self) -> usize {
        self.objective.len()
    }

    /// The same rows under another objective.
    pub(super) fn with_objective(&self, objective: Vec<f64>) -> Self {
        debug_assert_eq!(objective.len(), self.columns(), "one number for each column");
        Self { objective, ..self.clone() }
    }

    fn row(&self, row: usize) -> &[f64] {
        &self.matrix[row * self.columns()..(row + 1) * self.columns()]
    }

    /// What the objective cannot exceed within the ranges, by weak duality, rounded outward:
    /// `c . x = m . y + (c - m matrix) . x`, each term at its greatest, for any multipliers m of the rows.
    pub(super) fn bound(&self, multipliers: &[f64], ranges: &[Range]) -> f64 {
        self.weak_duality(&self.objective, multipliers, ranges)
    }

    /// Whether the multipliers prove that no point is within all ranges: the bound of the objective zero is below zero.
    pub(super) fn is_proven_infeasible(&self, multipliers: &[f64], ranges: &[Range]) -> bool {
        self.weak_duality(&vec![0.0; self.columns()], multipliers, ranges) < 0.0
    }

    fn weak_duality(&self, objective: &[f64], multipliers: &[f64], ranges: &[Range]) -> f64 {
        let (column_ranges, row_ranges) = ranges.split_at(self.columns());
        let mut rest = objective.to_vec();
        let mut size: Vec<f64> = objective.iter().map(|c| c.abs()).collect();
        let (mut sum, mut rounding) = (0.0, 0.0);
        let mut used = 8.0;
        for (row, (&multiplier, range)) in multipliers.iter().zip(row_ranges).enumerate() {
            let most = range.greatest(multiplier);
            // One-sided rows take multipliers of one sign only; zero is always allowed.
            if multiplier == 0.0 || !most.is_finite() {
                continue;
            }
            used += 1.0;
            sum += most;
            rounding += most.abs();
            for (c, element) in self.row(row).iter().enumerate() {
                rest[c] -= multiplier * element;
                size[c] += (multiplier * element).abs();
            }
        }
        for ((rest, size), range) in rest.iter().zip(&size).zip(column_ranges) {
            sum += range.greatest(*rest);
            rounding += size * range.low.abs().max(range.high.abs());
        }
        used += 2.0 * float(self.columns());
        let bound = sum + used * f64::EPSILON * rounding;
        if bound.is_nan() { f64::INFINITY } else { bound }
    }
}

/// A small count as a number.
fn float(count: usize) -> f64 {
    u32::try_from(count).map_or(f64::INFINITY, f64::from)
}

/// A basis of a programme.
#[derive(Debug, Clone)]
pub(super) struct Tableau {
    columns: usize,
    cells: Vec<f64>,
    costs: Vec<f64>,
    basic: Vec<usize>,
    others: Vec<usize>,
    at_high: Vec<bool>,
    values: Vec<f64>,
}

impl Tableau {
    /// All rows basic, every column at the end of its range that is better for the objective.
    pub(super) fn new(program: &Program) -> Self {
        let columns = program.columns();
        Self {
            columns,
            cells: program.matrix.clone(),
            costs: program.objective.clone(),
            basic: (columns..columns + program.rows).collect(),
            others: (0..columns).collect(),
            at_high: program.objective.iter().map(|c| 0.0 < *c).collect(),
            values: vec![0.0; program.rows],
        }
    }

    /// Pivots until every variable is within its range.
    pub(super) fn solve(&mut self, ranges: &[Range], work: &mut Work) -> Outcome {
        self.compute_values(ranges);
        let patience = 20 + usize::midpoint(self.basic.len(), self.columns);
        let (mut idle, mut steps) = (0_usize, 0_usize);
        loop {
            // The lowest index both ways (Bland's rule) once degenerate steps pile up: it cannot cycle.
            let lowest = patience < idle;
            let Some(row) = self.leaving(ranges, lowest) else {
                return Outcome::Optimal;
            };
            if !work.take(self.cells.len()) || 40 * patience < steps {
                return Outcome::Stopped;
            }
            let range = ranges[self.basic[row]];
            let rises = self.values[row] < range.low;
            let Some(position) = self.entering(row, rises, ranges, lowest) else {
                return Outcome::Infeasible(self.ray(row, rises));
            };
            let degenerate = self.costs[position].abs() <= TIE;
            idle = if degenerate { idle + 1 } else { 0 };
            steps += 1;
            self.pivot(row, position, rises, ranges);
            if steps.is_multiple_of(32) {
                self.compute_values(ranges);
            }
        }
    }

    /// Multipliers of the rows that belong to this basis.
    pub(super) fn multipliers(&self) -> Vec<f64> {
        self.of_rows(&self.costs)
    }

    /// Values of the columns.
    pub(super) fn solution(&self, ranges: &[Range]) -> Vec<f64> {
        let mut solution = vec![0.0; self.columns];
        for (position, &variable) in self.others.iter().enumerate() {
            if variable < self.columns {
                solution[variable] = self.end(position, ranges);
            }
        }
        for (&variable, &value) in self.basic.iter().zip(&self.values) {
            if variable < self.columns {
                solution[variable] = value;
            }
        }
        solution
    }

    fn of_rows(&self, factors: &[f64]) -> Vec<f64> {
        let mut multipliers = vec![0.0; self.basic.len()];
        for (&variable, &factor) in self.others.iter().zip(factors) {
            if self.columns <= variable {
                multipliers[variable - self.columns] = factor;
            }
        }
        multipliers
    }

    /// The basic variable of this row cannot come back into its range: `T x - x_r = 0`, with the sign that makes the
    /// greatest value of the left-hand side negative.
    fn ray(&self, row: usize, rises: bool) -> Vec<f64> {
        let sign = if rises { 1.0 } else { -1.0 };
        let factors: Vec<f64> = self.cells_of(row).iter().map(|t| sign * t).collect();
        let mut multipliers = self.of_rows(&factors);
        let own = self.basic[row];
        if self.columns <= own {
            multipliers[own - self.columns] -= sign;
        }
        multipliers
    }

    fn cells_of(&self, row: usize) -> &[f64] {
        &self.cells[row * self.columns..(row + 1) * self.columns]
    }

    fn end(&self, position: usize, ranges: &[Range]) -> f64 {
        let range = ranges[self.others[position]];
        if self.at_high[position] { range.high } else { range.low }
    }

    fn compute_values(&mut self, ranges: &[Range]) {
        let ends: Vec<f64> = (0..self.columns).map(|p| self.end(p, ranges)).collect();
        self.values =
            self.cells.chunks(self.columns.max(1)).map(|r| r.iter().zip(&ends).map(|(t, x)| t * x).sum()).collect();
    }

    /// The basic variable farthest outside its range; the first such, or with `lowest` that of lowest number.
    fn leaving(&self, ranges: &[Range], lowest: bool) -> Option<usize> {
        let mut best: Option<(usize, f64)> = None;
        for (row, (&variable, &value)) in self.basic.iter().zip(&self.values).enumerate() {
            let range = ranges[variable];
            let outside = (range.low - value).max(value - range.high);
            let better = match best {
                None => true,
                Some((r, _)) if lowest => variable < self.basic[r],
                Some((_, most)) => most < outside,
            };
            if FEASIBLE < outside && better {
                best = Some((row, outside));
            }
        }
        best.map(|(row, _)| row)
    }

    /// The variable that can move the row towards its range and whose reduced cost vanishes first.
    fn entering(&self, row: usize, rises: bool, ranges: &[Range], lowest: bool) -> Option<usize> {
        let mut best: Option<(usize, f64, f64)> = None;
        for (position, &element) in self.cells_of(row).iter().enumerate() {
            let pulls = (0.0 < element) == (rises != self.at_high[position]);
            if !pulls || element.abs() <= LEAST_PIVOT || ranges[self.others[position]].is_fixed() {
                continue;
            }
            let ratio = self.costs[position].abs() / element.abs();
            let better = best.is_none_or(|(p, least, size)| {
                let first = self.others[position] < self.others[p];
                ratio < least - TIE || ratio <= least + TIE && if lowest { first } else { size < element.abs() }
            });
            if better {
                best = Some((position, ratio, element.abs()));
            }
        }
        best.map(|(position, ..)| position)
    }

    fn pivot(&mut self, row: usize, position: usize, rises: bool, ranges: &[Range]) {
        let columns = self.columns;
        let range = ranges[self.basic[row]];
        let target = if rises { range.low } else { range.high };
        let element = self.cells_of(row)[position];
        let step = (target - self.values[row]) / element;
        let entered = self.end(position, ranges) + step;
        let mut solved: Vec<f64> = self.cells_of(row).iter().map(|t| -t / element).collect();
        solved[position] = 1.0 / element;
        for (r, cells) in self.cells.chunks_mut(columns).enumerate() {
            let factor = cells[position];
            if r == row || factor == 0.0 {
                continue;
            }
            self.values[r] += factor * step;
            substitute(cells, &solved, position);
        }
        substitute(&mut self.costs, &solved, position);
        self.cells[row * columns..(row + 1) * columns].copy_from_slice(&solved);
        self.values[row] = entered;
        self.at_high[position] = !rises;
        core::mem::swap(&mut self.basic[row], &mut self.others[position]);
    }
}

/// Puts `solved` in for the variable at `position`.
fn substitute(cells: &mut [f64], solved: &[f64], position: usize) {
    let factor = cells[position];
    cells[position] = 0.0;
    for (cell, s) in cells.iter_mut().zip(solved) {
        *cell += factor * s;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn solved(objective: &[f64], rows: &[Vec<f64>], ranges: &[Range]) -> (Outcome, f64, Vec<f64>) {
        let program = Program::new(objective.to_vec(), rows);
        let mut tableau = Tableau::new(&program);
        let outcome = tableau.solve(ranges, &mut Work { cells_left: 1_000_000 });
        (outcome, program.bound(&tableau.multipliers(), ranges), tableau.solution(ranges))
    }

    /// Exact by hand: 3x + 2y with x + y <= 4, x + 3y <= 6, x <= 3 is 11 at (3, 1).
    #[test]
    fn validate_two_variables_by_hand() {
        let rows = [vec![1.0, 1.0], vec![1.0, 3.0]];
        let ranges =
            [Range::new(0.0, 3.0), Range::new(0.0, 9.0), Range::new(-9.0, 4.0), Range::new(f64::NEG_INFINITY, 6.0)];
        let (outcome, bound, x) = solved(&[3.0, 2.0], &rows, &ranges);
        assert_eq!(outcome, Outcome::Optimal);
        assert!((11.0..11.0 + 1e-12).contains(&bound), "{bound}");
        assert!((x[0] - 3.0).abs() < 1e-12 && (x[1] - 1.0).abs() < 1e-12);
    }

    #[test]
    fn verify_infeasibility_is_proven_and_any_multipliers_bound() {
        let rows = [vec![1.0, 1.0]];
        let ranges = [Range::new(0.0, 1.0), Range::new(0.0, 1.0), Range::new(3.0, f64::INFINITY)];
        let program = Program::new(vec![1.0, 0.0], &rows);
        let Outcome::Infeasible(ray) = Tableau::new(&program).solve(&ranges, &mut Work { cells_left: 999 }) else {
            panic!()
        };
        assert!(program.is_proven_infeasible(&ray, &ranges));
        assert!(!program.is_proven_infeasible(&[1.0], &ranges));
        let wide = [Range::new(0.0, 1.0), Range::new(0.0, 1.0), Range::new(-3.0, f64::INFINITY)];
        for m in [-2.0, -0.5, 0.0, 0.5, 2.0] {
            assert!(1.0 <= program.bound(&[m], &wide));
        }
    }
}
