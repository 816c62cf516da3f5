//! Writes steps down one after the other and keeps account of how things stand at every group of points.

use super::account::Account;
use super::{Step, StepAt, StepKind, StepPressure};
use crate::Text;
use crate::defaults::STOP_PRESSURE_FACTOR;
use crate::packing_lift::input::{PointsAlike, SequenceInput};
use crate::packing_lift::kernel::{Cycle, Range as Tenths};
use crate::packing_lift::problem::Posed;
use crate::packing_lift::result::PieceCount;
use crate::packing_lift::sequence::{in_words_of, length};
use ramwright_units::{ForceRange, LengthRange, Range};

/// What holds the load at a group of points.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Held {
    OwnBearing,
    Stacks,
    Oil,
    Collars,
    SecondSupport,
    FinalBearing,
}

impl Held {
    fn words(self, second: Option<&str>) -> Text {
        match self {
            Self::OwnBearing => Text::fixed("the load's own bearing"),
            Self::Stacks => Text::fixed("the holding stacks"),
            Self::Oil => Text::fixed("the rams, on oil; nobody under the load"),
            Self::Collars => Text::fixed("the lock collars"),
            Self::SecondSupport => Text::from(format!("the second support: {}", second.unwrap_or("not named"))),
            Self::FinalBearing => Text::fixed("the final bearing"),
        }
    }
}

/// How things stand at a group of points.
#[derive(Clone)]
pub(super) struct Standing {
    pub(super) rise: Tenths,
    pub(super) extension: Tenths,
    pub(super) base: Vec<u32>,
    pub(super) holding: Vec<u32>,
    pub(super) held: Held,
}

/// What a step says besides how things stand.
pub(super) struct Said {
    pub(super) kind: StepKind,
    pub(super) who: &'static str,
    pub(super) text: Text,
    /// Groups at which it is done.
    pub(super) groups: Vec<usize>,
    pub(super) drop: Option<i64>,
    pub(super) check: &'static str,
    pub(super) hold_point: bool,
}

pub(super) struct Writer<'a> {
    pub(super) input: &'a SequenceInput<'a>,
    pub(super) posed: &'a [Posed<'a>],
    pub(super) now: Vec<Standing>,
    pub(super) cycle: u32,
    pub(super) account: Account,
    steps: Vec<Step>,
    /// Stacks and extensions at the step before.
    before: Vec<Standing>,
}

impl<'a> Writer<'a> {
    pub(super) fn new(input: &'a SequenceInput<'a>, posed: &'a [Posed<'a>], now: Vec<Standing>) -> Self {
        let before = now.clone();
        Self { input, posed, now, cycle: 0, account: Account::NONE, steps: Vec::new(), before }
    }

    pub(super) fn finish(self) -> (Vec<Step>, Account) {
        (self.steps, self.account)
    }

    pub(super) fn standing(&mut self, group: usize, change: impl FnOnce(&mut Standing)) {
        if let Some(standing) = self.now.get_mut(group) {
            change(standing);
        }
    }

    /// Rise of a group at the last step.
    pub(super) fn rise(&self, group: usize) -> i64 {
        self.now.get(group).map_or(0, |standing| standing.rise.greatest)
    }

    /// Puts a group on its rams at a rise within a cycle.
    pub(super) fn on_oil(&mut self, group: usize, cycle: &Cycle, rise: i64) {
        let less = cycle.raise - rise;
        self.standing(group, |standing| {
            standing.rise = Tenths { least: rise, greatest: rise };
            standing.extension =
                Tenths { least: cycle.extension.least - less, greatest: cycle.extension.greatest - less };
            standing.held = Held::Oil;
        });
    }

    /// Drop of a group from a rise on to its stack, or on to its own bearing.
    pub(super) fn drop_of(&self, group: usize, rise: i64) -> i64 {
        let (Some(standing), Some(posed)) = (self.now.get(group), self.posed.get(group)) else { return 0 };
        let pieces = standing.holding.iter().zip(&posed.problem.pieces);
        let height: i64 = pieces.map(|(count, piece)| i64::from(*count) * piece.thickness).sum();
        rise - (height - posed.problem.packing_clearance).max(0)
    }

    /// The greatest drop of some groups where they are now.
    pub(super) fn greatest_drop(&self, groups: &[usize]) -> Option<i64> {
        groups.iter().map(|&group| self.drop_of(group, self.rise(group))).max()
    }

    /// The drop while the load goes down on to its stacks: what follows it is never farther off than the gap, and otherwise the
    /// stack is as far off as at the beginning.
    pub(super) fn drop_while_lowering(&self, groups: &[usize]) -> Option<i64> {
        if self.input.rebuilds() {
            return self.posed.iter().map(|posed| posed.problem.follow_up_gap).max();
        }
        self.greatest_drop(groups).map(|drop| drop.max(0))
    }

    /// What is done first where the load stands on something that must be freed.
    pub(super) fn freed(&self) -> String {
        let gap = in_words_of(self.input.settings.follow_up_gap);
        match self.input.second_support {
            _ if self.input.ram.lock_collar => {
                format!("raise the load off the collars, back them off and keep them within {gap}; ")
            }
            Some(second) => format!("take the load off {second} and keep that within {gap}; "),
            None => String::new(),
        }
    }

    /// A stack that is rebuilt, in words.
    pub(super) fn rebuilt(&self, counts: &[u32]) -> String {
        if counts.iter().all(|count| *count == 0) {
            "take each holding stack out".into()
        } else {
            format!("rebuild each holding stack as {}; take out before putting in", self.named(counts))
        }
    }

    /// Points of some groups, as they are named in a text.
    pub(super) fn points(&self, groups: &[usize]) -> String {
        let ids: Vec<&str> = self.ids(groups).collect();
        match ids.as_slice() {
            [] => "no point".into(),
            [one] => format!("point {one}"),
            many => format!("points {}", many.join(", ")),
        }
    }

    fn ids<'b>(&'b self, groups: &'b [usize]) -> impl Iterator<Item = &'b str> {
        let alike = groups.iter().filter_map(|&group| self.input.groups.get(group));
        alike.flat_map(|alike| alike.points.iter().map(String::as_str))
    }

    pub(super) fn named(&self, counts: &[u32]) -> String {
        let parts: Vec<String> =
            self.counted(counts).iter().map(|part| format!("{} x {}", part.count, part.piece)).collect();
        if parts.is_empty() { "the bare foundation".into() } else { parts.join(" + ") }
    }

    pub(super) fn piece(&self, kind: usize) -> &str {
        let kinds = self.posed.first().map_or(&[][..], |posed| &posed.kinds);
        kinds.get(kind).map_or("", |piece| piece.id.as_str())
    }

    fn counted(&self, counts: &[u32]) -> Vec<PieceCount> {
        let kinds = self.posed.first().map_or(&[][..], |posed| &posed.kinds);
        let pairs = counts.iter().zip(kinds).filter(|(count, _)| 0 < **count);
        pairs.map(|(count, piece)| PieceCount { piece: piece.id.clone(), count: *count }).collect()
    }

    /// Writes the step down.
    pub(super) fn push(&mut self, said: Said) {
        let moved = self.account.enter(self.input, self.posed, &self.before, &self.now, &said);
        let step = Step {
            number: u32::try_from(self.steps.len()).unwrap_or(u32::MAX).saturating_add(1),
            cycle: self.cycle,
            kind: said.kind,
            who: Text::fixed(said.who),
            points: self.ids(&said.groups).map(str::to_owned).collect(),
            text: said.text,
            at: (0..self.now.len()).filter_map(|group| self.state(group)).collect(),
            // Where nothing is lifted nothing falls.
            drop: said.drop.map(|drop| length(if drop <= 0 { 0 } else { drop + self.rounding() })),
            check: Text::fixed(said.check),
            hold_point: said.hold_point,
            pieces_moved: moved.pieces,
            pieces_in_use: self.in_use(),
            duration: moved.duration,
        };
        self.steps.push(step);
        self.before.clone_from(&self.now);
    }

    fn rounding(&self) -> i64 {
        self.posed.iter().map(|posed| posed.rounding).max().unwrap_or(0)
    }

    fn state(&self, group: usize) -> Option<StepAt> {
        let alike = self.input.groups.get(group)?;
        let standing = self.now.get(group)?;
        let floor = match self.input.direction {
            crate::packing_lift::Direction::Raise => alike.packing_clearance,
            crate::packing_lift::Direction::Lower { .. } => alike.packing_clearance - self.input.travel,
        };
        let soffit = |rise: i64| floor + length(rise);
        let (least, greatest) = (soffit(standing.rise.least), soffit(standing.rise.greatest));
        Some(StepAt {
            points: alike.points.clone(),
            soffit: Range::new(least, (least + greatest) / 2.0, greatest),
            extension: middle(standing.extension),
            base_stack: self.counted(&standing.base),
            holding_stack: self.counted(&standing.holding),
            held_by: standing.held.words(self.input.second_support),
            pressures: if standing.held == Held::Oil { self.pressures(alike) } else { Vec::new() },
        })
    }

    /// Pressure at each point; none where it is no number, for want of an area.
    fn pressures(&self, alike: &PointsAlike) -> Vec<StepPressure> {
        let (area, rated) = (self.input.ram.effective_area, self.input.ram.rated_pressure);
        let of_point = |(point, on): (&String, &ForceRange)| {
            let expected = Range::new(on.least / area, on.expected / area, on.greatest / area);
            let stop = (expected.greatest * STOP_PRESSURE_FACTOR).min(rated);
            let finite =
                [expected.least, expected.expected, expected.greatest, stop].iter().all(|p| p.pa().is_finite());
            finite.then(|| StepPressure { point: point.clone(), expected, stop })
        };
        alike.points.iter().zip(&alike.on_one_ram).filter_map(of_point).collect()
    }

    fn in_use(&self) -> Vec<PieceCount> {
        let kinds = self.posed.first().map_or(0, |posed| posed.kinds.len());
        let of_kind = |kind: usize| {
            let at = |counts: &[u32]| counts.get(kind).copied().unwrap_or(0);
            let stacks = self.now.iter().zip(self.input.groups);
            stacks.map(|(standing, alike)| (at(&standing.base) + at(&standing.holding)) * alike.rams).sum()
        };
        self.counted(&(0..kinds).map(of_kind).collect::<Vec<u32>>())
    }
}

fn middle(range: Tenths) -> LengthRange {
    let (least, greatest) = (length(range.least), length(range.greatest));
    Range::new(least, (least + greatest) / 2.0, greatest)
}
